import { Matrix, solve } from "ml-matrix";
import seedrandom from "seedrandom";
import { describe, expect, test } from "vitest";
import type { StiffProblem } from "../../../sim/integrators/problem.ts";
import { rodas5p } from "../../../sim/integrators/rosenbrock-method.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { planElimination } from "../../../sim/linear-algebra/elimination.ts";
import { SparseLU, sparseLuBytes } from "../../../sim/linear-algebra/sparse-lu.ts";
import type { SparsePattern } from "../../../sim/linear-algebra/sparse-pattern.ts";
import { createVectorLoops } from "../../../sim/linear-algebra/vector-loops.ts";
import { hires, orego, type PublishedProblem, patternOf, robertson, stiffProblems, vanDerPol } from "./problems.ts";
import { referenceRows } from "./reference.ts";

/** Slope of log(error) against log(x), by least squares. */
function slope(points: readonly (readonly [number, number])[]): number {
  const logs = points.map(([x, error]) => [Math.log(x), Math.log(error)]);
  const mean = [0, 1].map((i) => logs.reduce((sum, point) => sum + point[i], 0) / logs.length);
  return (
    logs.reduce((sum, [x, e]) => sum + (x - mean[0]) * (e - mean[1]), 0) / logs.reduce((sum, [x]) => sum + (x - mean[0]) ** 2, 0)
  );
}

/** Runs with steps of one length: the tolerances are so wide that only maxStep limits the step. */
function fixedSteps(
  problem: StiffProblem,
  start: readonly number[],
  end: number,
  step: number,
  seeInside?: (t: number, y: Float64Array) => void,
  seeEnd?: (t: number, y: Float64Array) => void,
) {
  const solver = new StiffSolver(problem, { tolerances: { relative: 1e6, absolute: 1e6 }, maxStep: step });
  const y = Float64Array.from(start);
  const inside = new Float64Array(y.length);
  const outcome = solver.advance(0, end, y, (accepted) => {
    for (const s of [0.2, 0.5, 0.7]) {
      const t = accepted.t0 + s * (accepted.t1 - accepted.t0);
      accepted.at(t, inside);
      seeInside?.(t, inside);
    }
    seeEnd?.(accepted.t1, accepted.y1);
    return undefined;
  });
  expect(outcome.status).toBe("finished");
  expect(solver.statistics.steps).toBe(Math.round(end / step));
  return y;
}

describe("order of convergence", () => {
  // Autonomous and nonlinear, with a closed form: y' = y (1 - y), logistic.
  const logistic: StiffProblem = {
    size: 1,
    pattern: patternOf([[0]]),
    derivative(_t, y, out) {
      out[0] = y[0] * (1 - y[0]);
    },
    jacobian(_t, y, values) {
      values[0] = 1 - 2 * y[0];
    },
  };
  const logisticAt = (t: number) => 1 / (1 + 9 * Math.exp(-t));

  // Prothero & Robinson 1974 (Mathematics of Computation 28, 145-162): y' = -rate (y - sin t) + cos t, y = sin t.
  const prothero = (rate: number): StiffProblem => ({
    size: 1,
    pattern: patternOf([[0]]),
    derivative(t, y, out) {
      out[0] = -rate * (y[0] - Math.sin(t)) + Math.cos(t);
    },
    jacobian(_t, _y, values) {
      values[0] = -rate;
    },
    timeDerivative(t, _y, out) {
      out[0] = rate * Math.cos(t) - Math.sin(t);
    },
  });

  test("an autonomous problem has the method's order, for the worst error over all steps", () => {
    const errors = [1 / 4, 1 / 8, 1 / 16, 1 / 32].map((h) => {
      let worst = 0;
      fixedSteps(logistic, [0.1], 4, h, undefined, (t, y) => {
        worst = Math.max(worst, Math.abs(y[0] - logisticAt(t)));
      });
      return [h, worst] as const;
    });
    expect(Math.abs(slope(errors) - rodas5p.order)).toBeLessThan(0.3);
  });

  test("a problem with explicit time has the method's order, which is lost without the time derivative", () => {
    const errors = (problem: StiffProblem) =>
      [1 / 4, 1 / 8, 1 / 16].map((h) => [h, Math.abs(fixedSteps(problem, [0], 2, h)[0] - Math.sin(2))] as const);
    const { timeDerivative: _, ...without } = prothero(1);
    expect(Math.abs(slope(errors(prothero(1))) - rodas5p.order)).toBeLessThan(0.3);
    expect(slope(errors(without))).toBeLessThan(2);
  });

  test("a stiff problem keeps at least order 3", () => {
    // The order of classical one-step methods falls to 1 or 2 here (Prothero & Robinson 1974).
    const errors = [1 / 4, 1 / 8, 1 / 16, 1 / 32].map(
      (h) => [h, Math.abs(fixedSteps(prothero(1e4), [0], 2, h)[0] - Math.sin(2))] as const,
    );
    expect(slope(errors)).toBeGreaterThan(2.7);
  });

  test("dense output has order 4", () => {
    const errors = [1 / 2, 1 / 4, 1 / 8, 1 / 16].map((h) => {
      let worst = 0;
      fixedSteps(logistic, [0.1], 4, h, (t, y) => {
        worst = Math.max(worst, Math.abs(y[0] - logisticAt(t)));
      });
      return [h, worst] as const;
    });
    expect(slope(errors)).toBeGreaterThan(3.7);
  });
});

