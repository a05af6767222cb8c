// The effect of each coefficient of the equations, in systems small enough for a known answer.
import { describe, expect, it } from "vitest";
import { parameterValues } from "../../../models/nitrogen/kinetics/parameters.ts";
import {
  type CellCoefficients,
  type FilmCoefficients,
  plainCoefficients,
} from "../../../models/nitrogen/reactor/coefficients.ts";
import { NitrogenSystem } from "../../../models/nitrogen/reactor/system.ts";
import { coefficients } from "../../../models/nitrogen/tank/coefficients.ts";
import { initialOperatingState } from "../../../models/nitrogen/tank/operating-state.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { group, keepTank, tank } from "./cases.ts";

/** One square metre of film under a cubic metre of water with all substances. */
function filmUnderWater(cell: Partial<CellCoefficients> = {}, film: Partial<FilmCoefficients> = {}) {
  const wiring = {
    cells: [{ id: "water", name: "water" }],
    films: [{ id: "film", name: "film", cell: 0, filmM: 3e-4, waterM: 3e-4, boundaryM: 5e-5 }],
    ways: [],
    gasCells: [],
    guts: [],
  };
  const plain = plainCoefficients(wiring);
  const system = new NitrogenSystem(wiring, parameterValues(), {
    ...plain,
    cells: [{ ...plain.cells[0], volumeM3: 1, ...cell }],
    films: [{ ...plain.films[0], ...film }],
  });
  const y = new Float64Array(system.size).fill(0.1);
  for (const [name, value] of [
    ["o2", 8],
    ["alk", 3],
    ["dic", 3.1],
    ["tan", 2],
    ["no2", 2],
    ["xs", 5],
  ] as const)
    y[system.cellIndex(0, name)] = value;
  for (const [name, value] of [
    ["o2", 8],
    ["tan", 2],
    ["no2", 2],
  ] as const)
    y[system.filmIndex(0, name)] = value;
  return { system, y };
}

describe("a foam fractionator", () => {
  it("removes suspended waste at first order, and counts it as foam", () => {
    const { system, y } = filmUnderWater({ skimmingPerDay: 20, settlingPerDay: 5 });
    const xs = system.cellIndex(0, "xs");
    const before = y[xs];
    const foam = system.endIndex("foam");
    const start = y[foam];
    const days = 0.02;
    new StiffSolver(system, { tolerances: { relative: 1e-8, absolute: 1e-10 } }).advance(0, days, y);
    // Both processes run at their rates; growth and hydrolysis change less than a hundredth in half an hour.
    const taken = (20 / 25) * before * (1 - Math.exp(-25 * days));
    expect((y[foam] - start) / taken).toBeGreaterThan(0.98);
    expect((y[foam] - start) / taken).toBeLessThan(1.02);
  });

  it("removes nitrogen from a stocked tank's water, and only while the pump runs", () => {
    const days = 25;
    const o = { litres: 200, days, seed: 1, groups: [group(4)] };
    const plain = keepTank(o);
    expect(plain.end.ends.foam).toBe(0);
    const model = tank(o);
    const foaming = { ...model, management: { ...model.management, foamFractionator: { flowM3PerDay: 10, removalShare: 0.5 } } };
    const running = coefficients(foaming, initialOperatingState(foaming));
    expect(running.cells[2].skimmingPerDay).toBeCloseTo((10 * 0.5) / running.cells[2].volumeM3, 9);
    const stopped = coefficients(foaming, { ...initialOperatingState(foaming), running: false });
    expect(stopped.cells[2].skimmingPerDay).toBe(0);
  });
});

describe("a medicine", () => {
  /** Uptake by oxidation: all uptake, minus that with both guilds inactive. */
  const uptake = (film: Partial<FilmCoefficients>): readonly [tan: number, no2: number] => {
    const [all, rest] = [total(film), total({ aobActivity: 0, nobActivity: 0 })];
    return [all[0] - rest[0], all[1] - rest[1]];
  };
  const total = (film: Partial<FilmCoefficients>): readonly [tan: number, no2: number] => {
    const { system, y } = filmUnderWater({}, film);
    const out = new Float64Array(4);
    const only = (guild: string): number => {
      const state = y.map((value, i) =>
        ["aob", "sao", "nob", "het"].some((g) => g !== guild && system.labels[i].startsWith(`${g} `)) ? 0 : value,
      );
      system.uptakeAtDepth(state, 0)(Float64Array.of(2, 2, 8, 0.1), out, new Float64Array(16));
      return guild === "nob" ? out[1] : out[0];
    };
    return [only("aob"), only("nob")];
  };
  const [tan, no2] = uptake({});

  it("inhibits ammonia oxidisers and nitrite oxidisers, each by its own share", () => {
    expect(tan).toBeGreaterThan(0);
    expect(no2).toBeGreaterThan(0);
    for (const left of [0, 0.3, 0.8]) {
      expect(uptake({ aobActivity: left })[0]).toBeCloseTo(left * tan, 12);
      expect(uptake({ aobActivity: left })[1]).toBeCloseTo(no2, 12);
      expect(uptake({ nobActivity: left })[0]).toBeCloseTo(tan, 12);
      expect(uptake({ nobActivity: left })[1]).toBeCloseTo(left * no2, 12);
    }
  });

  it("of the plan acts on the films while it lasts", () => {
    const run = keepTank({
      days: 6,
      seed: 1,
      groups: [group(2)],
      events: [{ day: 2, label: "bath", kind: "medicine", aobLost: 0, nobLost: 0, inhibition: 0.6, lastsDays: 2 }],
      run: { outputsPerDay: 2 },
    });
    for (const [n, day] of run.days.entries())
      for (const { aobActivity, nobActivity } of coefficients(run.aquarium, run.operating[n]).films)
        expect([aobActivity, nobActivity], `day ${day}`).toEqual(day >= 2 && day < 4 ? [0.4, 0.4] : [1, 1]);
  });
});

describe("heat", () => {
  /** Rate of hydrolysis of suspended waste: first order, depending only on temperature. */
  const hydrolysis = (temperatureC: number): number => {
    const { system, y } = filmUnderWater({ temperatureC });
    const state = y.map((value, i) => (/^(aob|sao|nob|het|xh|xd)/.test(system.labels[i]) ? 0 : value));
    const out = new Float64Array(system.size);
    system.derivative(0, state, out);
    return out[system.cellIndex(0, "ss")];
  };

  it("raises rates up to 30 °C, leaves them constant to 35, and brings them to zero at 43 (the cap is a modelling choice, optima of 29 to 36 °C)", () => {
    expect(hydrolysis(25) / hydrolysis(15)).toBeGreaterThan(1.2);
    expect(hydrolysis(34.9)).toBeCloseTo(hydrolysis(30), 12);
    expect(hydrolysis(39) / hydrolysis(30)).toBeCloseTo(0.5, 9);
    expect(hydrolysis(43)).toBeCloseTo(0, 12);
    expect(hydrolysis(45)).toBeCloseTo(0, 12);
  });

  it("stops nitrification as well", () => {
    const ammonia = (temperatureC: number): number => {
      const { system, y } = filmUnderWater({ temperatureC });
      return system.ammoniaOxidation(y, 0);
    };
    expect(ammonia(43)).toBe(0);
    expect(ammonia(41)).toBeLessThan(0.5 * ammonia(34));
  });
});
