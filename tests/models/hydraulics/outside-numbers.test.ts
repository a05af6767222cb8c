// Constants that no other test would miss, each against a number from outside.
import { describe, expect, it } from "vitest";
import { airCarriedM3PerS, clearingVelocityMPerS } from "../../../models/hydraulics/laws/outlet.ts";
import { weirHeadUncertaintyM } from "../../../models/hydraulics/laws/weir.ts";
import { buildNetwork } from "../../../models/hydraulics/network/from-rig.ts";
import { chamberCurve } from "../../../models/hydraulics/network/sump-parts.ts";
import { valveLossesFor } from "../../../models/hydraulics/outage/start.ts";
import { slowDrift } from "../../../models/hydraulics/planning/unattended.ts";
import { restingOxygenGPerDay, useOverResting } from "../../../models/life/respiration.ts";
import { coefficients } from "../../../models/nitrogen/tank/coefficients.ts";
import { initialOperatingState } from "../../../models/nitrogen/tank/operating-state.ts";
import { drainingFilmShare, dynamicHoldup } from "../../../models/tower/holdup.ts";
import { liquidAt } from "../../../models/water/liquid.ts";
import { tank } from "../nitrogen/cases.ts";
import { holiday, rigR, towerOverSump } from "./rigs.ts";

describe("numbers from outside", () => {
  it("air that a pipe of 25 mm at 1.46 m/s carries down: 1.7 % of the flow (Kalinske & Robertson 1943, by hand)", () => {
    // Fr = 1.46 / sqrt(9.81 x 0.025) = 2.948; 0.0066 x 1.948^1.4 = 0.0168.
    const flow = 1.46 * (Math.PI / 4) * 0.025 ** 2;
    expect(airCarriedM3PerS(flow, 0.025) / flow / 0.0168).toBeGreaterThan(0.98);
    expect(airCarriedM3PerS(flow, 0.025) / flow / 0.0168).toBeLessThan(1.02);
  });

  it("a vertical leg of 25 mm clears its air from 0.53 m/s on (Wisner et al. 1975, by hand)", () => {
    expect(clearingVelocityMPerS(0.025)).toBeCloseTo(Math.sqrt(9.81 * 0.025) * 1.075, 3);
    expect(clearingVelocityMPerS(0.025)).toBeGreaterThan(0.52);
    expect(clearingVelocityMPerS(0.025)).toBeLessThan(0.54);
  });

  it("the return's crown stands 30 mm over the rim, as builders bend it (common practice, no published source)", () => {
    const rig = rigR();
    const network = buildNetwork(rig, valveLossesFor(rig));
    const [display] = rig.displays;
    const rim = display.bottomZ + display.heightM;
    for (const leg of network.returnLine!.legs) {
      expect(leg.crownZ - rim).toBeGreaterThan(0.02);
      expect(leg.crownZ - rim).toBeLessThan(0.05);
    }
  });

  it("heads of 11 mm over a weir are known to a sixth: a coefficient wrong by a quarter, to the power of two thirds", () => {
    // Q = C h^1.5, so C wrong by 25 % is 1.25^(2/3) - 1 = 16 % in the head.
    expect(weirHeadUncertaintyM(0.011) / 0.011 / (1.25 ** (2 / 3) - 1)).toBeGreaterThan(0.9);
    expect(weirHeadUncertaintyM(0.011) / 0.011 / (1.25 ** (2 / 3) - 1)).toBeLessThan(1.1);
    expect(weirHeadUncertaintyM(0.04)).toBe(0);
  });

  it("media over the sump push its water up by their solid: 8 % of the tower's plan over the sump's", () => {
    const rig = towerOverSump();
    const [tower] = rig.towers;
    const chamber = rig.sump.chambers.find(({ id }) => id === tower.drainsTo)!;
    const plan = chamber.lengthM * rig.sump.widthM;
    const [from, to] = [tower.grateZ, tower.grateZ + 0.1];
    const water = (z: number, withTower: boolean) => {
      const curve = chamberCurve(withTower ? rig : { ...rig, towers: [] }, chamber);
      return volumeAt(curve, z);
    };
    const solid = water(to, false) - water(from, false) - (water(to, true) - water(from, true));
    // By hand: the solid share of 100 mm of media.
    expect(solid).toBeCloseTo(0.1 * tower.lengthM * tower.widthM * (1 - tower.media.voidShare), 9);
    expect(solid).toBeLessThan(0.1 * plan);
  });

  it("a top-off of salt water makes the tank saltier by what it brings, one of fresh water does not (balance of salt, by hand)", () => {
    const rig = { ...holiday(0.02), salinityGPerKg: 35 };
    const salted = { ...rig, topOff: { ...rig.topOff!, salinityGPerKg: 35 } };
    const [fresh, sea] = [slowDrift(rig, 3), slowDrift(salted, 3)];
    const given = sea.reservoirM3[0] - sea.reservoirM3.at(-1)!;
    expect(given).toBeGreaterThan(0.005);
    // 400 L gain 35 g for each kilogram of salt water put in.
    expect(sea.salinityGPerKg.at(-1)! - fresh.salinityGPerKg.at(-1)!).toBeGreaterThan((0.9 * 35 * given) / 0.42);
    expect(sea.salinityGPerKg.at(-1)! - fresh.salinityGPerKg.at(-1)!).toBeLessThan((1.1 * 35 * given) / 0.36);
  });

  it("fish of 0.4 kg in a dark tank of 322 L at 25 °C use half as much again as at rest: 0.45 mg/L in the first hour (by hand)", () => {
    // 40 fish of 10 g: Clarke & Johnston (1999), 205 mg/kg/h at 50 g, times (10/50)^-0.2 = 1.38: 283 mg/kg/h at rest.
    const rest = (40 * restingOxygenGPerDay(10, 25) * 1000) / 24 / 322;
    expect(rest).toBeCloseTo(0.35, 2);
    expect(rest * useOverResting("quiet", "likely")).toBeGreaterThan(0.48);
    expect(rest * useOverResting("quiet", "likely")).toBeLessThan(0.57);
  });

  it("flowing hold-up of a bed of 1100 m2/m3 at 1.254 m/h is 0.080 (smooth films, (12 mu u a2 / (rho g))^(1/3), another program)", () => {
    expect(dynamicHoldup(liquidAt(21, 0), 1.254 / 3600, 1100)).toBeCloseTo(0.08, 3);
  });

  it("a settling chamber catches 60 % at a load of 60 m/d, as basins of fish farms do (Timmons & Ebeling, from memory)", () => {
    const model = tank({});
    const { sump } = model.rig;
    const settling = {
      ...model,
      rig: { ...model.rig, sump: { ...sump, chambers: [{ ...sump.chambers[0], role: "settling" as const }] } },
    };
    const { settlingPerDay, volumeM3 } = coefficients(settling, initialOperatingState(settling)).cells[2];
    const flow = 60 * sump.lengthM * sump.widthM;
    expect((settlingPerDay * volumeM3) / (settlingPerDay * volumeM3 + flow)).toBeCloseTo(0.6, 1);
  });

  it("a film of 0.2 mm on 0.3 m of media has drained to a sixth after a minute (Jeffreys 1930, by hand)", () => {
    // h = sqrt(mu z / (rho g t)) at the foot, two thirds of it on average.
    const water = liquidAt(20, 0);
    const mean = (2 / 3) * Math.sqrt((water.viscosityPaS * 0.3) / (water.densityKgPerM3 * 9.80665 * 60));
    expect(drainingFilmShare(water, 2e-4, 0.3, 60)).toBeCloseTo(mean / 2e-4, 3);
  });
});

import type { LevelCurve } from "../../../models/hydraulics/laws/level-curve.ts";
import { volumeBelowM3 } from "../../../models/hydraulics/laws/level-curve.ts";

const volumeAt = (curve: LevelCurve, z: number): number => volumeBelowM3(curve, z);
