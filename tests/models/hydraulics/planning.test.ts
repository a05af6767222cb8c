// Fill levels, remedies, sizing rules, fit and load: the results that a builder uses on site.

import { describe, expect, test } from "vitest";
import { evaporationOfRigM3PerS } from "../../../models/hydraulics/laws/evaporation.ts";
import { cutAndRestart, runningState } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { withRunningLevel } from "../../../models/hydraulics/outage/rig-changes.ts";
import { ASK_AN_ENGINEER, fitAndLoad } from "../../../models/hydraulics/planning/cabinet-fit.ts";
import { fillMarks } from "../../../models/hydraulics/planning/fill-levels.ts";
import { remedies } from "../../../models/hydraulics/planning/remedies.ts";
import { sizingChecks } from "../../../models/hydraulics/planning/sizing.ts";
import { slowDrift } from "../../../models/hydraulics/planning/unattended.ts";
import type { Rig } from "../../../models/rig.ts";
import { handFilled75, holiday, rigR, strongPump90, towerOverSump, twoDrains } from "./rigs.ts";

const quick = { keepTrace: false, follow: false };

describe("fill levels", () => {
  test("running at the highest level leaves 25 mm after an outage, 3 mm higher does not; the lowest level keeps the pump submerged", () => {
    const rig = rigR();
    const marks = fillMarks(rig);
    const rim = rig.sump.heightM;
    const peak = (level: number) => cutAndRestart(withRunningLevel(rig, level), quick).cut.highestZ.sump.z;
    expect(rim - peak(marks.maxTrustedM!)).toBeGreaterThanOrEqual(0.0245);
    expect(rim - peak(marks.maxTrustedM! + 0.003)).toBeLessThan(0.025);
    expect(marks.maxUntrustedM!).toBeLessThan(marks.maxTrustedM!);
    const low = cutAndRestart(withRunningLevel(rig, marks.minM! + 0.001), quick);
    expect(low.restart!.lowestZ.sump.z).toBeGreaterThanOrEqual(rig.return.pump.intakeM - 2e-4);
    expect(marks.offM).toBeCloseTo(cutAndRestart(rig, quick).cut.endVolumesM3.sump / 0.27, 6);
  });

  test("a blocked drain: with 3.6 US gal over the intake and 5.6 of headroom the pump runs dry first, with 9 the display floods", () => {
    expect(fillMarks(strongPump90(3.6)).fuses.map(({ outcome }) => outcome)).toEqual(["runs dry"]);
    expect(fillMarks(strongPump90(9)).fuses.map(({ outcome }) => outcome)).toEqual(["spills"]);
  });

  test("a rig whose pump draws air has no fill levels", () => {
    const { minM, maxTrustedM, maxUntrustedM } = fillMarks(strongPump90(3.6));
    expect([minM, maxTrustedM, maxUntrustedM]).toEqual([null, null, null]);
  });
});

describe("remedies", () => {
  test("a rig that holds needs no remedy", () => {
    const roomy: Rig = { ...twoDrains(), displays: twoDrains().displays.map((display) => ({ ...display, heightM: 0.7 })) };
    const wide = { ...roomy, sump: { ...roomy.sump, widthM: 0.6 } };
    const nothing = remedies(withRunningLevel(wide, 0.16));
    expect(nothing.filter((remedy) => !remedy.holds)).toEqual([]);
  });

  test("for a deep outlet each remedy that is said to hold does hold, easiest first", () => {
    const found = remedies({
      ...handFilled75("none"),
      displays: handFilled75("none").displays.map((display) => ({ ...display, heightM: 0.6 })),
    });
    // The list ends at the first sufficient remedy, so only the last one holds.
    expect(found.map(({ holds }) => holds)).toEqual([...found.slice(1).map(() => false), true]);
    for (let n = 1; n < found.length; n++) expect(found[n].ease).toBeGreaterThanOrEqual(found[n - 1].ease);
    for (const remedy of found) expect(remedy.holds).toBe(remedy.verdict.word === "HOLDS");
    expect(found.some((remedy) => remedy.id === "raise nozzle" && remedy.value! < 0.2)).toBe(true);
  });
});

describe("head budget", () => {
  test("the difference between two quarter bends and one return bend is given in litres per hour", () => {
    const rig = rigR();
    const gain = runningState(rig).gainFromReturnBendM3PerS!;
    const bent = { ...rig.return.riser.fittings, bends90: 0, bends180: 1 };
    const other = runningState({ ...rig, return: { ...rig.return, riser: { ...rig.return.riser, fittings: bent } } });
    expect(gain * 3.6e6).toBeGreaterThan(1);
    expect(other.pump.flowM3PerS - runningState(rig).pump.flowM3PerS).toBeCloseTo(gain, 6);
  });
});

