// Reactors and skimmers on side branches: flow by Bernoulli's equation, water that runs back, and what runs over.

import { expect, test } from "vitest";
import { faultsFor } from "../../../models/hydraulics/outage/faults.ts";
import { OutageSimulator } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { rigOf, rigText } from "./loaded.ts";

const quick = { keepTrace: false, follow: false } as const;
const TEXT = rigText("reactor-and-skimmer.yaml");
const area = (bore: number) => (Math.PI / 4) * bore * bore;

/** Head lost in a smooth pipe with further coefficients k [m]: Darcy-Weisbach, friction by Swamee & Jain (1976). */
function lossM(flow: number, bore: number, length: number, k: number): number {
  const v = flow / area(bore);
  const friction = 0.25 / Math.log10(1.5e-6 / (3.7 * bore) + 5.74 / ((v * bore) / 0.893e-6) ** 0.9) ** 2;
  return (((friction * length) / bore + k) * (v * v)) / (2 * 9.80665);
}

test("the outlet of a closed reactor carries the flow of its feed, under the head that the pipe takes at it", () => {
  const running = new OutageSimulator(rigOf(TEXT)).running();
  expect(running.balanced).toBe(true);
  const feed = running.flowsM3PerS["branch reactor"]!;
  expect(feed * 3.6e6).toBeGreaterThan(60);
  expect(running.flowsM3PerS["outlet of reactor"]!).toBeCloseTo(feed, 9);
  // The hose ends 430 mm over the sump's floor; entrance 0.5 and exit 1.
  const head = running.levelsZ["reactor body"]! - 0.43;
  expect(head / lossM(feed, 0.012, 0.6, 1.5)).toBeCloseTo(1, 1);
  // What leaves the pump goes to the tank and to both branches.
  const all = ["reactor", "skimmer"].reduce(
    (sum, id) => sum + running.flowsM3PerS[`branch ${id}`]!,
    running.nozzles[0]!.flowM3PerS,
  );
  expect(running.pump.flowM3PerS / all).toBeCloseTo(1, 6);
});

test("at a stop the open skimmer runs back to the end of its feed, and the closed reactor to the water of the sump", () => {
  const { cut, running } = new OutageSimulator(rigOf(TEXT)).simulate(quick);
  expect(cut.waterDriftM3).toBeLessThan(1e-9);
  const back = (id: string) => cut.startVolumesM3[`${id} body`]! - cut.endVolumesM3[`${id} body`]!;
  // Skimmer: 14 L in 550 mm; its feed ends 150 mm over a floor that stands 100 mm high, or it comes to rest with the water of the pump room.
  const plan = 0.014 / 0.55;
  const roomZ = cut.endVolumesM3["pump room"]! / (0.39 * 0.4);
  expect(back("skimmer") / (plan * (running.levelsZ["skimmer body"]! - Math.max(0.25, roomZ)))).toBeCloseTo(1, 1);
  // Reactor: 4 L in 400 mm, on the floor: down to the level of the pump room. Its hose holds a fortieth of its plan.
  const left = (0.004 / 0.4) * (0.4 - roomZ) + (0.004 / 0.4 / 40) * (running.levelsZ["reactor body"]! - 0.4);
  expect(back("reactor") / left).toBeCloseTo(1, 1);
});

test("a skimmer whose outlet is blocked runs onto the floor until the pump draws air; one that stands in the sump does not", () => {
  const beside = new OutageSimulator(rigOf(TEXT)).simulate({ ...quick, faults: ["reactor outlet blocked"] });
  expect(beside.verdict.word).toBe("FLOODS");
  expect(beside.verdict.spillVesselId).toBe("skimmer body");
  expect(beside.faultWhileRunning!.ending).toBe("hunting");
  // The pump room holds 390 x 400 mm from its running level down to the intake; the chamber before it stays full.
  const aboveIntake = 0.39 * 0.4 * (0.19 - 0.06);
  expect(beside.faultWhileRunning!.spilledM3 / aboveIntake).toBeGreaterThan(0.7);
  const inside = rigOf(TEXT.replace("lid: open, ", "lid: open, stands: in the sump, ").replace("floor: 100 mm", "floor: 0 mm"));
  expect(faultsFor(inside).map(({ id }) => id)).not.toContain("reactor outlet blocked");
  expect(faultsFor(rigOf(TEXT)).map(({ id }) => id)).toContain("reactor outlet blocked");
});

test("a lid that is not tight lets out what its opening passes: Cd A sqrt(2 g h)", () => {
  const { faultWhileRunning, verdict } = new OutageSimulator(rigOf(TEXT)).simulate({
    follow: false,
    faults: ["reactor lid leaks"],
  });
  expect(verdict.word).toBe("FLOODS");
  const { trace } = faultWhileRunning!;
  const n = trace.timesS.findIndex((t) => t > 60);
  const head = trace.levelsZ["reactor body"]![n]! - 0.4;
  expect(head).toBeGreaterThan(0.02);
  expect(trace.flowsM3PerS["lid of reactor"]![n]! / (0.61 * 1e-5 * Math.sqrt(2 * 9.80665 * head))).toBeCloseTo(1, 2);
});

test("a plain branch never runs back, and a shut valve stops the feed of a body", () => {
  const plain = new OutageSimulator(rigOf(TEXT.replace(/, body: \{ volume: 4 L.*\} \}/, " }"))).simulate({ follow: false });
  expect(Math.min(...plain.cut.trace.flowsM3PerS["branch reactor"]!)).toBe(0);
  const shut = new OutageSimulator(rigOf(TEXT.replace("valve: 50 %", "valve: 0 %"))).running();
  expect(shut.flowsM3PerS["branch reactor"]! * 3.6e6).toBeLessThan(1);
});

test("to: return is the last chamber; unknown chambers and openings outside the body are refused with their place", () => {
  expect(rigOf(TEXT).return.branches.map(({ to }) => to)).toEqual(["pump room", "inlet"]);
  for (const [from, to, problem] of [
    ["to: return", "to: cellar", "cellar"],
    ["outlet mouth: 420 mm", "outlet mouth: 600 mm", "above its lid or rim"],
    ["inlet: 150 mm", "inlet: 450 mm", "above its outlet"],
    ["name: skimmer", "name: reactor", "two reactors"],
  ] as const) {
    const loaded = loadScenario(TEXT.replace(from, to), "broken.yaml");
    expect(loaded.ok ? "" : loaded.errors.map((e) => e.problem).join()).toContain(problem);
  }
});
