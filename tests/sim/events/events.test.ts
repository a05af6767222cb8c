import { describe, expect, test } from "vitest";
import { EventDriver } from "../../../sim/events/event-driver.ts";
import type { SimulationEvent, StateEvent } from "../../../sim/events/events.ts";
import type { Integrator } from "../../../sim/integrators/integrator.ts";
import { NonStiffSolver } from "../../../sim/integrators/nonstiff.ts";
import type { StiffProblem } from "../../../sim/integrators/problem.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { patternOf } from "../integrators/problems.ts";
import { referenceRows } from "../integrators/reference.ts";

type Maker = (problem: StiffProblem, relative: number, absolute: number) => Integrator;
const makers: [string, Maker][] = [
  ["stiff", (problem, relative, absolute) => new StiffSolver(problem, { tolerances: { relative, absolute } })],
  ["non-stiff", (problem, relative, absolute) => new NonStiffSolver(problem, { tolerances: { relative, absolute } })],
];

/** y' = slopes, which an event may change; the Jacobian has only its diagonal of zeros. */
function ramps(slopes: number[]): StiffProblem {
  return {
    size: slopes.length,
    pattern: patternOf(slopes.map((_, i) => [i])),
    derivative: (_t, _y, out) => out.set(slopes),
    jacobian: (_t, _y, values) => void values.fill(0),
  };
}

/** y' = (y2, -y1): sine and cosine. */
const circle: StiffProblem = {
  size: 2,
  pattern: patternOf([
    [0, 1],
    [0, 1],
  ]),
  derivative(_t, y, out) {
    out[0] = y[1];
    out[1] = -y[0];
  },
  jacobian: (_t, _y, values) => values.set([0, 1, -1, 0]),
};

/** An event action after which the run continues. */
function then(action: (t: number, y: Float64Array) => unknown): StateEvent["apply"] {
  return (t, y) => {
    action(t, y);
    return "continue";
  };
}

function stateEvent(
  id: string,
  guard: StateEvent["guard"],
  apply: StateEvent["apply"],
  more: Partial<StateEvent> = {},
): StateEvent {
  return { kind: "state", id, label: id, direction: "either", guard, apply, ...more };
}

