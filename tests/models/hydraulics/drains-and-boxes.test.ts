// Standpipes, leaking boxes, drowned emergency pipes and blocked valves, compared with hand calculations and closed forms.

import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { HydraulicSystem } from "../../../models/hydraulics/dynamics/system.ts";
import { blockedValveK, obstructionK, openShareOf } from "../../../models/hydraulics/laws/fittings.ts";
import { SHARP_HOLE, standpipeInletM3PerS } from "../../../models/hydraulics/laws/outlet.ts";
import { GRAVITY, pipeFlowM3PerS } from "../../../models/hydraulics/laws/pipe.ts";
import { OutageSimulator } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { coupleModels } from "../../../scenarios/model/compile.ts";
import { twoDrains } from "./rigs.ts";

function example(file: string, change: (text: string) => string = (text) => text) {
  const text = change(readFileSync(new URL(`../../../scenarios/shipped/rigs/${file}`, import.meta.url), "utf8"));
  const loaded = loadScenario(text, file);
  if (!loaded.ok) throw new Error(loaded.errors.map(({ problem }) => problem).join("; "));
  return coupleModels(loaded.scenario, text);
}

test("a standpipe in the tank runs at the head of its mouth: h = (7000 Q / D)^(2/3), L/s and mm (Escarameia & May 1996); the water line is as written", () => {
  const { running, resolved } = example("standpipe-in-the-tank.yaml");
  const display = resolved.rig.displays[0]!;
  const headMm = 1000 * (running.levelsZ.tank! - display.overflows[0]!.crestZ);
  expect(headMm).toBeCloseTo(((7000 * 1000 * running.pump.flowM3PerS) / 40) ** (2 / 3), 2);
  expect(running.levelsZ.tank!).toBeCloseTo(display.bottomZ + display.heightM - 0.05, 4);
});

test("standpipe lost: all 162 L of the tank drain into a sump with 60 L of free volume", () => {
  const { simulator, running, resolved } = example("standpipe-in-the-tank.yaml");
  const { verdict, cut } = simulator.simulate({ faults: ["standpipe lost"], keepTrace: false, follow: false });
  const { sump } = resolved.rig;
  const room = simulator.network.vessels.find(({ id }) => id === "sump")!.curve;
  const spare = room.volumeM3.at(-1)! + room.areaM2.at(-1)! * (sump.heightM - room.z.at(-1)!) - running.volumesM3.sump!;
  expect(verdict.word).toBe("FLOODS");
  expect(Math.abs(verdict.floorM3 - (running.volumesM3.tank! - spare))).toBeLessThan(0.004);
  expect(cut.endVolumesM3.tank!).toBeLessThan(0.001);
});

test("in a box the standpipe holds back only the water of the box", () => {
  const { simulator, running } = example("standpipe-in-the-tank.yaml", (text) =>
    text.replace("kind: standpipe", "weir: 300 mm").replace(/drains:\n.*\n.*\n/, "drains: { bore: 40 mm, mouth: 150 mm }\n"),
  );
  const lost = simulator.simulate({ faults: ["standpipe lost"], keepTrace: false, follow: false });
  expect(lost.verdict.floorM3).toBe(0);
  expect(lost.running.volumesM3["tank overflow box"]!).toBeLessThan(0.3 * running.volumesM3["tank overflow box"]!);
});

test("a leaking seam: the box empties at once, the tank drains by Torricelli's law, with sqrt h falling linearly", () => {
  const { simulator, running, resolved } = example("box-seam-leaks.yaml");
  const { cut } = simulator.simulate({ follow: false });
  const overflow = resolved.rig.displays[0]!.overflows[0]!;
  const { areaM2, z } = overflow.leak!;
  // 1200 x 500 mm less the internal box of 300 x 120 mm.
  const plan = 0.6 - 0.036;
  const at = (id: string, seconds: number) => {
    const n = cut.trace.timesS.findIndex((t) => t >= seconds);
    const [a, b] = [cut.trace.timesS[n - 1]!, cut.trace.timesS[n]!];
    const series = cut.trace.levelsZ[id]!;
    return series[n - 1]! + ((seconds - a) / (b - a)) * (series[n]! - series[n - 1]!);
  };
  const boxAt = at("tank overflow box", 120);
  expect(boxAt - overflow.box.floorZ).toBeLessThan(0.1);
  const [first, last] = [600, 7200].map((seconds) => Math.sqrt(at("tank", seconds) - z)) as [number, number];
  const byHand = (SHARP_HOLE * areaM2 * Math.sqrt(2 * GRAVITY) * (7200 - 600)) / (2 * plan);
  expect((first - last) / byHand).toBeCloseTo(1, 2);
  expect(running.balanced).toBe(true);
  // While the pump runs, the effect of the same seam on the level is too small for a ruler.
  const tight = example("box-seam-leaks.yaml", (text) => text.replace(/ {4}leak:.*\n/, ""));
  expect(Math.abs(tight.running.levelsZ.tank! - running.levelsZ.tank!)).toBeLessThan(0.0005);
});

test("a drowned emergency pipe has the flow of a full pipe; at a depth of one bore it is still vented", () => {
  const rig = twoDrains();
  const { network } = new OutageSimulator(rig);
  const n = network.drains.findIndex(({ kind }) => kind === "dry emergency");
  const drain = network.drains[n]!;
  const flowAt = (head: number): number => {
    const system = new HydraulicSystem(network);
    const y = Float64Array.from(network.vessels, (vessel, v) =>
      v === drain.box ? (drain.inletZ + head - vessel.bottomZ) * vessel.areaM2 : 0,
    );
    system.evaluate(y);
    return system.flows[drain.inletLink]!;
  };
  const bore = drain.pipe.boreM;
  expect(flowAt(0.9 * bore)).toBeCloseTo(standpipeInletM3PerS(0.9 * bore, bore), 9);
  const full = pipeFlowM3PerS(drain.pipe, drain.inletZ + 2.1 * bore - drain.outletZ, network.viscosityM2PerS);
  expect(flowAt(2.1 * bore)).toBeCloseTo(full, 9);
  expect(full).toBeGreaterThan(1.5 * standpipeInletM3PerS(2.1 * bore, bore));
});

test("a half blockage in the valve of a throttled siphon halves the remaining opening", () => {
  for (const open of [0.2, 0.5, 0.9]) {
    expect(openShareOf(obstructionK(open))).toBeCloseTo(open, 6);
    expect(blockedValveK(obstructionK(open), 0.5)).toBeCloseTo(obstructionK(open / 2), 3);
  }
  expect(blockedValveK(7, 1)).toBe(7);
});
