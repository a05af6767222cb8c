import { describe, expect, test } from "vitest";
import { checkJacobian } from "../../sim/integrators/jacobian-check.ts";
import { NonStiffSolver } from "../../sim/integrators/nonstiff.ts";
import { rodas5p } from "../../sim/integrators/rosenbrock-method.ts";
import { StiffSolver } from "../../sim/integrators/stiff.ts";
import { patternOf } from "../sim/integrators/problems.ts";
import { aquariumCase, errorAgainst, runCase, sampleBuffer, stiffSolver } from "./cases.ts";
import { rodas3, rodas4, rodas4p, rodas4p2 } from "./methods.ts";
import { referenceProblem } from "./reference-problem.ts";
import { type Row, wallAtError } from "./rows.ts";

test.each([4, 7])("the reference problem's exact Jacobian agrees with differences, %i cells", (cells) => {
  const problem = referenceProblem(cells, 1);
  const y = problem.start.map((value, i) => 1.3 * value + 20 * problem.absolute[i]);
  const check = checkJacobian(
    problem,
    0,
    y,
    problem.absolute.map((value) => 10 * value),
  );
  expect(check.worst, check.message).toBeLessThan(1e-6);
});

test("two integrators of different kinds agree on the first feedings of the reference problem", () => {
  const bench = aquariumCase(4, 1);
  const ours = sampleBuffer(bench);
  const theirs = sampleBuffer(bench);
  expect(runCase(bench, stiffSolver(bench, 1e-8), ours)).toBe(true);
  const absolute = bench.absolute.map((value) => value * 1e-7);
  const odex = new NonStiffSolver(bench.problem, { tolerances: { relative: 1e-7, absolute } });
  expect(runCase(bench, odex, theirs)).toBe(true);
  expect(errorAgainst(theirs, ours, bench.problem.size)).toBeLessThan(1e-5);
});

test("the reference problem's error, relative to each component's peak, stays below ten times the tolerance", () => {
  const bench = aquariumCase(4, 10);
  const at = (relative: number) => {
    const samples = sampleBuffer(bench);
    expect(runCase(bench, stiffSolver(bench, relative), samples)).toBe(true);
    return samples;
  };
  const reference = at(1e-11);
  for (const relative of [1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8])
    expect(errorAgainst(reference, at(relative), bench.problem.size)).toBeLessThan(10 * relative);
});

describe("the methods of the study have their stated order", () => {
  test.each([rodas5p, rodas4p2, rodas4p, rodas4, rodas3])("$name", (method) => {
    const errors = [1 / 8, 1 / 16].map((maxStep) => {
      const solver = new StiffSolver(
        {
          size: 1,
          pattern: patternOf([[0]]),
          derivative(_t, y, out) {
            out[0] = y[0] * (1 - y[0]);
          },
          jacobian(_t, y, values) {
            values[0] = 1 - 2 * y[0];
          },
        },
        { tolerances: { relative: 1e6, absolute: 1e6 }, method, maxStep },
      );
      let worst = 0;
      solver.advance(0, 4, Float64Array.of(0.1), (step) => {
        worst = Math.max(worst, Math.abs(step.y1[0] - 1 / (1 + 9 * Math.exp(-step.t1))));
        return undefined;
      });
      return worst;
    });
    expect(Math.abs(Math.log2(errors[0] / errors[1]) - method.order)).toBeLessThan(0.3);
  });
});

test("wall time at an error is interpolated between rows, and undefined outside them", () => {
  const row = (error: number, wallMs: number): Row => ({
    problem: "",
    method: "",
    rtol: 0,
    error,
    wallMs,
    steps: 0,
    rejected: 0,
    rhs: 0,
  });
  const rows = [row(1e-2, 10), row(1e-4, 40), row(Number.NaN, 1)];
  expect(wallAtError(rows, 1e-3)).toBeCloseTo(20, 9);
  expect(wallAtError(rows, 1e-5)).toBeUndefined();
});