describe("error and tolerance", () => {
  function end(problem: PublishedProblem, relative: number): Float64Array {
    const solver = new StiffSolver(problem, {
      tolerances: { relative, absolute: Float64Array.from(problem.scale, (s) => s * relative * 1e-3) },
    });
    const y = Float64Array.from(problem.start);
    const outcome = solver.advance(0, problem.end, y);
    if (outcome.status !== "finished") throw new Error(JSON.stringify(outcome));
    return y;
  }
  // Reference end values: Test Set for IVP Solvers (see problems.test.ts).
  const references: [PublishedProblem, string][] = [
    [robertson, "IVP-ROBER-00"],
    [hires, "IVP-HIRES"],
    [vanDerPol, "IVP-VDPOL"],
    [orego, "IVP-OREGO"],
  ];
  test.each(references)("the error of $name follows the tolerance over six decades", (problem, prefix) => {
    const rows = referenceRows(prefix).filter((row) => Number(row.inputs.t) === problem.end);
    const errors = [1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9].map((relative) => {
      const y = end(problem, relative);
      return [
        relative,
        Math.max(...rows.map((row) => Math.abs(y[Number(row.quantity.slice(1)) - 1] / row.expected - 1))),
      ] as const;
    });
    // Proportionality would give 1. The problem also damps or shifts earlier errors, hence a range.
    expect(slope(errors)).toBeGreaterThan(0.6);
    expect(slope(errors)).toBeLessThan(1.4);
    expect(errors[6][1]).toBeLessThan(1e-7);
  });

  test("solutions agree with closed forms of kinetics: chain of two reactions, Monod decay, logistic growth", () => {
    const run = (problem: StiffProblem, start: number[], t: number) => {
      const y = Float64Array.from(start);
      expect(new StiffSolver(problem, { tolerances: { relative: 1e-10, absolute: 1e-12 } }).advance(0, t, y).status).toBe(
        "finished",
      );
      return y;
    };
    for (const { inputs, quantity, expected } of referenceRows("KIN-A")) {
      const value = (name: string) => Number(inputs[name]);
      let reached: number;
      if (quantity === "S(t) Monod") {
        const monod: StiffProblem = {
          size: 1,
          pattern: patternOf([[0]]),
          derivative(_t, y, out) {
            out[0] = (-value("k") * y[0]) / (value("Ks") + y[0]);
          },
          jacobian(_t, y, values) {
            values[0] = (-value("k") * value("Ks")) / (value("Ks") + y[0]) ** 2;
          },
        };
        reached = run(monod, [value("S0")], value("t_d"))[0];
      } else if (quantity === "X(t) logistic") {
        const growth: StiffProblem = {
          size: 1,
          pattern: patternOf([[0]]),
          derivative(_t, y, out) {
            out[0] = value("mu") * y[0] * (1 - y[0] / value("K"));
          },
          jacobian(_t, y, values) {
            values[0] = value("mu") * (1 - (2 * y[0]) / value("K"));
          },
        };
        reached = run(growth, [value("X0")], value("t_d"))[0];
      } else {
        const [k1, k2] = [value("k1"), value("k2")];
        const chain: StiffProblem = {
          size: 3,
          pattern: patternOf([[0], [0, 1], [1, 2]]),
          derivative(_t, y, out) {
            out[0] = -k1 * y[0];
            out[1] = k1 * y[0] - k2 * y[1];
            out[2] = k2 * y[1];
          },
          jacobian(_t, _y, values) {
            values.set([-k1, k1, -k2, k2, 0]);
          },
        };
        reached = run(chain, [value("A0"), 0, 0], value("t_d"))[quantity === "B(t)" ? 1 : 2];
      }
      expect(Math.abs(reached / expected - 1)).toBeLessThan(1e-8);
    }
  });
});

