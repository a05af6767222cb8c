import { expect, test } from "vitest";
import { checkJacobian } from "../../../sim/integrators/jacobian-check.ts";
import { NonStiffSolver } from "../../../sim/integrators/nonstiff.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { compared } from "../../validation/compared.ts";
import {
  hires,
  orego,
  type PublishedProblem,
  pleiades,
  publishedProblems,
  robertson,
  vanDerPol,
  vanDerPolScaled,
} from "./problems.ts";
import { referenceRows } from "./reference.ts";

/** Index of a reference row's quantity: y1.. for the stiff problems; x, y, x', y' of seven bodies for the Pleiades. */
function componentOf(quantity: string): number {
  const [, name, prime, number] = /^([xy])('?)(\d)$/.exec(quantity)!;
  const index = Number(number) - 1;
  return index + (name === "y" ? 7 : 0) + (prime === "" ? 0 : 14);
}

// Test Set for IVP Solvers (Mazzia & Magherini, University of Bari), reference solutions as coded in CRAN deTestSet; for
// Robertson at t = 40 a Radau solution with relative tolerance 1e-12.
const references: [PublishedProblem, string][] = [
  [robertson, "IVP-ROBER"],
  [hires, "IVP-HIRES"],
  [vanDerPol, "IVP-VDPOL"],
  [vanDerPolScaled, "IVP-VDPOL"],
  [orego, "IVP-OREGO"],
  [pleiades, "IVP-PLEI"],
];

/** Largest relative error of the end values at a relative tolerance. */
function endError(problem: PublishedProblem, prefix: string, relative: number): number {
  const tolerances = { relative, absolute: Float64Array.from(problem.scale, (scale) => scale * relative * 1e-3) };
  let worst = 0;
  for (const row of referenceRows(prefix)) {
    const y = Float64Array.from(problem.start);
    const solver = new StiffSolver(problem, { tolerances });
    const outcome = solver.advance(0, prefix === "IVP-VDPOL" ? problem.end : Number(row.inputs.t), y);
    if (outcome.status !== "finished") throw new Error(JSON.stringify(outcome));
    const component = problem === pleiades ? componentOf(row.quantity) : Number(row.quantity.slice(1)) - 1;
    compared({
      set: "Test set for IVP solvers",
      what: `${problem.name}, ${row.quantity} at a tolerance of ${relative}`,
      unit: "-",
      source: row.source,
      kind: "published",
      outside: row.expected,
      model: y[component],
    });
    worst = Math.max(worst, Math.abs(y[component] / row.expected - 1));
  }
  return worst;
}

test.each(references)("the stiff integrator reaches the published end values: $name", (problem, prefix) => {
  expect(endError(problem, prefix, 1e-9)).toBeLessThan(1e-6);
});

test("the non-stiff integrator reaches the published end values of the Pleiades", () => {
  const y = Float64Array.from(pleiades.start);
  const solver = new NonStiffSolver(pleiades, { tolerances: { relative: 1e-12, absolute: 1e-12 } });
  expect(solver.advance(0, pleiades.end, y)).toEqual({ status: "finished", t: pleiades.end });
  for (const row of referenceRows("IVP-PLEI"))
    expect(Math.abs(y[componentOf(row.quantity)] / row.expected - 1)).toBeLessThan(1e-8);
});

test.each(publishedProblems)("the exact Jacobian of $name agrees with differences", (problem) => {
  const y = Float64Array.from(problem.start, (value, i) => value + 0.3 * problem.scale[i]);
  const check = checkJacobian(problem, 0, y, Float64Array.from(problem.scale));
  expect(check.worst, check.message).toBeLessThan(1e-6);
});

test("a wrong or missing Jacobian entry is found and named", () => {
  const wrong: PublishedProblem = {
    ...orego,
    jacobian(t, y, v) {
      orego.jacobian(t, y, v);
      v[5] = 0.2;
    },
  };
  const check = checkJacobian(wrong, 0, Float64Array.of(1, 2, 3), 1);
  expect([check.row, check.column]).toEqual([2, 0]);
  expect(check.worst).toBeGreaterThan(0.1);
  const forgotten: PublishedProblem = {
    ...orego,
    derivative(t, y, out) {
      orego.derivative(t, y, out);
      out[2] += y[1];
    },
  };
  const other = checkJacobian(forgotten, 0, Float64Array.of(1, 2, 3), 1);
  expect([other.row, other.column]).toEqual([2, 1]);
});
