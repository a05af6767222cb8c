import { describe, expect, it } from "vitest";
import { BATTERY_AIR_M3_PER_H, batteryAirPerDay, pouringShare } from "../../../models/gas/emergency-air.ts";
import { type Case, restingOxygenGPerDay, useOverResting } from "../../../models/life/respiration.ts";
import { parameterValues } from "../../../models/nitrogen/kinetics/parameters.ts";
import { NitrogenSystem } from "../../../models/nitrogen/reactor/system.ts";
import { type PlannedModel, runSimulation } from "../../../models/nitrogen/simulation/simulation.ts";
import { type Cut, HORIZON_H } from "../../../models/outage/cut.ts";
import { firstBelowH, type OutageTrial, runTrial, trialStart } from "../../../models/outage/outage-trial.ts";
import { displayOxygen, oxygenClocks, oxygenLimits } from "../../../models/outage/oxygen-clock.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { group, tank } from "../nitrogen/cases.ts";
import { AT_NIGHT, JUST_FED, outageOf, plainCut, powerCut, runTrials, settled, tankWithFish } from "./rest.ts";

/** Hours until a level is reached in the display; null when beyond the horizon. */
function hoursTo(tried: OutageTrial, level: number, which: Case = "likely"): number | null {
  return firstBelowH(tried[which], displayOxygen(tried[which], tried.aquarium.displayCells), level);
}
const ask = (aquarium: PlannedModel, cut: Cut = plainCut): OutageTrial => runTrials(aquarium, cut).tried;
const lowest = (tried: OutageTrial): number => Math.min(...tried.likely.oxygen.map((o2) => o2[0]));

/** Time in which oxygen falls from one level to another in water with animals only, by the equations of the run [h]. */
function hoursDown(useGPerM3Day: number, from: number, to: number, surfacePerDay = 0, saturation = 8.2): number {
  const system = new NitrogenSystem(
    { cells: [{ id: "water", name: "water" }], films: [], ways: [], gasCells: [], guts: [] },
    parameterValues(),
  );
  const plain = system.coefficients;
  const air = { respirationGPerM3Day: useGPerM3Day, o2TransferPerDay: surfacePerDay, o2SaturationGPerM3: saturation };
  system.setCoefficients({ ...plain, cells: [{ ...plain.cells[0], ...air }] });
  const y = new Float64Array(system.size);
  y[system.cellIndex(0, "alk")] = 2;
  y[system.cellIndex(0, "dic")] = 2.1;
  const i = system.cellIndex(0, "o2");
  y[i] = from;
  const solver = new StiffSolver(system, { tolerances: { relative: 1e-6, absolute: 1e-8 } });
  const step = 0.02;
  for (let h = step; h < 200; h += step) {
    solver.advance((h - step) / 24, h / 24, y);
    if (y[i] <= to) return h;
  }
  return Number.POSITIVE_INFINITY;
}

