// Start-ups and filters from the literature: timing, order and direction. Constants at their defaults; sources are
// named beside each check.
import { describe, expect, it } from "vitest";
import { TAN_PER_PROTEIN } from "../../../models/life/excretion.ts";
import { type Bulk, FilmAlone } from "../../../models/nitrogen/analysis/capacity.ts";
import { parameterValues } from "../../../models/nitrogen/kinetics/parameters.ts";
import type { Run } from "../../../models/nitrogen/simulation/simulation.ts";
import { matureStock } from "../../../models/nitrogen/tank/biofilm-stock.ts";
import { latinHypercube } from "../../../sim/ensemble/sampling.ts";
import { csvRecords } from "../../data/reference-rows.ts";
import { compared } from "../../validation/compared.ts";
import { asN, at, dosing, group, keepTank, peak, readyDay, seen, tell } from "./cases.ts";
import {
  compareTank3,
  fitInoculum,
  type LandmarkDays,
  landmarkDays,
  landmarkNames,
  landmarks,
  MOST_FROM_DEAD,
  runTank3,
  tank3,
} from "./tank3.ts";

const water = (more: Partial<Bulk>): Bulk => ({
  tanGPerM3: 2,
  no2GPerM3: 0.1,
  o2GPerM3: 8,
  temperatureC: 24,
  salinityGPerKg: 0,
  ph: 7.8,
  alkalinityEqPerM3: 4,
  ...more,
});
const shape = { filmM: 1e-4, waterM: 3e-4, boundaryM: 5e-5 };
const alone = (more: Partial<Bulk>) => new FilmAlone(shape, water(more), parameterValues());

