// The reference problem as an ensemble member with sampled growth rate of nitrifiers and inoculum.

import type { CreateMember } from "../../sim/ensemble/ensemble.ts";
import { StiffSolver } from "../../sim/integrators/stiff.ts";
import { days, feed, feedEvery, referenceProblem } from "./reference-problem.ts";

/** TAN, nitrite and nitrate of the display before each feeding. */
export const memberPoints = 3 * 2 * days;

export const createReferenceMember: CreateMember<{ readonly relative: number }> = ({ relative }) => {
  const problem = referenceProblem(4, 1);
  const absolute = problem.absolute.map((value) => (value * relative) / 1e-4);
  return (index, random) => {
    const sampled = referenceProblem(4, 0.8 + 0.4 * random());
    const solver = new StiffSolver(sampled, { tolerances: { relative, absolute } });
    const y = Float64Array.from(sampled.start);
    for (let f = 0; f < 3; f++) y[sampled.film(f, 6)] *= 0.3 + 2 * random();
    const values = new Float64Array(memberPoints);
    for (let k = 0; k < 2 * days; k++) {
      y[sampled.gut] += feed;
      solver.restart();
      const outcome = solver.advance(k * feedEvery, (k + 1) * feedEvery, y);
      if (outcome.status !== "finished") return { failure: `member ${index}: ${JSON.stringify(outcome)}` };
      for (let s = 0; s < 3; s++) values[3 * k + s] = y[s];
    }
    return values;
  };
};
