// Water changes by hose, and hoses that are forgotten: times and volumes by hand.

import { describe, expect, test } from "vitest";
import { type HosePlan, simulateWaterChange } from "../../../models/hydraulics/outage/water-change.ts";
import { hoseFindings } from "../../../scenarios/findings/hoses.ts";
import { formatMessage } from "../../../scenarios/text/message.ts";
import { coupledText, rigText } from "./loaded.ts";

const TEXT = rigText("forgotten-hose.yaml");
const { simulator, resolved } = coupledText(TEXT);
const PLAN = resolved.hoses!;
const TANK_M2 = 1.2 * 0.5;
const SUMP_M2 = 0.8 * 0.4;
/** Pump and heater in the sump, when the file says nothing of equipment. */
const EQUIPMENT_M2 = 0.012;

describe("a water change with the return off", () => {
  const story = simulateWaterChange(simulator, PLAN, "none")!;

  test("a fifth of the water goes out and comes back, and every level is where it was", () => {
    expect(story.takenM3 / (0.2 * resolved.waterM3)).toBeCloseTo(1, 4);
    expect(story.filledM3).toBeCloseTo(story.takenM3, 6);
    expect(story.verdict.floorM3).toBe(0);
    expect(story.transient.waterDriftM3).toBeLessThan(1e-8);
    for (const id of ["tank", "sump"])
      expect(Math.abs(story.transient.endVolumesM3[id]! - story.running.volumesM3[id]!)).toBeLessThan(1e-3);
  });

  test("the siphon takes the time of Torricelli's integral with Darcy's friction; the tap the volume over its flow", () => {
    expect((story.shutS! - story.fillS!) / (story.filledM3 / (600 / 3.6e6))).toBeCloseTo(1, 3);
    // dz/dt = -Q(z)/A from the level after the stop, by steps of a tenth of a millimetre.
    const flow = (head: number): number => {
      let v = 2;
      for (let n = 0; n < 40; n++) {
        const friction = 0.25 / Math.log10(1.5e-6 / (3.7 * 0.012) + 5.74 / ((v * 0.012) / 0.893e-6) ** 0.9) ** 2;
        v = Math.sqrt((2 * 9.80665 * head) / (1.78 + (friction * 4) / 0.012));
      }
      return v * (Math.PI / 4) * 0.012 ** 2;
    };
    const n = story.transient.trace.timesS.findIndex((t) => t >= story.emptyS);
    let z = story.transient.trace.levelsZ.tank![n]!;
    let seconds = 0;
    for (let out = 0; out < story.takenM3; out += 1e-4 * TANK_M2) {
      seconds += (1e-4 * TANK_M2) / flow(z);
      z -= 1e-4;
    }
    expect((story.fillS! - story.emptyS) / seconds).toBeCloseTo(1, 1);
  });
});

test("a forgotten filling hose reaches the floor when it has filled what is free in the sump", () => {
  const story = simulateWaterChange(simulator, PLAN, "filling")!;
  const { verdict, transient, shutS } = story;
  expect(verdict.spillVesselId).toBe("sump");
  // The level after the stop is that at which the planned refill ends; the tank rises only by the head of 600 L/h on its edge.
  const n = transient.trace.timesS.findIndex((t) => t >= story.emptyS);
  const free = (0.42 - transient.trace.levelsZ.sump![n]!) * (SUMP_M2 - EQUIPMENT_M2);
  expect((verdict.firstSpillS! - shutS!) / (free / (600 / 3.6e6))).toBeGreaterThan(0.97);
  expect((verdict.firstSpillS! - shutS!) / (free / (600 / 3.6e6))).toBeLessThan(1.15);
});

test("a forgotten draining hose stops at its end: the tank is down by the depth of that end", () => {
  const story = simulateWaterChange(simulator, PLAN, "draining")!;
  expect(story.transient.lowestZ.tank!.z).toBeCloseTo(PLAN.endZ, 2);
  const n = story.transient.trace.timesS.findIndex((t) => t >= story.emptyS);
  expect(story.takenM3 / (TANK_M2 * (story.transient.trace.levelsZ.tank![n]! - PLAN.endZ))).toBeCloseTo(1, 1);
  expect(story.running.levelsZ.tank! - PLAN.endZ).toBeCloseTo(0.25, 3);
  expect(story.verdict.floorM3).toBe(0);
});

test("with the return running the water is missing in the sump: the pump draws air when what stands over its intake is gone", () => {
  const running: HosePlan = { ...PLAN, returnRuns: true, changeM3: 0.1 };
  const story = simulateWaterChange(simulator, running, "none")!;
  const air = story.transient.events.find(({ id }) => id.startsWith("pump air"))!;
  const n = story.transient.trace.timesS.findIndex((t) => t >= air.tS);
  // 200 mm of water, of which 60 mm lie below the intake.
  const aboveIntake = 0.14 * (SUMP_M2 - EQUIPMENT_M2);
  const gone = story.transient.trace.volumesM3["house drain"]!;
  const hose = gone[n]! - gone[0]!;
  expect(hose / aboveIntake).toBeGreaterThan(0.95);
  expect(hose / aboveIntake).toBeLessThan(1.2);
});

test("a pump in the hose takes its own flow", () => {
  const story = simulateWaterChange(simulator, { ...PLAN, out: { pumpM3PerS: 1000 / 3.6e6 } }, "none")!;
  expect((story.fillS! - story.emptyS) / (story.takenM3 / (1000 / 3.6e6))).toBeCloseTo(1, 2);
});

test("the findings name both hoses, and only the forgotten tap floods", () => {
  const findings = hoseFindings(resolved.rig, simulator, PLAN);
  expect(findings.map(({ id, word }) => [id, word])).toEqual([
    ["hose-change", "WATER CHANGE"],
    ["hose-draining", "FORGOTTEN HOSE"],
    ["hose-filling", "FLOODS"],
  ]);
  const plain = { units: "metric", locale: "en", scale: () => ({ perN: 1, name: "N" }) } as const;
  for (const { text } of findings) expect(formatMessage(text, plain)).toMatch(/^[A-Z].*\.$/);
  expect(hoseFindings(resolved.rig, simulator, null)).toEqual([]);
});