describe("oxygen during an outage", () => {
  it("0.5 kg in 300 L at 25 °C and 205 mg/kg/h: 0.34 mg/L an hour, 8 to 3 mg/L in about 15 h without a surface (derived from Clarke & Johnston 1999)", () => {
    // Ten fish of 50 g each.
    const perDay = (10 * restingOxygenGPerDay(50, 25)) / 0.3;
    expect(perDay / 24).toBeCloseTo(0.34, 2);
    const hours = hoursDown(perDay, 8, 3);
    // Animals take up less at low oxygen: half of their demand at 0.5 mg/L.
    expect(hours).toBeGreaterThan(14);
    expect(hours).toBeLessThan(16.5);
  });

  it("the still surface supplies about 60 % of that demand (0.5 m/d x 5 mg/L x 0.6 m2 = 1.5 g/d, derived)", () => {
    const demand = 10 * restingOxygenGPerDay(50, 25);
    expect((0.5 * 5 * 0.6) / demand).toBeCloseTo(0.6, 1);
    expect(hoursDown(demand / 0.3, 8, 3, 0.5 * (0.6 / 0.3))).toBeGreaterThan(1.5 * hoursDown(demand / 0.3, 8, 3));
  });

  it("heavily loaded fish culture, 60 kg/m3 at 300 mg/kg/h: 5 mg/L down to 1 in 14 min or a little more (Eurofish guide figures, derived)", () => {
    const minutes = 60 * hoursDown(60 * 0.3 * 24, 5, 1);
    expect(minutes).toBeGreaterThan(13);
    expect(minutes).toBeLessThan(18);
  });

  it("CO-1, air: 4 kg in 400 L at 27 °C, just fed: in danger within 1 to 2 h without air; battery air is enough (fails if there is no danger)", () => {
    // The case does not give the size of the fish: ten of 400 g each, fed 1 % of their mass per day.
    const aquarium = tankWithFish(400, 4, 40, 400, { temperatureC: 27, mediaLitres: 120, days: JUST_FED });
    const { rest, tried } = runTrials(aquarium, plainCut);
    const { redGPerM3 } = oxygenLimits("warm-water fish", 0);
    const likely = hoursTo(tried, redGPerM3);
    expect(likely).toBeGreaterThan(1);
    expect(likely).toBeLessThan(2);
    const [clock] = oxygenClocks(tried, plainCut, aquarium.management.groups);
    expect(clock.redH?.[0]).toBeLessThan(likely ?? 0);
    expect(clock.redH?.[1]).toBeGreaterThan(likely ?? 0);
    expect(rest.rig.displays).toHaveLength(1);
    expect(lowest(ask(aquarium, { ...plainCut, batteryAir: true, batteryAirM3PerH: 1.2 }))).toBeGreaterThan(redGPerM3);
    // Practice uses 300 mg/kg/h (common practice, no published source); single species differ by a factor of 2.
    const perKgHour = useOverResting("active", "likely") * restingOxygenGPerDay(400, 27) * 2.5 * (1000 / 24);
    expect(perKgHour).toBeGreaterThan(150);
    expect(perKgHour).toBeLessThan(600);
  });

  it("CO-2, air: 0.6 kg in 400 L at 24 °C: no danger for a day and a half with occasional pouring", () => {
    const aquarium = tankWithFish(400, 0.6, 8, 60, { temperatureC: 24, days: AT_NIGHT });
    const poured = ask(aquarium, { ...plainCut, stirEveryHours: 2 });
    expect(hoursTo(poured, 3)).toBeNull();
    expect(lowest(poured)).toBeGreaterThan(lowest(ask(aquarium)));
  });

  it("the order of practice: a light stock survives longest, a heavy one for hours only (F: heavy in 1 h, average a few hours, light a day or more)", () => {
    const hours = (kilograms: number) => hoursTo(ask(tankWithFish(300, kilograms, 5, 50, { days: JUST_FED })), 3) ?? HORIZON_H;
    const [light, average, heavy] = [hours(0.1), hours(0.6), hours(4)];
    expect(light).toBeGreaterThan(24);
    expect(average).toBeGreaterThan(2);
    expect(average).toBeLessThan(24);
    expect(heavy).toBeLessThan(1.5);
  });

  it("an empty tank has no clock; with one small fish neither limit is reached", () => {
    expect(oxygenClocks(ask(tank({ litres: 300, seed: 1, days: 1 })), plainCut, [])).toEqual([]);
    const small = tank({ litres: 300, seed: 1, days: 1, groups: [group(0.05, { count: 1, massG: 3 })] });
    const [clock] = oxygenClocks(ask(small), plainCut, small.management.groups);
    expect(clock.amberH).toBeNull();
    expect(clock.redH).toBeNull();
  });

  it("fish use more oxygen after a meal than at night, so the limits are reached sooner in the evening; high uptake reaches them before likely and low uptake", () => {
    const at = (days: number) => ask(tankWithFish(300, 1, 10, 50, { days }));
    const [evening, night] = [at(JUST_FED), at(AT_NIGHT)];
    const fall = ({ likely }: OutageTrial) => likely.oxygen[0][0] - likely.oxygen[4][0];
    expect(fall(evening)).toBeGreaterThan(1.1 * fall(night));
    const [early, likely, late] = (["high", "likely", "low"] as const).map((which) => hoursTo(night, 5, which) ?? HORIZON_H);
    expect(early).toBeLessThan(likely);
    expect(likely).toBeLessThan(late);
  });

  it("the clock of a planned outage agrees with the run itself", () => {
    const aquarium = tankWithFish(300, 1, 10, 50, { days: 3, events: [powerCut(2.8, { hours: 4 })] });
    const options = outageOf(aquarium);
    const run = runSimulation(aquarium, { outputsPerDay: 4, relative: 1e-3, begin: settled(aquarium), ...options });
    const tried = runTrial(aquarium, trialStart(run), { ...plainCut, hours: 4 }, options);
    expect(tried.from.day).toBe(2.8);
    const [planned] = run.cuts;
    for (let i = 0; i < planned.inCut - 1; i++) {
      expect(tried.likely.hours[i]).toBeCloseTo(planned.hours[i], 9);
      expect(tried.likely.oxygen[i][0]).toBeCloseTo(planned.oxygen[i][0], 1);
    }
    // The clock's likely time to 5 mg/L agrees with that of the run within a few minutes.
    const own = firstBelowH(planned, displayOxygen(planned, [0]), 5) ?? Number.NaN;
    expect(Math.abs(own - (hoursTo(tried, 5) ?? Number.NaN))).toBeLessThan(0.1);
  });

  it("animals are not fed during an outage unless the scenario says so, with meals and with even feeding", () => {
    const fed = (cut: Partial<Cut>, evenFeeding: boolean) => {
      const aquarium = tankWithFish(200, 0.3, 3, 20, { days: 4, events: [powerCut(1, { hours: 24, ...cut })] });
      const run = runSimulation(aquarium, {
        outputsPerDay: 4,
        relative: 1e-3,
        begin: settled(aquarium),
        ...outageOf(aquarium),
        evenFeeding,
      });
      return run.ledger.in.get("food") ?? 0;
    };
    for (const evenly of [false, true]) {
      expect(fed({}, evenly)).toBeCloseTo(0.75 * fed({ fedMeanwhile: true }, evenly), 9);
      expect(fed({ fedMeanwhile: true }, evenly)).toBeCloseTo(4 * 3 * 0.45 * 0.16, 9);
    }
  });

  it("the limits are the published ones (US EPA 1986 and 2000)", () => {
    expect(oxygenLimits("warm-water fish", 0)).toMatchObject({ amberGPerM3: 5, redGPerM3: 3 });
    expect(oxygenLimits("cold-water fish", 0)).toMatchObject({ amberGPerM3: 6, redGPerM3: 4 });
    expect(oxygenLimits("marine fish", 35)).toMatchObject({ amberGPerM3: 4.8, redGPerM3: 2.3 });
    expect(oxygenLimits("invertebrate", 0)).toMatchObject({ amberGPerM3: 5, redGPerM3: 4 });
    // Vaquer-Sunyer & Duarte (2008): mean lethal concentration of crustaceans 2.5 mg/L.
    expect(oxygenLimits("invertebrate", 35).redGPerM3).toBe(2.5);
  });

  it("the range of the animals' uptake contains the likely value", () => {
    for (const how of ["active", "quiet"] as const) {
      expect(useOverResting(how, "low")).toBeLessThan(useOverResting(how, "likely"));
      expect(useOverResting(how, "high")).toBeGreaterThan(useOverResting(how, "likely"));
    }
    expect(useOverResting("active", "likely")).toBeGreaterThan(useOverResting("quiet", "likely"));
  });

  it("battery air of a small pump transfers what 2.5 % a metre of 85 L/h bring by hand; one round of pouring removes a quarter to a half of the deficit (order of magnitude, Gameson 1957)", () => {
    // 85 L/h of 279 g/m3 give 2.5 % a metre over 0.4 m: 5.7 g a day at zero oxygen, so 5.7 / (9.09 x 0.3) = 2.1 1/d at 20 °C, 2.35 at 25 °C.
    const small = batteryAirPerDay(BATTERY_AIR_M3_PER_H, 0.3, 0.6, 25, 0);
    const surfaceOnly = batteryAirPerDay(0, 0.3, 0.6, 25, 0);
    expect((small - surfaceOnly) / 2.35).toBeGreaterThan(0.95);
    expect((small - surfaceOnly) / 2.35).toBeLessThan(1.05);
    // Twice the air, twice the bubbles.
    expect(batteryAirPerDay(2 * BATTERY_AIR_M3_PER_H, 0.3, 0.6, 25, 0) - surfaceOnly).toBeCloseTo(2 * (small - surfaceOnly), 10);
    expect(pouringShare(25)).toBeGreaterThan(0.25);
    expect(pouringShare(25)).toBeLessThan(0.5);
  });
});
