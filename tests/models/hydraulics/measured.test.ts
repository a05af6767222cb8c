// What was measured stands: the flow by affinity laws, the drain by its bore, the rise by the weirs. And the water line and the tubes of the file.

import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { OutageSimulator } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { calibrate } from "../../../models/hydraulics/planning/calibrate.ts";
import type { Rig } from "../../../models/rig.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { coupleModels } from "../../../scenarios/model/compile.ts";
import { findingOf, resultOf } from "../../scenarios/told.ts";
import { rigR, strongPump90, twoDrains } from "./rigs.ts";

const nothing = { returnFlowM3PerS: null, drainCapacityM3PerS: null, levelRiseM: null };
const flowOf = (rig: ReturnType<typeof rigR>) => new OutageSimulator(rig).running().pump.flowM3PerS;

test("a bucket under the outlet: the pump of that speed gives that flow, and a rig told its own flow is left alone", () => {
  const rig = rigR();
  const modelled = flowOf(rig);
  const slow = calibrate(rig, { ...nothing, returnFlowM3PerS: 0.8 * modelled });
  expect(flowOf(slow.rig) / (0.8 * modelled)).toBeCloseTo(1, 3);
  const [told] = slow.calibrations;
  expect(told!.modelled).toBeCloseTo(modelled, 9);
  // Head goes with the square of the speed: H(0) is 2.592 m here.
  expect(slow.rig.return.pump.curve[0]![1]).toBeCloseTo(2.592 * told!.factor! ** 2, 6);
  expect(calibrate(rig, { ...nothing, returnFlowM3PerS: modelled }).calibrations[0]!.factor!).toBeCloseTo(1, 3);
});

test("a drain that takes less than its bore should is computed with less bore; one that would need three times its bore is not believed", () => {
  // Its main pipe stands at the height of the crest there; here its mouth is 50 mm lower.
  const drowned = twoDrains();
  const rig: Rig = {
    ...drowned,
    displays: drowned.displays.map((display) => ({
      ...display,
      overflows: display.overflows.map((overflow) => ({
        ...overflow,
        drains: overflow.drains.map((drain) => (drain.id === "main" ? { ...drain, inletM: 0.15 } : drain)),
      })),
    })),
  };
  const drains = (of: typeof rig) => new OutageSimulator(of).running().drains.find(({ drainId }) => drainId === "main")!;
  const measured = 0.7 * drains(rig).capacityM3PerS;
  const set = calibrate(rig, { ...nothing, drainCapacityM3PerS: measured });
  expect(drains(set.rig).capacityM3PerS / measured).toBeCloseTo(1, 2);
  const slip = calibrate(rig, { ...nothing, drainCapacityM3PerS: 20 * measured });
  expect(slip.calibrations[0]!.factor).toBeNull();
  expect(slip.rig).toBe(rig);
});

test("a ruler in the sump: weirs that hold back as much more water as came down", () => {
  const rig = rigR();
  const rise = (of: typeof rig) => {
    const { running, cut } = new OutageSimulator(of).cutOnly(of);
    return cut.highestZ.sump!.z - running.levelsZ.sump!;
  };
  const measured = rise(rig) + 0.008;
  const set = calibrate(rig, { ...nothing, levelRiseM: measured });
  expect(set.calibrations[0]!.factor!).toBeLessThan(1);
  expect(Math.abs(rise(set.rig) - measured)).toBeLessThan(1e-3);
});

test("HY-6b: of a pump too strong for its drain the water line is kept as given, and the tank floods: 3.4 US gal expected", () => {
  const text = readFileSync(new URL("../../scenarios/acceptance/hy-6b.yaml", import.meta.url), "utf8");
  const loaded = loadScenario(text, "hy-6b.yaml");
  if (!loaded.ok) throw new Error("it does not load");
  const { resolved, simulator } = coupleModels(loaded.scenario, text);
  const display = resolved.rig.displays[0]!;
  expect(resolved.surfaceZ.tank!).toBeCloseTo(display.bottomZ + display.heightM - 1.5 * 0.0254, 9);
  const { verdict } = simulator.simulate({ keepTrace: false, follow: false });
  expect(verdict.word).toBe("FLOODS");
  expect(verdict.floorM3 / 0.003785411784).toBeGreaterThan(2.5);
  expect(new OutageSimulator(strongPump90(9)).simulate({ keepTrace: false, follow: false }).verdict.word).toBe("FLOODS");
});

test("a hang-on tube without a bore is as wide as its flow needs: no everyday running spills", () => {
  const tubed = (flow: string) =>
    `sumpwright: 1\nname: tubes\ntank: { inside: 900 x 400 x 450 mm, overflow: { kind: hang-on } }\nsump: { inside: 700 x 350 x 400 mm, water: 200 mm }\nreturn: { pump: { flow: ${flow} } }\n`;
  for (const flow of ["1000 L/h", "2500 L/h", "5000 L/h"]) {
    const text = tubed(flow);
    const loaded = loadScenario(text, "tubes.yaml");
    if (!loaded.ok) throw new Error(loaded.errors.map(({ problem }) => problem).join("; "));
    const { running, resolved } = coupleModels(loaded.scenario, text);
    expect(running.balanced, flow).toBe(true);
    const display = resolved.rig.displays[0]!;
    expect(display.bottomZ + display.heightM - running.levelsZ.tank!, flow).toBeGreaterThan(0.02);
  }
});

test("the page says by how much the file was off, and what the tank holds beside its label", async () => {
  const text = readFileSync(new URL("../../../scenarios/shipped/rigs/measured.yaml", import.meta.url), "utf8");
  const result = await resultOf(text);
  expect(findingOf(result, "measured-return-flow").text).toMatch(
    /You measured a return flow of 2400 L\/h; by the file it would be 28\d\d L\/h, 1\d % more/,
  );
  expect(result.hydraulics.running.pumpFlowM3PerS * 3.6e6).toBeCloseTo(2400, -1);
  // 1200 x 500 x 550 mm; 45 mm below the rim 303 L, less the box that stands in the water.
  expect(findingOf(result, "volume-tank").text).toMatch(
    /measures 330 L inside, holds 29\d L of water as it runs, and its label says 350 L/,
  );
});
