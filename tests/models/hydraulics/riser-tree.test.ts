// A riser with tees: its flows compared with an independent balance, and the siphons that an open outlet breaks.

import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { HydraulicSystem } from "../../../models/hydraulics/dynamics/system.ts";
import { pipeFlowM3PerS, pipeLossM } from "../../../models/hydraulics/laws/pipe.ts";
import { pumpCurve } from "../../../models/hydraulics/laws/pump.ts";
import { cutAndRestart, OutageSimulator } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { startRunning } from "../../../models/hydraulics/outage/start.ts";
import { highestFillM, withoutSafeguards } from "../../../models/hydraulics/planning/fill-levels.ts";
import type { Nozzle, Rig } from "../../../models/rig.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { coupleModels } from "../../../scenarios/model/compile.ts";
import { display, nozzle, oneSump, overflow, returnLine, rig, rigR } from "./rigs.ts";

const quick = { keepTrace: false, follow: false } as const;
const PLAN_M2 = 0.6;

/** The reference rig (surface at 1.2 m, rim at 1.25 m) with outlets at the given depths on one tee. */
function teed(teeZ: number, depthsM: readonly number[], over: Partial<Nozzle> = {}): Rig {
  const nozzles = depthsM.map((depth, n) =>
    nozzle({
      id: `outlet ${n + 1}`,
      boreM: 0.02,
      tipZ: 1.2 - depth,
      branch: { teeZ, boreM: 0.02, lengthM: 0.5, valveOpenShare: 1 },
      ...over,
    }),
  );
  const base = rigR(0.2);
  return { ...base, sump: oneSump(0.675, 0.4, 0.6, 0.2), return: returnLine({ nozzles }) };
}

const fallM = (of: Rig, faults: Parameters<typeof cutAndRestart>[1] = {}) => {
  const { cut, running } = cutAndRestart(of, { ...quick, ...faults });
  return running.levelsZ.display! - cut.lowestZ.display!.z;
};

describe("flows of a riser with two tees", () => {
  test("agree with an independent balance by bisection", () => {
    const of = teed(0.6, [0.06]);
    const upper = nozzle({
      id: "upper",
      boreM: 0.02,
      tipZ: 1.15,
      branch: { teeZ: 1.0, boreM: 0.016, lengthM: 0.4, valveOpenShare: 0.5 },
    });
    const two: Rig = { ...of, return: { ...of.return, nozzles: [...of.return.nozzles, upper] } };
    const { network } = new OutageSimulator(two);
    const { system, settled } = startRunning(two, network);
    system.evaluate(settled.volumesM3);
    const line = network.returnLine!;
    const nu = network.viscosityM2PerS;
    const at = (id: string) => system.levels[network.vessels.findIndex((vessel) => vessel.id === id)]!;
    const pump = pumpCurve(line.curve);
    // From the pump upwards: the trial flow gives the heads, and the remaining flow at the top must be zero.
    const leftOver = (flow: number): number => {
      const low = at("sump") + pump.headM(flow) - pipeLossM(line.tees[0]!.pipe, flow, nu);
      const first = pipeFlowM3PerS(line.legs[0]!.out, low - at("display"), nu);
      const high = low - pipeLossM(line.tees[1]!.pipe, flow - first, nu);
      return flow - first - pipeFlowM3PerS(line.legs[1]!.out, high - at("display"), nu);
    };
    let [low, high] = [0, pump.freeFlowM3PerS];
    for (let k = 0; k < 60; k++) {
      const middle = (low + high) / 2;
      if (leftOver(middle) > 0) high = middle;
      else low = middle;
    }
    expect(system.solver!.pumpFlow / low).toBeCloseTo(1, 6);
    expect(system.flows[line.legs[0]!.outLink]! + system.flows[line.legs[1]!.outLink]!).toBeCloseTo(low, 9);
    // The length of the riser is divided between its two sections in proportion to height.
    expect(line.tees[0]!.pipe.lengthM).toBeCloseTo(0.6 * two.return.riser.lengthM, 9);
    expect(line.tees[1]!.pipe.lengthM).toBeCloseTo(0.4 * two.return.riser.lengthM, 9);
  });
});