describe.each(makers)("%s integrator: event times of closed-form problems", (_name, make) => {
  // Bouncing ball: t_1 = sqrt(2 h0 / g), t_{n+1} - t_n = 2 e^n t_1, at rest after t_1 (1 + e) / (1 - e); exact.
  test("bounce times of a ball, and the time at which it comes to rest", () => {
    for (const e of [0.8, 0.5]) {
      const rows = referenceRows("EV-A").filter((row) => row.inputs.e === e);
      const g = 9.80665;
      let resting = false;
      const fall: StiffProblem = {
        size: 2,
        pattern: patternOf([[0, 1], [1]]),
        derivative(_t, y, out) {
          out[0] = resting ? 0 : y[1];
          out[1] = resting ? 0 : -g;
        },
        jacobian: (_t, _y, values) => values.set([0, resting ? 0 : 1, 0]),
      };
      const times: number[] = [];
      let rest = Number.NaN;
      const bounce = stateEvent(
        "bounce",
        (_t, y) => y[0],
        (t, y) => {
          times.push(t);
          y[1] *= -e;
          // Sticking is a mode: below one micrometre per second the ball is at rest.
          if (Math.abs(y[1]) < 1e-6) {
            resting = true;
            y[1] = 0;
            rest = t;
          }
          return "continue";
        },
        { direction: "falling", armed: () => !resting },
      );
      const driver = new EventDriver(make(fall, 1e-10, 1e-12), [bounce], {});
      const y = Float64Array.of(10, 0);
      expect(driver.advance(0, 15, y)).toEqual({ status: "finished", t: 15 });
      for (const row of rows) {
        if (row.quantity === "time at rest") expect(Math.abs(rest - row.expected)).toBeLessThan(1e-6);
        else expect(Math.abs(times[Number(row.inputs.n) - 1] / row.expected - 1)).toBeLessThan(1e-9);
      }
      expect(Math.abs(y[0])).toBeLessThan(1e-9);
    }
  });

  // Tank emptying through an orifice: h = (sqrt(h0) - c t / (2 A))^2, c = Cd a sqrt(2 g).
  test("times of the level switches of a draining tank", () => {
    const rows = referenceRows("EV-B").filter((row) => Number(row.inputs.h_m) > 0);
    const input = (name: string) => Number(rows[0].inputs[name]);
    const rate = (input("Cd") * input("a_m2") * Math.sqrt(2 * input("g"))) / input("A_m2");
    const tank: StiffProblem = {
      size: 1,
      pattern: patternOf([[0]]),
      derivative(_t, y, out) {
        out[0] = -rate * Math.sqrt(y[0]);
      },
      jacobian(_t, y, values) {
        values[0] = -rate / (2 * Math.sqrt(y[0]));
      },
    };
    const times = new Map<number, number>();
    const switches = rows.map((row) => {
      const level = Number(row.inputs.h_m);
      return stateEvent(
        `${level}`,
        (_t, y) => y[0] - level,
        then((t) => times.set(level, t)),
        { direction: "falling" },
      );
    });
    const driver = new EventDriver(make(tank, 1e-11, 1e-13), switches, {});
    expect(driver.advance(0, 620, Float64Array.of(input("h0_m"))).status).toBe("finished");
    for (const row of rows) expect(Math.abs(times.get(Number(row.inputs.h_m))! / row.expected - 1)).toBeLessThan(1e-9);
  });

  // Float switch with hysteresis: period = A dh (1 / Qi + 1 / (Qo - Qi)), pump on for A dh / (Qo - Qi).
  test("cycle period and pumping time of a float switch in a sump", () => {
    for (const row of referenceRows("EV-C")) {
      const value = (name: string) => Number(row.inputs[name]);
      const [inflow, pump] = [value("Qin_Lmin") / 60_000, value("Qpump_Lmin") / 60_000];
      const slopes = [inflow / value("A_m2")];
      let on = false;
      const set = (pumping: boolean) => (t: number) => {
        on = pumping;
        slopes[0] = (inflow - (on ? pump : 0)) / value("A_m2");
        (on ? switchedOn : switchedOff).push(t);
        return "continue" as const;
      };
      const [low, high] = [0.2, 0.2 + value("dh_m")];
      const switchedOn: number[] = [];
      const switchedOff: number[] = [];
      const events = [
        stateEvent("on", (_t, y) => y[0] - high, set(true), { direction: "rising", armed: () => !on }),
        stateEvent("off", (_t, y) => y[0] - low, set(false), { direction: "falling", armed: () => on }),
      ];
      const driver = new EventDriver(make(ramps(slopes), 1e-10, 1e-12), events, {});
      expect(driver.advance(0, 400, Float64Array.of(low)).status).toBe("finished");
      const measured = row.quantity === "cycle period" ? switchedOn[1] - switchedOn[0] : switchedOff[0] - switchedOn[0];
      // The reference has ten digits.
      expect(Math.abs(measured / row.expected - 1)).toBeLessThan(1e-9);
    }
  });
});

