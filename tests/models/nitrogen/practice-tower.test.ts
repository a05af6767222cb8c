// The tower, stocking, and common miscalculations, compared with the expectations of experienced keepers (common
// practice, no published source): NI-15 to NI-22.
import { describe, expect, it } from "vitest";
import { Trial } from "../../../models/nitrogen/analysis/capacity.ts";
import type { ManagementEvent } from "../../../models/nitrogen/events/all.ts";
import { type Run, runSimulation, sampledState } from "../../../models/nitrogen/simulation/simulation.ts";
import { inoculatedStock, matureStock } from "../../../models/nitrogen/tank/biofilm-stock.ts";
import { coefficients } from "../../../models/nitrogen/tank/coefficients.ts";
import { ammoniumPka, unionisedFraction } from "../../../models/water/ammonia.ts";
import { massPerN } from "../../../scenarios/text/nitrogen-basis.ts";
import { asN, at, group, keepTank, morning, peak, seen, type TankOptions, tank, tap, tell, waterChanges } from "./cases.ts";

const settled = (o: TankOptions, ...events: ManagementEvent[]): Run => {
  const days = o.days ?? 35;
  const run = keepTank({ days, seed: 1, ...o, events: [...waterChanges(o, days), ...events] });
  expect(run.outcome.status).toBe("finished");
  return run;
};
const ammonia = (run: Run) => morning(seen(run, "tan"), 1 / asN.NH3);
const nitrite = (run: Run) => morning(seen(run, "no2"), 1 / asN.NO2);
const between = (readings: { day: number; value: number }[], from: number, to: number) => {
  const values = readings.filter((r) => r.day >= from && r.day < to).map((r) => r.value);
  return values.reduce((a, b) => a + b, 0) / values.length;
};
const wetting = (day: number, wettedShare: number): ManagementEvent => ({
  day,
  label: "wetting",
  kind: "wetting",
  tower: null,
  wettedShare,
});

