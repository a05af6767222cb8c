// A small ensemble for tests: logistic growth with a random rate, sampled at four times; every 17th member fails.

import type { CreateMember } from "../../../sim/ensemble/ensemble.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { patternOf } from "../integrators/problems.ts";

export interface LogisticSetup {
  readonly capacity: number;
}

export const outputTimes = [1, 2, 5, 10];

export const createLogisticMember: CreateMember<LogisticSetup> = ({ capacity }) => {
  let rate = 0;
  const solver = new StiffSolver(
    {
      size: 1,
      pattern: patternOf([[0]]),
      derivative(_t, y, out) {
        out[0] = rate * y[0] * (1 - y[0] / capacity);
      },
      jacobian(_t, y, values) {
        values[0] = rate * (1 - (2 * y[0]) / capacity);
      },
    },
    { tolerances: { relative: 1e-6, absolute: 1e-9 } },
  );
  return (index, random) => {
    rate = 0.2 + 0.8 * random();
    if (index % 17 === 16) return { failure: `member ${index} was made to fail` };
    const y = Float64Array.of(1);
    const values = new Float64Array(outputTimes.length);
    solver.restart();
    let t = 0;
    outputTimes.forEach((time, i) => {
      const outcome = solver.advance(t, time, y);
      if (outcome.status !== "finished") throw new Error(JSON.stringify(outcome));
      t = time;
      values[i] = y[0];
    });
    return values;
  };
};