describe("outlets 150 and 20 mm deep", () => {
  test("on a tee above the rim: the shallow one breaks both siphons, the tank falls by 20 mm", () => {
    expect(Math.abs(fallM(teed(1.28, [0.15, 0.02])) - 0.02)).toBeLessThan(0.003);
  });

  test("with the shallow one blocked no air enters: the tank falls by 150 mm", () => {
    const blocked = fallM(teed(1.28, [0.15, 0.02]), { faults: ["outlet blocked"] });
    expect(Math.abs(blocked - 0.15)).toBeLessThan(0.003);
  });

  test("a closed branch valve has the same effect as a blocked outlet", () => {
    const of = teed(1.28, [0.15, 0.02]);
    const [deep, shallow] = of.return.nozzles;
    const shut: Rig = {
      ...of,
      return: { ...of.return, nozzles: [deep!, { ...shallow!, branch: { ...shallow!.branch!, valveOpenShare: 0 } }] },
    };
    expect(Math.abs(fallM(shut) - 0.15)).toBeLessThan(0.003);
  });

  test("on a tee low in the riser, below the water level of the deep one, air does not reach the deep one", () => {
    expect(Math.abs(fallM(teed(0.25, [0.15, 0.02])) - 0.15)).toBeLessThan(0.003);
  });

  test("the conservative fill mark counts the shallow outlet as blocked: it is lower by 130 mm of 0.6 m2 on 0.27 m2", () => {
    const of = teed(1.28, [0.15, 0.02]);
    const difference = highestFillM(of)! - highestFillM(withoutSafeguards(of))!;
    expect(Math.abs(difference - (0.13 * PLAN_M2) / 0.27)).toBeLessThan(0.006);
  });
});

test("air in a tee between two tanks: the low tank's siphon breaks, the high one's keeps running into the tee under the head above it", () => {
  const tank = (id: string, surface: number) =>
    display({
      id,
      name: id,
      bottomZ: surface - 0.45,
      overflows: [overflow({ id: `overflow ${id}`, crestZ: surface - 0.013, drains: [] }, 0)],
    });
  const branch = { teeZ: 1.0, boreM: 0.02, lengthM: 0.5, valveOpenShare: 1 };
  const of = rig({
    displays: [tank("low", 0.9), tank("high", 1.4), tank("open", 1.0)],
    sump: oneSump(0.675, 0.4, 0.4, 0.2),
    return: returnLine({
      nozzles: [
        nozzle({ id: "to low", display: "low", boreM: 0.02, tipZ: 0.7, branch }),
        nozzle({ id: "to high", display: "high", boreM: 0.02, tipZ: 1.1, branch }),
        nozzle({ id: "to open", display: "open", boreM: 0.02, tipZ: 0.95, branch }),
      ],
    }),
  });
  const { network } = new OutageSimulator(of, new Map());
  const system = new HydraulicSystem(network);
  const { legs } = network.returnLine!;
  system.modes.legJoined.set([0, 1, 0]);
  system.modes.teeAired[0] = 1;
  const y = Float64Array.from(network.vessels, (vessel) => {
    const z =
      { low: 0.9, high: 1.4, open: 0.94, sump: 0.2, "to high pipe": 2, "to low pipe": 0.3, "to open pipe": 0.3 }[vessel.id] ??
      vessel.bottomZ;
    return Math.max(0, z - vessel.bottomZ) * vessel.areaM2;
  });
  system.evaluate(y);
  expect(system.flows[legs[0]!.outLink]).toBeCloseTo(0, 12);
  expect(-system.flows[legs[1]!.outLink]!).toBeCloseTo(pipeFlowM3PerS(legs[1]!.back, 0.4, network.viscosityM2PerS), 9);
});

test("the example: 12 mm to the shallow outlet, 150 mm when it is blocked", () => {
  const file = "outlets-on-a-tee.yaml";
  const text = readFileSync(new URL(`../../../scenarios/shipped/rigs/${file}`, import.meta.url), "utf8");
  const loaded = loadScenario(text, file);
  if (!loaded.ok) throw new Error("the example does not load");
  const { simulator, running } = coupleModels(loaded.scenario, text);
  const plain = simulator.simulate(quick);
  const blocked = simulator.simulate({ ...quick, faults: ["outlet blocked"] });
  const fell = (story: typeof plain) => running.levelsZ.tank! - story.cut.lowestZ.tank!.z;
  expect(Math.abs(fell(plain) - 0.012)).toBeLessThan(0.003);
  expect(Math.abs(fell(blocked) - 0.15)).toBeLessThan(0.006);
  expect(plain.verdict.word).toBe("HOLDS");
  // 0.6 m² x 150 mm and the contents of box and pipes exceed the room of 0.27 m² x 180 mm.
  expect(blocked.verdict.word).toBe("FLOODS");
  expect(Math.abs(blocked.verdict.floorM3 - (0.09 + 0.008 - 0.0495))).toBeLessThan(0.012);
});