describe("the tower", () => {
  const media: TankOptions = { litres: 500, mediaLitres: 45, groups: [group(12)] };

  it("NI-15 one-sided drip: a quarter wetted reads about 0.25 without an apparent cause; after levelling, the film spreads in one to two weeks (disagrees in part: half of the effect is immediate)", () => {
    const level = 10;
    const bad = settled({ ...media, wetted: 0.25 }, wetting(level, 0.8));
    const good = settled({ ...media, wetted: 0.8 });
    const before = between(ammonia(bad), 5, level);
    const goodReads = between(ammonia(good), 5, 15);
    const nextDay = ammonia(bad).find((r) => r.day > level + 0.5)!.value;
    const afterTwoWeeks = between(ammonia(bad), level + 12, level + 16);
    const afterFood = peak(seen(bad, "tan"), 5, level).value / asN.NH3;
    tell("NI-15", { before, nitriteBefore: between(nitrite(bad), 5, level), afterFood, goodReads, nextDay, afterTwoWeeks });
    expect(before).toBeGreaterThan(0.2);
    expect(before).toBeLessThan(0.5);
    expect(afterFood).toBeGreaterThan(1.3 * before);
    expect(goodReads).toBeLessThan(0.125);
    // No instant fix, since the newly wetted surface is bare: practice has next to nothing of the gain on the first day.
    // Disagrees in part: half of it is there at once, because the model spreads the film it has over all that is wetted.
    expect(nextDay).toBeGreaterThan(0.45 * before);
    expect(nextDay).toBeLessThan(0.6 * before);
    expect(nextDay).toBeGreaterThan(1.2 * afterTwoWeeks);
    expect(afterTwoWeeks).toBeLessThan(0.18);
  });

  it("NI-16 floss clogs over three weeks: ammonia rises slowly, the return flow does not change, new floss helps the same day (disagrees on the level)", () => {
    const blind = (day: number, blindedShare: number): ManagementEvent => ({
      day,
      label: "floss",
      kind: "pad clogs",
      blindedShare,
    });
    const steps = (last: number) => [1, 2, 3, 4, 5, 6, 7].map((k) => blind(3 * k, (last * k) / 7));
    const change: ManagementEvent = { day: 25.4, label: "new floss", kind: "change pad" };
    // As given, with 70 % of the flow bypassing the media, ammonia rises but stays below a kit's step, because 30 % of
    // five turnovers an hour still carries many times the uptake of the media. It is readable only when almost nothing
    // passes (97 % bypass).
    const given = settled({ ...media, wetted: 0.8 }, ...steps(0.7), change);
    const worse = settled({ ...media, wetted: 0.8 }, ...steps(0.97), change);
    const start = between(ammonia(given), 1, 4);
    const late = between(ammonia(given), 22, 25);
    const next = ammonia(given).find((r) => r.day > 26)!.value;
    const worseLate = between(ammonia(worse), 22, 25);
    const worseNext = ammonia(worse).find((r) => r.day > 26)!.value;
    tell("NI-16", { start, late, next, worseLate, worseNext });
    expect(late).toBeGreaterThan(1.3 * start);
    expect(next).toBeLessThan(late);
    expect(worseLate).toBeGreaterThan(0.25);
    expect(worseNext - start).toBeLessThan(0.5 * (worseLate - start));
    const { exchange, layout } = given.aquarium;
    const { flows } = coefficients(given.aquarium, given.operating.at(-1)!);
    const returned = exchange.flows.find((flow) => flow.to === 0)!.m3PerDay;
    expect(flows[layout.wiring.ways.findIndex((way) => way.to === 0)]).toBeCloseTo(returned, 9);
  });

  it("NI-17 nitrate is a balance of food, not of balls: they come out and nothing changes where live surfaces are ample", () => {
    const o: TankOptions = { litres: 400, groups: [group(10)], no3: 100 * asN.NO3, days: 80 };
    const out: ManagementEvent[] = [
      { day: 42, label: "balls out", kind: "replace media", where: "tower media", share: 1 },
      { ...wetting(42, 1e-3) },
    ];
    const clean = (days: number): ManagementEvent[] =>
      Array.from({ length: Math.floor(days / 7) }, (_, i) => i * 7 + 6.4).flatMap((day): ManagementEvent[] => [
        { day, label: "pad", kind: "change pad" },
        { day, label: "siphon", kind: "siphon sediment" },
      ]);
    const live = settled({ ...o, otherSurfaceM2: 15 }, ...clean(80), ...out);
    const dirty = settled({ ...o, otherSurfaceM2: 15, days: 42 });
    const bare = settled({ ...o, otherSurfaceM2: 0.6 }, ...out);
    const nitrate = (run: Run, day: number) => at(seen(run, "no3"), day) / asN.NO3;
    // Sawtooth: a change on days 7, 14, ... at noon; the rise is over the six days between.
    const perDay = (run: Run, week: number) => (nitrate(run, 7 * week + 7.4) - nitrate(run, 7 * week + 0.6)) / 6.8;
    const figures = {
      withBalls: perDay(live, 4),
      without: perDay(live, 10),
      dirty: perDay(dirty, 4),
      beforeChange: nitrate(live, 42.4),
      liveAmmonia: peak(ammonia(live), 43).value,
      bareAmmonia: peak(ammonia(bare), 43, 47).value,
    };
    tell("NI-17", figures);
    // Excreted ammonia alone makes 10 g x 0.45 x 0.092 = 0.414 g N a day, 4.6 mg/L of nitrate in 400 L; urea and what is
    // left of faeces add to it.
    expect(figures.withBalls).toBeGreaterThan(0.9 * 4.58);
    expect(figures.withBalls).toBeLessThan(1.3 * 4.58);
    expect(figures.dirty).toBeGreaterThan(figures.withBalls);
    expect(figures.beforeChange).toBeGreaterThan(110);
    expect(figures.beforeChange).toBeLessThan(165);
    expect(Math.abs(figures.without / figures.withBalls - 1)).toBeLessThan(0.1);
    expect(figures.liveAmmonia).toBeLessThan(0.35);
    expect(figures.bareAmmonia).toBeGreaterThan(1);
  });

  it("NI-21 sealed cabinet in a heat wave: lower pH, less oxygen, nitrite first; a vent helps within a day", () => {
    const heavy: TankOptions = {
      litres: 400,
      temperatureC: 30,
      mediaLitres: 60,
      groups: [group(30, { count: 60, massG: 50 })],
      days: 22,
    };
    const lid = (day: number, state: "sealed" | "vented"): ManagementEvent => ({ day, label: state, kind: "lid", state });
    const run = settled(heavy, lid(2, "sealed"), lid(7, "vented"));
    const open = settled(heavy);
    const ph = (result: Run, day: number) => result.ph[result.days.findIndex((d) => d >= day)][0];
    const o2 = (result: Run, day: number) => at(seen(result, "o2"), day);
    const figures = {
      phOpen: ph(open, 6.3),
      phSealed: ph(run, 6.3),
      phVented: ph(run, 8.3),
      o2Open: o2(open, 6.3),
      o2Sealed: o2(run, 6.3),
      o2Vented: o2(run, 8.3),
      nitriteRise: (at(seen(run, "no2"), 6.3) - at(seen(open, "no2"), 6.3)) / at(seen(open, "no2"), 6.3),
      ammoniaRise: (at(seen(run, "tan"), 6.3) - at(seen(open, "tan"), 6.3)) / at(seen(open, "tan"), 6.3),
    };
    tell("NI-21", figures);
    expect(figures.phSealed).toBeLessThan(figures.phOpen - 0.2);
    // The seam of a sealed lid still admits more oxygen than is used; the carbon dioxide cannot escape.
    expect(figures.o2Sealed).toBeLessThan(figures.o2Open - 0.3);
    expect(figures.nitriteRise).toBeGreaterThan(figures.ammoniaRise);
    expect(figures.phVented).toBeGreaterThan(figures.phSealed + 0.5 * (figures.phOpen - figures.phSealed));
    expect(figures.o2Vented).toBeGreaterThan(figures.o2Sealed + 0.5 * (figures.o2Open - figures.o2Sealed));
  });
});