test("linear invariants hold to rounding, also with loose tolerances", () => {
  for (const relative of [1e-2, 1e-4, 1e-8]) {
    const y = Float64Array.from(robertson.start);
    const solver = new StiffSolver(robertson, { tolerances: { relative, absolute: 1e-6 }, nonNegative: true });
    const inside = new Float64Array(3);
    let worst = 0;
    const outcome = solver.advance(0, 1e6, y, (step) => {
      step.at(step.t0 + 0.37 * (step.t1 - step.t0), inside);
      worst = Math.max(
        worst,
        Math.abs(inside[0] + inside[1] + inside[2] - 1),
        Math.abs(step.y1[0] + step.y1[1] + step.y1[2] - 1),
      );
      return undefined;
    });
    expect(outcome.status).toBe("finished");
    expect(worst).toBeLessThan(1e-13);
  }
});

describe("non-negative components", () => {
  // Two substances are consumed together at a nearly zero-order rate: steps that the tolerance allows overshoot zero.
  const used: StiffProblem = {
    size: 3,
    pattern: patternOf([[0], [0, 1], [0, 2]]),
    derivative(_t, y, out) {
      const rate = y[0] > 0 ? y[0] / (1e-5 + y[0]) : 0;
      out[0] = -rate;
      out[1] = rate;
      out[2] = 0.01 * rate;
    },
    jacobian(_t, y, values) {
      const change = y[0] > 0 ? 1e-5 / (1e-5 + y[0]) ** 2 : 0;
      values.set([-change, change, 0, 0.01 * change, 0]);
    },
    componentName: (i) => ["substrate", "product", "by-product"][i],
  };
  const run = (nonNegative: boolean) => {
    const y = Float64Array.of(1, 0, 0);
    const tolerances = { relative: 1e-3, absolute: Float64Array.of(1e-6, 1, 1) };
    const solver = new StiffSolver(used, nonNegative ? { tolerances, nonNegative } : { tolerances });
    let least = 0;
    const outcome = solver.advance(0, 3, y, (step) => {
      least = Math.min(least, step.y1[0]);
      return undefined;
    });
    return { outcome, y, least };
  };

  test("a step to below minus the tolerance is shortened, and the mass balance holds", () => {
    const { outcome, y, least } = run(true);
    expect(outcome.status).toBe("finished");
    expect(least).toBeGreaterThanOrEqual(-1e-6);
    expect(Math.abs(y[0] + y[1] - 1)).toBeLessThan(1e-14);
    expect(run(false).least).toBeLessThan(-1e-6);
  });

  test("where no step avoids it, the run fails and reports code, time and component", () => {
    const drain: StiffProblem = {
      ...used,
      derivative: (_t, _y, out) => out.set([-1, 1, 0]),
      jacobian: (_t, _y, values) => void values.fill(0),
    };
    const solver = new StiffSolver(drain, {
      tolerances: { relative: 1e-3, absolute: 1e-3 },
      nonNegative: Uint8Array.of(1, 0, 0),
    });
    const y = Float64Array.of(1, 0, 0);
    const outcome = solver.advance(0, 3, y);
    expect(outcome).toMatchObject({ status: "failed", code: "negative", component: 0 });
    expect(outcome.t).toBeCloseTo(1.001, 6);
    expect(outcome.status === "failed" && outcome.message).toContain("substrate");
    expect(y[0]).toBeCloseTo(-1e-3, 6);
  });
});