describe("sizing and load", () => {
  const cabinet = { lengthM: 0.8, widthM: 0.45, heightM: 0.7, doorWidthM: 0.5, doorHeightM: 0.45 };
  const housed: Rig = { ...rigR(), cabinet, stand: { footprintM2: 0.6, dryMassKg: 60 } };

  test("every rule is marked as common practice", () => {
    const checks = sizingChecks(holiday(0.02));
    expect(checks.length).toBeGreaterThan(4);
    for (const check of checks) {
      expect(check.evidence).toBe("common practice");
      expect(Number.isFinite(check.have) && Number.isFinite(check.want)).toBe(true);
    }
    expect(checks.find((check) => check.id === "reserve")!.want).toBeCloseTo(0.6 * 0.01905, 9);
  });

  test("masses add up, pressure is mass over footprint, and the advice is never an approval", () => {
    const load = fitAndLoad(housed);
    expect(load.masses.reduce((sum, part) => sum + part.kg, 0)).toBeCloseTo(load.wetMassKg, 9);
    expect(load.pressureKPa!).toBeCloseTo((load.wetMassKg * 9.80665) / 0.6 / 1000, 9);
    // 1 kPa = 20.885 lb/ft2 (exact pound and foot).
    expect(load.pressureLbPerFt2! / load.pressureKPa!).toBeCloseTo(20.8854, 3);
    expect(load.advice).toBe(ASK_AN_ENGINEER);
    // About 1.2 kg per litre for a whole system (common practice, no published source).
    const litres = runningState(housed).systemVolumeM3 * 1000;
    expect(load.wetMassKg / litres).toBeGreaterThan(1.05);
    expect(load.wetMassKg / litres).toBeLessThan(1.5);
  });

  test("the sump must pass through the door end first", () => {
    const through = (doorWidthM: number) =>
      fitAndLoad({ ...housed, cabinet: { ...cabinet, doorWidthM } }).fit.find((part) => part.part === "sump through the door")!;
    expect(through(0.5).fits).toBe(true);
    expect(through(0.38).fits).toBe(false);
  });

  test("salt stays behind as water evaporates", () => {
    const marine: Rig = { ...holiday(0), salinityGPerKg: 35 };
    const drift = slowDrift(marine, 2);
    const water = runningState(marine).systemVolumeM3;
    expect(drift.salinityGPerKg.at(-1)!).toBeCloseTo((35 * water) / (water - drift.evaporatedM3.at(-1)!), 2);
    expect(drift.evaporatedM3.at(-1)!).toBeCloseTo(0.012, 6);
  });
});

describe("evaporation of a running rig", () => {
  const perDayL = (rig: Rig): number => evaporationOfRigM3PerS(rig) * 86_400 * 1000;

  test("an open tank of 0.60 m2 at 25 °C in a room of 21 °C and 50 % loses what the pool equation gives by hand", () => {
    const rig = {
      ...rigR(),
      towers: [],
      room: { temperatureC: 21, relativeHumidity: 0.5, altitudeM: 0, co2Share: 7e-4 },
      waterTemperatureC: 25,
    };
    const open = { ...rig, displays: rig.displays.map((d) => ({ ...d, lid: "open" as const })) };
    // Carrier (1918), ASHRAE: (0.089 + 0.0782 v) dp / latent heat; v = 0.1 m/s, dp = 3169 - 0.5 x 2487 Pa, 2442 kJ/kg; the covered sump a seventh of it.
    const perM2 = ((0.0968 * (3169 - 0.5 * 2487)) / 2.442e6) * 86_400;
    const sumpM2 = rig.sump.lengthM * rig.sump.widthM;
    const displayM2 = open.displays.reduce((sum, d) => sum + d.lengthM * d.widthM, 0);
    expect(perDayL(open) / (perM2 * (displayM2 + 0.15 * sumpM2))).toBeGreaterThan(0.97);
    expect(perDayL(open) / (perM2 * (displayM2 + 0.15 * sumpM2))).toBeLessThan(1.03);
  });

  test("a tower adds at most what its air can carry when it leaves saturated, and some", () => {
    const rig = towerOverSump();
    const tower = perDayL(rig) - perDayL({ ...rig, towers: [] });
    expect(tower).toBeGreaterThan(0.1);
    // By hand: no more than a draught of 0.1 m/s through the open plan would carry, 11 g of water in a kilogram of dry air.
    const plan = rig.towers.reduce((sum, t) => sum + t.lengthM * t.widthM, 0);
    expect(tower).toBeLessThan(plan * 0.1 * 1.2 * 0.011 * 86_400);
  });
});