describe("common miscalculations", () => {
  it("NI-18 acid old tank: replacing half the water halves the ammonia and multiplies its toxic part by thirty", () => {
    const share = (ph: number) => unionisedFraction(ammoniumPka(25, 0), ph);
    expect(5 * share(5.8)).toBeCloseTo(0.002, 3);
    expect(2.5 * share(7.6)).toBeGreaterThan(0.05);
    expect((2.5 * share(7.6)) / (5 * share(5.8))).toBeGreaterThan(25);
    // The same in the model: acid water mixed with hard tap water.
    const old: TankOptions = { litres: 200, ph: 5.8, dKh: 0.05, tan: 5, no3: 150 * asN.NO3, days: 3, seed: 1e-4 };
    const change = (part: number): ManagementEvent => ({
      day: 1,
      label: "change",
      kind: "water change",
      share: part,
      tap: tap({ ph: 7.6, dKh: 8, temperatureC: 25 }),
    });
    const unionised = (part: number, day: number): number => {
      const run = keepTank({ ...old, events: [change(part)] });
      const i = run.days.findIndex((d) => d >= day);
      return run.states[i][0] * share(run.ph[i][0]);
    };
    const [before, after, small] = [unionised(0.5, 0.9), unionised(0.5, 1.05), unionised(0.05, 1.05)];
    tell("NI-18", { before, after, ratio: after / before, small });
    expect(after / before).toBeGreaterThan(20);
    expect(small).toBeLessThan(0.5 * after);
  });

  it("NI-19 one water on two kits: the same amounts on both scales", () => {
    const truth = { tan: 1, no2: 0.5, no3: 10 };
    expect([truth.tan * massPerN("TAN"), truth.no2 * massPerN("NO2-N"), truth.no3 * massPerN("NO3-N")]).toEqual([1, 0.5, 10]);
    expect(truth.tan * massPerN("NH3")).toBeCloseTo(1.22, 2);
    expect(truth.tan * massPerN("NH4")).toBeCloseTo(1.29, 2);
    expect(truth.no2 * massPerN("NO2")).toBeCloseTo(1.64, 2);
    expect(truth.no3 * massPerN("NO3")).toBeCloseTo(44.3, 1);
    // Converted to nitrogen, both kits give the same verdict.
    for (const basis of ["NH3", "NH4", "NH3-N"] as const)
      expect((truth.tan * massPerN(basis)) / massPerN(basis)).toBeCloseTo(1, 12);
  });

  it("NI-20 from dose to fish: 2 mg/L as NH3 cleared per day in 180 L equals 7.7 g of food; two grams are planned, so the capacity is nearly four times as large", () => {
    const perDay = 2 * asN.NH3 * 0.18;
    const food = perDay / (0.092 * 0.42);
    expect(food).toBeCloseTo(7.7, 1);
    expect(food / 2).toBeGreaterThan(3.7);
    const aquarium = tank({ litres: 180, days: 1 });
    const run = runSimulation(aquarium, {
      outputsPerDay: 4,
      relative: 1e-4,
      begin: inoculatedStock(aquarium, matureStock(aquarium), 1, "everywhere"),
      stop: null,
    });
    const trial = new Trial(aquarium);
    const clears = trial.largestDose(sampledState(run, 0), 1, 8) / asN.NH3;
    const carries = trial.foodCapacityGPerDay(sampledState(run, 0), 0.42);
    tell("NI-20", { food, clears, carries });
    expect(clears).toBeGreaterThan(2);
    // Daily food includes waste and must keep concentrations low at all times, so the capacity is below the equivalent
    // of the test dose.
    expect(carries).toBeGreaterThan(2);
    expect(carries).toBeLessThan(1.5 * food);
  });
});