// One test for each rule of the event driver.
describe.each(makers)("%s integrator: event rules", (_name, make) => {
  test("guards are evaluated on accepted steps only", () => {
    const seen: number[] = [];
    const wall = stateEvent(
      "wall",
      (t) => seen.push(t),
      () => "continue",
    );
    const integrator = make(circle, 1e-6, 1e-9);
    const accepted: [number, number][] = [];
    const driver = new EventDriver(integrator, [wall], {});
    driver.advance(0, 10, Float64Array.of(0, 1), (step) => void accepted.push([step.t0, step.t1]));
    for (const t of seen) expect(accepted.some(([a, b]) => t >= a && t <= b)).toBe(true);
    for (let i = 1; i < accepted.length; i++) expect(accepted[i][0]).toBe(accepted[i - 1][1]);
  });

  test("two crossings inside one step are both found", () => {
    // y = t: steps of any length are accepted, so the interval with a negative guard lies inside one step.
    const found: number[] = [];
    const dip = stateEvent(
      "dip",
      (t) => (t - 3.2) * (t - 4.7),
      then((t) => found.push(t)),
    );
    const driver = new EventDriver(make(ramps([1]), 1e-3, 1), [dip], { samples: 8 });
    driver.advance(0, 10, Float64Array.of(0));
    expect(found).toHaveLength(2);
    expect(found[0]).toBeCloseTo(3.2, 9);
    expect(found[1]).toBeCloseTo(4.7, 9);
  });

  test("the run stops on the far side of a crossing, and the event does not occur again without crossing back", () => {
    const values: number[] = [];
    const guard = (_t: number, y: Float64Array) => y[0] - 0.5;
    const cross = stateEvent(
      "cross",
      guard,
      then((t, y) => values.push(guard(t, y))),
    );
    const driver = new EventDriver(make(circle, 1e-8, 1e-10), [cross], {});
    driver.advance(0, 2 * Math.PI, Float64Array.of(0, 1));
    expect(values).toHaveLength(2);
    expect(values[0]).toBeGreaterThanOrEqual(0);
    expect(values[1]).toBeLessThanOrEqual(0);
    expect(Math.abs(values[0])).toBeLessThan(1e-10);
  });

  test("several events in one step occur in the order of their times, whatever the order of declaration", () => {
    const order: string[] = [];
    const at = (level: number) =>
      stateEvent(
        `${level}`,
        (_t, y) => y[0] - level,
        then((t) => order.push(`${level}@${t.toFixed(6)}`)),
      );
    const driver = new EventDriver(make(ramps([1]), 1e-3, 1), [at(3), at(1), at(2), at(2.0001)], {});
    driver.advance(0, 5, Float64Array.of(0));
    expect(order).toEqual(["1@1.000000", "2@2.000000", "2.0001@2.000100", "3@3.000000"]);
  });

  test("simultaneous events run by priority, then in order of declaration, among state events and among timed events", () => {
    const order: string[] = [];
    const note = (id: string) => then(() => order.push(id));
    const timed = (id: string, priority: number): SimulationEvent => ({
      kind: "timed",
      id,
      label: id,
      at: 1,
      priority,
      apply: note(id),
    });
    const events: SimulationEvent[] = [
      timed("evening", 3),
      timed("morning", -2),
      timed("noon", -2),
      stateEvent("late", (_t, y) => y[0] - 2, note("late"), { priority: 5 }),
      stateEvent("first", (_t, y) => y[0] - 2, note("first"), { priority: -1 }),
      stateEvent("second", (_t, y) => 2 * y[0] - 4, note("second"), { priority: -1 }),
    ];
    const driver = new EventDriver(make(ramps([1]), 1e-6, 1e-9), events, {});
    driver.advance(0, 3, Float64Array.of(0));
    expect(order).toEqual(["morning", "noon", "evening", "first", "second", "late"]);
  });

  test("an event that another one disarms at the same instant does not occur; one whose threshold a jump crosses does", () => {
    const order: string[] = [];
    let open = true;
    const events: SimulationEvent[] = [
      stateEvent(
        "shut",
        (_t, y) => y[0] - 1,
        then(() => {
          open = false;
          order.push("shut");
        }),
      ),
      stateEvent(
        "spill",
        (_t, y) => y[0] - 1,
        then(() => order.push("spill")),
        { armed: () => open },
      ),
      {
        kind: "timed",
        id: "pour",
        label: "pour",
        at: 2,
        apply: then((_t, y) => {
          y[0] += 10;
          order.push("pour");
        }),
      },
      stateEvent(
        "full",
        (_t, y) => y[0] - 8,
        then(() => order.push("full")),
        { direction: "rising" },
      ),
    ];
    const driver = new EventDriver(make(ramps([1]), 1e-6, 1e-9), events, {});
    driver.advance(0, 3, Float64Array.of(0));
    expect(order).toEqual(["shut", "pour", "full"]);
  });

  test("a crossing in the wrong direction is ignored", () => {
    const found: number[] = [];
    const rising = stateEvent(
      "rising",
      (_t, y) => y[0],
      then((t) => found.push(t)),
      { direction: "rising" },
    );
    const driver = new EventDriver(make(circle, 1e-10, 1e-12), [rising], {});
    driver.advance(
      1,
      14,
      Float64Array.of(Math.sin(1), Math.cos(1)).map((v, i) => (i === 0 ? -v : -v)),
    );
    // -sin t rises through zero at odd multiples of pi.
    expect(found.map((t) => t / Math.PI)).toEqual([expect.closeTo(1, 8), expect.closeTo(3, 8)]);
  });

  test("sticking is a mode with a dead band, without repeated events", () => {
    // A sump fills, spills at its rim at the rate of the inflow, and leaves that mode when the inflow has stopped and
    // the level has fallen by 1 mm.
    let spilling = false;
    let inflow = 0.01;
    let spills = 0;
    const slopes = [inflow];
    const settle = () => {
      slopes[0] = spilling && inflow > 0 ? 0 : inflow;
    };
    const events: SimulationEvent[] = [
      stateEvent(
        "spills",
        (_t, y) => y[0] - 1,
        then(() => {
          spilling = true;
          spills++;
          settle();
        }),
        {
          direction: "rising",
          armed: () => !spilling,
        },
      ),
      stateEvent(
        "sinks",
        (_t, y) => y[0] - 0.999,
        then(() => {
          spilling = false;
          settle();
        }),
        {
          direction: "falling",
          armed: () => spilling,
        },
      ),
      {
        kind: "timed",
        id: "turn",
        label: "inflow turns",
        at: 150,
        apply: then(() => {
          inflow = -0.01;
          settle();
        }),
      },
    ];
    const driver = new EventDriver(make(ramps(slopes), 1e-6, 1e-9), events, {});
    const y = Float64Array.of(0);
    expect(driver.advance(0, 200, y).status).toBe("finished");
    expect(spills).toBe(1);
    expect(spilling).toBe(false);
    expect(y[0]).toBeCloseTo(0.5, 6);
  });

  test("a switch without a dead band is reported as chattering, by name", () => {
    const slopes = [1];
    const flip = stateEvent(
      "flip",
      (_t, y) => y[0] - 1,
      then((_t, y) => {
        slopes[0] = y[0] > 1 ? -1 : 1;
      }),
    );
    const driver = new EventDriver(make(ramps(slopes), 1e-6, 1e-9), [flip], {});
    const outcome = driver.advance(0, 10, Float64Array.of(0));
    expect(outcome).toMatchObject({ status: "failed", code: "chattering" });
    expect(outcome.t).toBeCloseTo(1, 6);
    expect(outcome.status === "failed" && outcome.message).toContain("flip");
  });

  test("a guard that is already past its crossing at the start is an input error", () => {
    const rim = stateEvent(
      "rim",
      (_t, y) => y[0] - 1,
      () => "continue",
      { direction: "rising", label: "sump spills over its rim" },
    );
    const start = (level: number) =>
      new EventDriver(make(ramps([0]), 1e-6, 1e-9), [rim], {}).advance(0, 1, Float64Array.of(level));
    expect(start(1.1)).toMatchObject({
      status: "failed",
      code: "bad-input",
      message: expect.stringContaining("sump spills over its rim"),
    });
    expect(start(1).status).toBe("finished");
  });

  test("a guard that starts exactly at zero and moves past it has crossed", () => {
    const found: number[] = [];
    const rim = stateEvent(
      "rim",
      (_t, y) => y[0] - 1,
      then((t) => found.push(t)),
      { direction: "rising" },
    );
    new EventDriver(make(ramps([1]), 1e-6, 1e-9), [rim], {}).advance(0, 1, Float64Array.of(1));
    expect(found).toEqual([expect.closeTo(0, 9)]);
  });

  test("the states just before and just after an event are reported, and output points never change the steps", () => {
    const shown: [number, number, number][] = [];
    const dose: SimulationEvent = {
      kind: "timed",
      id: "dose",
      label: "dose",
      at: 1,
      every: 1,
      apply: then((_t, y) => {
        y[0] += 5;
      }),
    };
    const run = (observe: boolean) => {
      const integrator = make(circle, 1e-6, 1e-9);
      const y = Float64Array.of(0, 1);
      const driver = new EventDriver(integrator, [dose], {
        onEvent: ({ t, before, after }) => void shown.push([t, before[0], after[0]]),
      });
      const out = new Float64Array(2);
      driver.advance(0, 2.5, y, (step) => {
        if (observe) for (let k = 1; k < 10; k++) step.at(step.t0 + (k / 10) * (step.t1 - step.t0), out);
        return undefined;
      });
      return [...y, integrator.statistics.steps];
    };
    expect(run(true)).toEqual(run(false));
    expect(shown.map(([t]) => t)).toEqual([1, 2, 1, 2]);
    for (const [, before, after] of shown) expect(after - before).toBeCloseTo(5, 12);
    expect(shown[0][1]).toBeCloseTo(Math.sin(1), 5);
  });

  test("repeated times do not accumulate rounding errors; an event at the end belongs to the next advance", () => {
    const times: number[] = [];
    const tick: SimulationEvent = {
      kind: "timed",
      id: "tick",
      label: "tick",
      at: 0,
      every: 0.1,
      until: 0.85,
      apply: then((t) => times.push(t)),
    };
    const driver = new EventDriver(make(ramps([1]), 1e-6, 1e-9), [tick], {});
    const y = Float64Array.of(0);
    driver.advance(0, 0.3, y);
    expect(times).toEqual([0, 0.1, 0.2]);
    driver.advance(0.3, 1, y);
    expect(times).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8].map((k) => k * 0.1));
    expect(y[0]).toBeCloseTo(1, 12);
  });

  test("a terminal event ends the run and is named in the outcome; the run can continue afterwards", () => {
    let stops = 0;
    const top = stateEvent(
      "top",
      (_t, y) => y[0] - 1,
      () => (stops++ === 0 ? "stop" : "continue"),
    );
    const driver = new EventDriver(make(ramps([1]), 1e-6, 1e-9), [top], {});
    const y = Float64Array.of(0);
    const outcome = driver.advance(0, 3, y);
    expect(outcome).toMatchObject({ status: "stopped", event: "top" });
    expect(outcome.t).toBeCloseTo(1, 9);
    expect(driver.advance(outcome.t, 3, y)).toEqual({ status: "finished", t: 3 });
    expect([stops, y[0]]).toEqual([1, expect.closeTo(3, 9)]);
  });

  test("the observer can stop a run between events, and the run can continue afterwards", () => {
    const found: number[] = [];
    const cross = stateEvent(
      "cross",
      (_t, y) => y[0] - 2,
      then((t) => found.push(t)),
    );
    const driver = new EventDriver(make(ramps([1]), 1e-3, 1), [cross], {});
    const y = Float64Array.of(0);
    expect(driver.advance(0, 5, y, (step) => (step.t1 >= 1 ? 1 : undefined))).toEqual({ status: "stopped", t: 1 });
    expect(y[0]).toBeCloseTo(1, 12);
    expect(driver.advance(1, 5, y)).toEqual({ status: "finished", t: 5 });
    expect(found).toEqual([expect.closeTo(2, 9)]);
  });
});