describe("failures are values with a reason", () => {
  const growth = (slopeAt: (t: number, y: number) => number): StiffProblem => ({
    size: 1,
    pattern: patternOf([[0]]),
    derivative(t, y, out) {
      out[0] = slopeAt(t, y[0]);
    },
    jacobian(_t, _y, values) {
      values[0] = 0;
    },
    componentName: () => "oxygen",
  });
  const run = (problem: StiffProblem, more = {}, y = Float64Array.of(1)) => {
    const solver = new StiffSolver(problem, { tolerances: { relative: 1e-6, absolute: 1e-9 }, ...more });
    return { outcome: solver.advance(0, 10, y), y, solver };
  };

  test("a slope of NaN from the start, or from some time on, is a failure", () => {
    expect(run(growth(() => Number.NaN)).outcome).toMatchObject({ status: "failed", code: "not-finite", t: 0, component: 0 });
    const { outcome, y } = run(growth((t) => (t > 2 ? Number.NaN : 1)));
    expect(outcome).toMatchObject({ status: "failed", code: "not-finite", message: expect.stringContaining("oxygen") });
    expect(outcome.t).toBeCloseTo(2, 9);
    expect(y[0]).toBeCloseTo(3, 9);
  });

  test("a run stops before a singularity of the solution", () => {
    // y' = y^2, y(0) = 1: y = 1 / (1 - t).
    const blowUp: StiffProblem = {
      ...growth((_t, y) => y * y),
      jacobian(_t, y, values) {
        values[0] = 2 * y[0];
      },
    };
    const { outcome, y } = run(blowUp);
    expect(outcome.status).toBe("failed");
    expect(outcome.t).toBeCloseTo(1, 6);
    expect(Number.isFinite(y[0])).toBe(true);
  });

  test("limits on steps, evaluations and time end a run", () => {
    const wave = growth((t) => Math.sin(1000 * t));
    expect(run(wave, { maxSteps: 20 }).outcome).toMatchObject({ status: "failed", code: "too-many-steps" });
    expect(run(wave, { maxDerivatives: 100 }).outcome).toMatchObject({ status: "failed", code: "too-many-derivatives" });
    let clock = 0;
    expect(run(wave, { deadline: { now: () => clock++, at: 30 } }).outcome).toMatchObject({
      status: "failed",
      code: "out-of-time",
    });
  });

  test("invalid input is refused", () => {
    const { solver } = run(growth(() => 0));
    expect(solver.advance(0, Number.NaN, Float64Array.of(1))).toMatchObject({ code: "bad-input" });
    expect(solver.advance(1, 0, Float64Array.of(1))).toMatchObject({ code: "bad-input" });
    expect(solver.advance(0, 1, Float64Array.of(1, 2))).toMatchObject({ code: "bad-input" });
    expect(solver.advance(0, 1, Float64Array.of(Number.NaN))).toMatchObject({ code: "not-finite", component: 0 });
    expect(
      () =>
        new StiffSolver(
          growth(() => 0),
          { tolerances: { relative: 0, absolute: 1 } },
        ),
    ).toThrow("positive");
  });
});

test("a run in segments keeps its step size, and repeated runs give the same bits", () => {
  const options = { tolerances: { relative: 1e-6, absolute: 1e-9 } };
  const whole = new StiffSolver(hires, options);
  const pieces = new StiffSolver(hires, options);
  const y = Float64Array.from(hires.start);
  whole.advance(0, 300, y);
  const z = Float64Array.from(hires.start);
  for (let t = 0; t < 300; t += 50) pieces.advance(t, t + 50, z);
  expect(pieces.statistics.steps).toBeLessThan(whole.statistics.steps + 2 * 6);
  for (let i = 0; i < 8; i++) expect(Math.abs(z[i] / y[i] - 1)).toBeLessThan(1e-4);
  const again = Float64Array.from(hires.start);
  whole.restart();
  whole.advance(0, 300, again);
  expect([...again]).toEqual([...y]);
});