describe("stocking", () => {
  it("NI-22 the earlier feeding determines the result, not the number of fish", () => {
    const lot = (count: number, arrivesDay: number, id: string) => group(0.15 * count, { id, count, arrivesDay, massG: 2 });
    const few = [lot(5, 1, "few")];
    const all = [lot(20, 1, "all")];
    const lots = [0, 1, 2, 3].map((k) => lot(5, 1 + 14 * k, `lot ${k + 1}`));
    const worst = (donorFood: number | null, groups: typeof few): number => {
      const donor = tank({ litres: 200, groups: donorFood ? [group(donorFood)] : [] });
      const biofilm = matureStock(donor);
      const o: TankOptions = { litres: 200, groups, days: 60 };
      const aquarium = tank({ ...o, events: waterChanges(o, 60) });
      const run = runSimulation(aquarium, { outputsPerDay: 12, relative: 1e-4, begin: biofilm, stop: null });
      expect(run.outcome.status).toBe("finished");
      return Math.max(peak(ammonia(run)).value, peak(nitrite(run)).value);
    };
    const figures = {
      few: worst(null, few),
      all: worst(null, all),
      lots: worst(null, lots),
      hungryAll: worst(0.5, all),
      hungryLots: worst(0.5, lots),
    };
    tell("NI-22", figures);
    // At most a faint tint, closer to 0.25 on the chart than to 0.5.
    expect(figures.few).toBeLessThan(0.375);
    expect(figures.all).toBeLessThan(0.375);
    expect(figures.lots).toBeLessThan(0.375);
    expect(figures.hungryAll).toBeGreaterThan(0.5);
    expect(figures.hungryAll).toBeGreaterThan(1.8 * figures.hungryLots);
  });
});
