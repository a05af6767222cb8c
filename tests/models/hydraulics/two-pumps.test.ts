// Two return pumps: each as if it were alone at the same levels, one standing while the other runs, and one on a battery.

import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { HydraulicSystem } from "../../../models/hydraulics/dynamics/system.ts";
import { OutageSimulator } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { startRunning } from "../../../models/hydraulics/outage/start.ts";
import type { Rig } from "../../../models/rig.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { coupleModels } from "../../../scenarios/model/compile.ts";

const quick = { keepTrace: false, follow: false } as const;

function twoPumps(change: (text: string) => string = (text) => text): Rig {
  const text = change(readFileSync(new URL("../../../scenarios/shipped/rigs/two-pumps.yaml", import.meta.url), "utf8"));
  const loaded = loadScenario(text, "two-pumps.yaml");
  if (!loaded.ok) throw new Error(loaded.errors.map(({ problem }) => problem).join("; "));
  return coupleModels(loaded.scenario, text).resolved.rig;
}

test("each pump gives what it would alone between the same levels, and the drains carry both", () => {
  const rig = twoPumps();
  const running = new OutageSimulator(rig).running();
  expect(running.balanced).toBe(true);
  const flows = new Map(running.nozzles.map(({ id, flowM3PerS }) => [id, flowM3PerS]));
  for (const [id, alone] of [
    ["outlet", { ...rig, moreReturns: [] }],
    ["battery pump outlet", { ...rig, return: rig.moreReturns[0]!, moreReturns: [] }],
  ] as const) {
    const { network } = new OutageSimulator(alone);
    const { system, settled } = startRunning(alone, network);
    const y = settled.volumesM3;
    for (const vessel of ["tank", "sump"]) y[network.vessels.findIndex((v) => v.id === vessel)] = running.volumesM3[vessel]!;
    system.evaluate(y);
    expect(flows.get(id)! / system.solver!.pumpFlow, id).toBeCloseTo(1, 6);
  }
  const sum = [...flows.values()].reduce((a, b) => a + b, 0);
  expect(running.drains.reduce((total, { flowM3PerS }) => total + flowM3PerS, 0)).toBeCloseTo(sum, 8);
  expect(running.pump.flowM3PerS).toBeCloseTo(sum, 12);
});

test("one pump stands: a hole at the water line breaks its siphon and the other runs on; without a hole part of the flow goes round through the standing riser", () => {
  const rig = twoPumps();
  // The other pump keeps the tank nearly full: only a hole at the water line comes out of the water.
  const holed = new OutageSimulator(
    twoPumps((text) => text.replace("{ bore: 5 mm, depth: 12 mm }", "{ bore: 5 mm, depth: 0 mm }")),
  ).simulate({ ...quick, faults: ["other pump stands"] });
  expect(holed.verdict.floorM3).toBe(0);
  expect(Math.abs(holed.running.nozzles.find(({ id }) => id === "battery pump outlet")!.flowM3PerS)).toBeLessThan(1e-6);
  const deep = { ...rig.moreReturns[0]!, nozzles: rig.moreReturns[0]!.nozzles.map((nozzle) => ({ ...nozzle, breakHole: null })) };
  const bare = new OutageSimulator({ ...rig, moreReturns: [deep] }).simulate({ ...quick, faults: ["other pump stands"] });
  const back = bare.running.nozzles.find(({ id }) => id === "battery pump outlet")!.flowM3PerS;
  const up = bare.running.nozzles.find(({ id }) => id === "outlet")!.flowM3PerS;
  expect(back).toBeLessThan(-1e-5);
  const down = bare.running.drains.reduce((sum, { flowM3PerS }) => sum + flowM3PerS, 0);
  expect(Math.abs(up + back - down)).toBeLessThan(2e-6);
});

test("on a battery the second pump holds its water up for two hours; then the same comes down as without a battery", () => {
  const backed = new OutageSimulator(twoPumps()).simulate({ follow: false });
  const unbacked = new OutageSimulator(twoPumps((text) => text.replace(/ {4}backup:.*\n/, ""))).simulate(quick);
  expect(backed.cut.events.find(({ id }) => id.startsWith("battery"))!.tS).toBe(7200);
  const n = backed.cut.trace.timesS.findLastIndex((t) => t < 7199);
  const held = backed.cut.trace.levelsZ.tank![n]!;
  expect(held - backed.cut.trace.levelsZ.tank!.at(-1)!).toBeGreaterThan(0.005);
  expect(backed.cut.endVolumesM3.sump! / unbacked.cut.endVolumesM3.sump!).toBeCloseTo(1, 2);
  expect(backed.cut.waterDriftM3).toBeLessThan(1e-9);
});

test("a check valve in the second line earns no pass either", () => {
  const rig = twoPumps((text) => text.replace("    backup: 2 h", "    check valve: seals"));
  const deep = {
    ...rig.moreReturns[0]!,
    nozzles: rig.moreReturns[0]!.nozzles.map((nozzle) => ({ ...nozzle, breakHole: null, tipZ: nozzle.tipZ - 0.25 })),
  };
  const { verdict, cut } = new OutageSimulator({ ...rig, moreReturns: [deep] }).simulate(quick);
  expect(cut.spilledM3).toBe(0);
  expect(verdict.word).toBe("FLOODS");
  expect(verdict.onlyIfValveSeals).toBe(true);
});

test("the modes of a second line start like those of the first", () => {
  const system = new HydraulicSystem(new OutageSimulator(twoPumps()).network);
  expect(system.lines).toHaveLength(2);
  expect(system.lines[1]!.modes.legJoined[0]).toBe(1);
});