test("the observer stops a run anywhere inside a step", () => {
  const solver = new StiffSolver(orego, { tolerances: { relative: 1e-8, absolute: 1e-8 } });
  const y = Float64Array.from(orego.start);
  expect(solver.advance(0, 30, y, (step) => (step.t1 >= 12.34 ? 12.34 : undefined))).toEqual({ status: "stopped", t: 12.34 });
  const direct = Float64Array.from(orego.start);
  new StiffSolver(orego, { tolerances: { relative: 1e-8, absolute: 1e-8 } }).advance(0, 12.34, direct);
  for (let i = 0; i < 3; i++) expect(Math.abs(y[i] / direct[i] - 1)).toBeLessThan(1e-5);
});

describe.each([true, false])("sparse factorisation, WebAssembly %s", (webAssembly) => {
  const prepare = (pattern: SparsePattern) => {
    const plan = planElimination(pattern);
    return new SparseLU(plan, createVectorLoops(sparseLuBytes(plan), webAssembly));
  };

  test("gives the solution of a dense solver (ml-matrix), on random patterns", () => {
    const random = seedrandom("sparse");
    for (const size of [1, 2, 5, 20, 60]) {
      const rows = Array.from({ length: size }, (_, i) =>
        Array.from({ length: size }, (_, j) => j).filter((j) => i === j || random() < 3 / size),
      );
      const pattern = patternOf(rows);
      const values = Float64Array.from({ length: pattern.columns.length }, () => random() - 0.5);
      const lu = prepare(pattern);
      lu.matrix.set(values);
      expect(lu.factorise(4)).toBe(-1);
      const dense = Matrix.eye(size, size).mul(4);
      for (let i = 0; i < size; i++)
        rows[i].forEach((j, e) => {
          dense.set(i, j, dense.get(i, j) - values[pattern.rowStart[i] + e]);
        });
      const b = Float64Array.from({ length: size }, () => random() - 0.5);
      const expected = solve(dense, Matrix.columnVector([...b])).to1DArray();
      lu.vector.set(b);
      lu.solve();
      expected.forEach((value, i) => {
        expect(Math.abs(lu.vector[i] - value)).toBeLessThan(1e-13 * Math.max(...expected.map(Math.abs)));
      });
    }
  });

  test("an unusable pivot is reported with its component", () => {
    const lu = prepare(
      patternOf([
        [0, 1],
        [0, 1],
      ]),
    );
    const factorise = (shift: number, values: readonly number[]): number => {
      lu.matrix.set(values);
      return lu.factorise(shift);
    };
    expect(factorise(0, [0, 1, 1, 0])).toBe(0);
    expect(factorise(Number.NaN, [0, 1, 1, 0])).toBe(0);
    expect(factorise(1, [0, 0, 0, Number.NaN])).toBe(1);
  });
});

test("an arrow matrix is reordered to have no fill-in, and a missing diagonal entry is refused", () => {
  const size = 30;
  const rows = Array.from({ length: size }, (_, i) => (i === 0 ? [...Array(size).keys()] : [0, i]));
  expect(planElimination(patternOf(rows)).columns.length).toBe(3 * size - 2);
  expect(() => planElimination(patternOf([[0], [0]]))).toThrow("diagonal");
});

test("WebAssembly and JavaScript loops give the same bits", () => {
  for (const problem of stiffProblems) {
    const run = (webAssembly: boolean) => {
      const solver = new StiffSolver(problem, { tolerances: { relative: 1e-5, absolute: 1e-9 }, webAssembly });
      const y = Float64Array.from(problem.start);
      expect(solver.advance(0, problem.end, y).status).toBe("finished");
      return [...y, solver.statistics.steps];
    };
    expect(run(true)).toEqual(run(false));
  }
});

test("every published stiff problem needs at most a known number of steps at the working tolerance", () => {
  const steps = stiffProblems.map((problem) => {
    const solver = new StiffSolver(problem, {
      tolerances: { relative: 1e-4, absolute: Float64Array.from(problem.scale, (s) => s * 1e-7) },
    });
    solver.advance(0, problem.end, Float64Array.from(problem.start));
    return solver.statistics.steps + solver.statistics.rejected;
  });
  // A rise is an unintended loss of efficiency.
  [160, 90, 300, 300, 380].forEach((limit, i) => {
    expect(steps[i], stiffProblems[i].name).toBeLessThan(limit);
  });
});