describe("start-ups of the literature", () => {
  it("Day et al. (2021), tank 3: every landmark is in the predicted 5-95 % band, with only the inoculum fitted", () => {
    const fit = fitInoculum();
    console.info(
      `fitted inoculum ${fit.share.toExponential(1)}, misses ${Math.sqrt(fit.inconsistency).toFixed(2)} d: ${JSON.stringify(fit.days)}`,
    );
    expect(fit.share).toBeGreaterThan(1e-5);
    expect(fit.share).toBeLessThan(1e-3);
    // What one record cannot determine: the guilds' growth to 10 %, how much nitrogen came (half as much fits as well, twice as much runs out of
    // alkalinity), how much of it from the two dead fish, how much the plants took, and with these the inoculum to a factor of 10 (npm run fit:tank3).
    const members = 20;
    const sample = latinHypercube("tank 3", members, 6);
    const runs: LandmarkDays[] = [];
    const lived: Run[] = [];
    for (let member = 0; member < members; member++) {
      const [seed, aob, nob, load, fromDead, plants] = sample(member, () => 0.5);
      const factor = (u: number) => 0.9 + 0.2 * u;
      const defaults = parameterValues();
      const growth = { aobGrowth: defaults.aobGrowth * factor(aob), nobGrowth: defaults.nobGrowth * factor(nob) };
      const aquarium = tank3(growth, { load: 2 ** (1.5 * load - 1), fromDead: MOST_FROM_DEAD * fromDead, plants });
      const run = runTank3(aquarium, matureStock(tank3(growth)), fit.share * 10 ** (2 * seed - 1));
      lived.push(run);
      runs.push(landmarkDays(run));
    }
    compareTank3(lived);
    for (const name of landmarkNames) {
      const { low, high } = landmarks.find(({ event }) => event === name)!;
      const days = runs.map((run) => run[name]).sort((a, b) => a - b);
      const [from, to] = [days[Math.ceil(0.05 * members) - 1], days[Math.ceil(0.95 * members) - 1]];
      compared({
        set: "Start-ups, days",
        what: `tank 3, ${name.replaceAll("_", " ")} (band ${from} to ${to})`,
        unit: "d",
        source: "Day et al. (2021)",
        kind: "measured",
        outside: [low, high],
        model: fit.days[name],
      });
      console.info(`${name}: seen ${low}-${high}, band ${from}-${to}`);
      expect(low, name).toBeLessThanOrEqual(to);
      expect(high, name).toBeGreaterThanOrEqual(from);
      // A very wide band would prove nothing.
      expect(to - from, name).toBeLessThan(25);
    }
  });

  it("Sikora et al. (2020), carp fed from day 0 over submerged and dripping filters: ammonia to 3 g N/m3, nitrite to 12-21 in week 2 to 3", () => {
    // Load and temperature are not in the abstract: 24 °C, and 1.1 g TAN-N/m³/d, so that ammonia is near 3 on day 3 as
    // published. The inoculum is an assumption too: carp from another system bring more than the usual stray cells,
    // here a hundredth of the mature biomass.
    const litres = 1000;
    const food = (1.1 * (litres / 1000)) / (TAN_PER_PROTEIN * 0.45);
    const run = keepTank({ litres, temperatureC: 24, days: 40, seed: 1e-2, dKh: 15, groups: [group(food, { growthPerDay: 0 })] });
    const [tan, no2] = [seen(run, "tan"), seen(run, "no2")];
    const [tanPeak, no2Peak] = [peak(tan), peak(no2)];
    tell("Sikora", {
      day3: at(tan, 3),
      tanPeak: tanPeak.value,
      tanOn: tanPeak.day,
      no2Peak: no2Peak.value,
      no2On: no2Peak.day,
      later: at(tan, 35),
    });
    const sikora = { source: "Sikora et al. (2020), abstract; load and seed chosen", kind: "measured" } as const;
    compared({ ...sikora, set: "Start-ups, days", what: "carp, nitrite peak", unit: "d", outside: [9, 20], model: no2Peak.day });
    compared({
      ...sikora,
      set: "Start-ups, heights",
      what: "carp, nitrite peak",
      unit: "g N/m3",
      outside: [11.7, 20.9],
      model: no2Peak.value,
    });
    compared({
      ...sikora,
      set: "Start-ups, heights",
      what: "carp, ammonia plateau",
      unit: "g N/m3",
      outside: 3,
      model: tanPeak.value,
    });
    expect(at(tan, 3)).toBeGreaterThan(2);
    expect(at(tan, 3)).toBeLessThan(4);
    // Published: about 3 for ten days, later under 0.25. The model gives a peak of the same height instead of a plateau
    // (disagrees in shape).
    expect(tanPeak.value).toBeLessThan(5);
    expect(tanPeak.day).toBeGreaterThan(3);
    expect(tanPeak.day).toBeLessThan(13);
    const published = csvRecords("startup_landmarks.csv").find(
      (row) => row.case === "sikora2020" && row.event === "nitrite_peak",
    )!;
    expect(no2Peak.value).toBeGreaterThan(Number(published.value_low));
    expect(no2Peak.value).toBeLessThan(Number(published.value_high));
    expect(no2Peak.day).toBeGreaterThan(Number(published.day_low));
    expect(no2Peak.day).toBeLessThan(Number(published.day_high));
    expect(at(tan, 35)).toBeLessThan(0.5);
  });

  it("a seeded reactor is ready in about a week, an unseeded one after more than twenty days (Chemosphere 2022, 135097)", () => {
    const o = { temperatureC: 25, tan: 3 * asN.NH3, days: 50, events: dosing(3, 50) };
    const [seeded, unseeded] = [readyDay(keepTank({ ...o, seed: 0.25, where: "media" })), readyDay(keepTank(o))];
    tell("seeding", { seeded, unseeded });
    const reactors = { set: "Start-ups, days", unit: "d", source: "Chemosphere 2022, 135097", kind: "measured" } as const;
    compared({ ...reactors, what: "seeded reactor ready", outside: 7, model: seeded });
    compared({ ...reactors, what: "unseeded reactor ready (over twenty days)", outside: [20, 60], model: unseeded });
    expect(seeded).toBeGreaterThan(3);
    expect(seeded).toBeLessThan(14);
    expect(unseeded).toBeGreaterThan(20);
  });

  it("a trickling filter started in winter takes about a hundred days (WST 34(1-2):83, 1996; disagrees on the rate reached)", () => {
    const film = { aob: 1e-5, sao: 1e-6, nob: 1e-5, sno: 1e-6, het: 1e-3 };
    const cold = (days: number) => alone({ temperatureC: 8, tanGPerM3: 10, o2GPerM3: 11 }).settled(days, film).tan;
    const full = cold(600);
    const reached = [20, 40, 60, 80, 100, 120, 140].find((day) => cold(day) > 0.9 * full)!;
    tell("winter filter", { reached, full });
    const winter = { source: "WST 34(1-2):83 (1996)", kind: "measured" } as const;
    compared({
      ...winter,
      set: "Start-ups, days",
      what: "trickling filter of winter at full rate",
      unit: "d",
      outside: 100,
      model: reached,
    });
    compared({
      ...winter,
      set: "Films, areal rate",
      what: "trickling filter of sewage in winter",
      unit: "g N/m2/d",
      outside: [0.6, 1.6],
      model: full,
    });
    expect(reached).toBeGreaterThan(50);
    expect(reached).toBeLessThan(150);
    // Published 0.6-1.6 g N/m²/d, for sewage films; the model's full film is that of fish farms, 0.69 at 24 °C and a
    // fifth of it at 8 °C.
    expect(full).toBeGreaterThan(0.1);
    expect(full).toBeLessThan(0.6);
  });

  it("sea water starts much later than fresh (Nijhof & Bovendeur 1990), and clean sea water not at all within hours (Hubot 2021)", () => {
    const film = { aob: 1e-5, sao: 1e-6, nob: 1e-5, sno: 1e-6, het: 1e-3 };
    const daysTo = (rate: (full: number) => number, salinityGPerKg: number): number => {
      const at = (days: number) => alone({ salinityGPerKg, o2GPerM3: 7 }).settled(days, film).tan;
      const wanted = rate(at(600));
      let days = 1;
      while (at(days) < wanted) days++;
      return days;
    };
    const half = (full: number) => 0.5 * full;
    const seaHalf = () => 0.14;
    const figures = {
      fresh: daysTo(half, 0),
      sea: daysTo(half, 35),
      freshSame: daysTo(seaHalf, 0),
      seaSame: daysTo(seaHalf, 35),
    };
    tell("days to half of the full rate, and to 0.14 g N/m2/d", figures);
    // The source says "much longer" without a figure; the expectation was 1.5 times. Disagrees slightly: 1.4 and 1.5 times.
    expect(figures.sea).toBeGreaterThan(1.3 * figures.fresh);
    expect(figures.sea).toBeLessThan(1.5 * figures.fresh);
    expect(figures.seaSame).toBeGreaterThan(1.4 * figures.freshSame);
    // 18 µM of ammonium, eight hours, 16 °C: nitrite rose by less than 0.05 µM.
    const run = keepTank({
      salt: 35,
      ph: 8.1,
      temperatureC: 16,
      tan: 18e-3 * 14.007,
      days: 1,
      seed: 1e-5,
      run: { outputsPerDay: 24 },
    });
    const rise = (at(seen(run, "no2"), 1 / 3) / 14.007) * 1000;
    tell("nitrite after eight hours, µM", { rise });
    expect(rise).toBeLessThan(0.05);
  });

  it("nitrification all but stops below pH 5.6 and runs above 6.8 (two trickling media of fish systems, 0.15-1.8 mg TAN/L)", () => {
    const stock = { aob: 0.05, sao: 0.02, nob: 0.04, sno: 0.01, het: 1 };
    const at = (ph: number) => alone({ ph, tanGPerM3: 0.5 }).flux(stock).tan;
    expect(at(5.6) / at(7.5)).toBeLessThan(0.2);
    expect(at(6.8) / at(7.5)).toBeGreaterThan(0.6);
  });
});
