import { expect, test } from "vitest";
import { NonStiffSolver, type OdeProblem } from "../../../sim/integrators/nonstiff.ts";

const tolerances = { relative: 1e-9, absolute: 1e-12 };

function scalar(slope: (t: number, y: number) => number): OdeProblem {
  return {
    size: 1,
    derivative(t, y, out) {
      out[0] = slope(t, y[0]);
    },
    componentName: () => "level",
  };
}

const decay = scalar((_t, y) => -y);

test("decay agrees with its closed form, with and without dense output, in one segment or several", () => {
  for (const pieces of [1, 7]) {
    for (const observed of [false, true]) {
      const y = Float64Array.of(1);
      const solver = new NonStiffSolver(decay, { tolerances });
      const inside = new Float64Array(1);
      let worst = 0;
      for (let k = 0; k < pieces; k++) {
        const outcome = solver.advance((5 * k) / pieces, (5 * (k + 1)) / pieces, y, (step) => {
          if (!observed) return undefined;
          const t = (step.t0 + step.t1) / 2;
          step.at(t, inside);
          worst = Math.max(worst, Math.abs(inside[0] / Math.exp(-t) - 1));
          return undefined;
        });
        expect(outcome).toEqual({ status: "finished", t: (5 * (k + 1)) / pieces });
      }
      expect(Math.abs(y[0] / Math.exp(-5) - 1)).toBeLessThan(1e-8);
      expect(worst).toBeLessThan(1e-6);
    }
  }
});

test("typed arrays for state and tolerances do not become NaN", () => {
  const y = Float64Array.of(1);
  const solver = new NonStiffSolver(decay, { tolerances: { relative: 1e-9, absolute: Float64Array.of(1e-12) } });
  expect(solver.advance(0, 1, y).status).toBe("finished");
  expect(y[0]).toBeCloseTo(Math.exp(-1), 8);
});

test("a slope of NaN or infinity is a failure at the last valid state", () => {
  const y = Float64Array.of(1);
  const outcome = new NonStiffSolver(
    scalar((t) => (t > 2 ? Number.NaN : 1)),
    { tolerances },
  ).advance(0, 10, y);
  expect(outcome).toMatchObject({
    status: "failed",
    code: "not-finite",
    component: 0,
    message: expect.stringContaining("level"),
  });
  expect(outcome.t).toBeCloseTo(2, 6);
  expect(y[0]).toBeCloseTo(1 + outcome.t, 9);
  expect(
    new NonStiffSolver(
      scalar(() => Number.NaN),
      { tolerances },
    ).advance(0, 1, y),
  ).toMatchObject({ code: "not-finite", t: 0 });
});

test("a run that hits a limit reports the time that it reached", () => {
  const stiff = scalar((t, y) => -1e5 * (y - Math.cos(t)));
  const run = (more: object) => new NonStiffSolver(stiff, { tolerances, ...more }).advance(0, 100, Float64Array.of(1));
  const steps = run({ maxSteps: 50 });
  expect(steps).toMatchObject({ status: "failed", code: "too-many-steps", message: expect.stringContaining("stiff") });
  expect(steps.t).toBeLessThan(1);
  expect(run({ maxDerivatives: 500 })).toMatchObject({ status: "failed", code: "too-many-derivatives" });
  let clock = 0;
  expect(run({ deadline: { now: () => clock++, at: 1000 } })).toMatchObject({ status: "failed", code: "out-of-time" });
});

test("the first step may be shorter than odex's own minimum", () => {
  // The whole transient lasts a millionth of the time unit.
  const fast = scalar((_t, y) => -1e7 * y);
  const y = Float64Array.of(1);
  expect(new NonStiffSolver(fast, { tolerances }).advance(0, 1e-6, y).status).toBe("finished");
  expect(Math.abs(y[0] / Math.exp(-10) - 1)).toBeLessThan(1e-6);
});

test("a step to a negative value is retried with a shorter step, then fails and names the component", () => {
  const drain = scalar(() => -1);
  const y = Float64Array.of(1);
  const outcome = new NonStiffSolver(drain, { tolerances: { relative: 1e-6, absolute: 1e-6 }, nonNegative: true }).advance(
    0,
    2,
    y,
  );
  expect(outcome).toMatchObject({ status: "failed", code: "negative", component: 0 });
  expect(outcome.t).toBeCloseTo(1, 5);
});

test("the observer stops a run inside a step", () => {
  const y = Float64Array.of(1);
  const outcome = new NonStiffSolver(decay, { tolerances }).advance(0, 5, y, (step) => (step.t1 > 1.25 ? 1.25 : undefined));
  expect(outcome).toEqual({ status: "stopped", t: 1.25 });
  expect(y[0]).toBeCloseTo(Math.exp(-1.25), 8);
});

test("invalid input is refused", () => {
  const solver = new NonStiffSolver(decay, { tolerances });
  expect(solver.advance(0, Number.POSITIVE_INFINITY, Float64Array.of(1))).toMatchObject({ code: "bad-input" });
  expect(solver.advance(0, 1, Float64Array.of(1, 2))).toMatchObject({ code: "bad-input" });
  expect(solver.advance(0, 1, Float64Array.of(Number.NaN))).toMatchObject({ code: "not-finite" });
});
