// Filter socks, bubble traps and joined sumps, compared with Darcy's law, weirs and communicating vessels by hand.

import { describe, expect, test } from "vitest";
import { sockFlowM3PerS } from "../../../models/hydraulics/laws/sock.ts";
import { OutageSimulator } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { simulateNeglect } from "../../../models/hydraulics/planning/neglect.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { rigOf, rigText } from "./loaded.ts";

const quick = { keepTrace: false, follow: false } as const;
const TEXT = rigText("sock-and-second-sump.yaml");

describe("socks", () => {
  test("flow through the cloth is Darcy's velocity summed over its height, in both directions", () => {
    const cloth = { perS: 0.5, aroundM: 0.565, bottomM2: 0.0254, bottomZ: 0.01 };
    for (const [inside, outside] of [
      [0.25, 0.2],
      [0.25, 0],
      [0.12, 0.12],
      [0.1, 0.3],
    ] as const) {
      const [high, low] = [Math.max(inside, outside), Math.min(inside, outside)];
      const steps = 20_000;
      let sum = cloth.bottomM2 * (high - Math.max(low, cloth.bottomZ));
      const dz = (high - cloth.bottomZ) / steps;
      for (let n = 0; n < steps; n++) {
        const z = cloth.bottomZ + (n + 0.5) * dz;
        sum += cloth.aroundM * dz * (high - Math.max(low, z));
      }
      expect(sockFlowM3PerS(cloth, inside, outside)).toBeCloseTo(Math.sign(inside - outside) * cloth.perS * sum, 8);
    }
    expect(sockFlowM3PerS(cloth, 0.005, 0)).toBe(0);
  });

  test("a clogged sock runs over its rim under the head of a weir as long as it is round, and gives its water back at a stop", () => {
    const simulator = new OutageSimulator(rigOf(TEXT));
    const clean = simulator.running();
    const clogged = simulator.simulate({ ...quick, faults: ["sock blinded"] });
    const flow = clogged.running.flowsM3PerS["rim inlet sock"]!;
    const through = clogged.running.flowsM3PerS["cloth inlet"]!;
    expect(clean.flowsM3PerS["rim inlet sock"]).toBe(0);
    expect(flow + through).toBeCloseTo(clogged.running.pump.flowM3PerS, 6);
    // Francis (1883): Q = 1.84 L h^1.5.
    const head = clogged.running.levelsZ["inlet sock"]! - 0.31;
    expect(flow / (1.84 * Math.PI * 0.18 * head ** 1.5)).toBeCloseTo(1, 1);
    expect(clogged.verdict.floorM3).toBe(0);
    // At rest the sock stands as high as its chamber, or its cloth still drips.
    const held = clogged.cut.startVolumesM3["inlet sock"]! - clogged.cut.endVolumesM3["inlet sock"]!;
    expect(held).toBeGreaterThan(0);
  });

  test("in weeks without care a sock clogs and a fleece roller does not", () => {
    const neglect = { days: 28, weirPerWeek: 0, padPerWeek: 0.6, topOff: "works" } as const;
    const still = { ...rigOf(TEXT), evaporationM3PerS: 0 };
    const roller = { ...rigOf(TEXT.replace("sock: {", "sock: { kind: fleece roller,")), evaporationM3PerS: 0 };
    const fall = (rig: typeof still) => {
      const { days } = simulateNeglect(rig, neglect)!;
      return days[0]!.returnLevelM - days.at(-1)!.returnLevelM;
    };
    // The dirty sock holds water that the return chamber then lacks.
    expect(fall(still)).toBeGreaterThan(fall(roller) + 0.002);
  });
});

describe("bubble trap and second sump", () => {
  test("three plates: the head of a weir over the first and the last, the gap's loss under the second", () => {
    // The law of the gap is softened below 2 mm of head, so the plate hangs lower here than in the file.
    const { levelsZ, pump } = new OutageSimulator(rigOf(TEXT.replace("gap: 40 mm", "gap: 12 mm"))).running();
    const q = pump.flowM3PerS;
    // Francis over 400 mm, without contractions.
    const weirHead = (q / (1.84 * 0.4)) ** (2 / 3);
    expect(levelsZ["trap up"]! - 0.215).toBeCloseTo(weirHead, 3);
    // Orifice of 12 x 400 mm: Q = 0.61 A sqrt(2 g h).
    const gap = (q / (0.61 * 0.012 * 0.4)) ** 2 / (2 * 9.80665);
    expect(levelsZ["trap down"]! - levelsZ["trap up"]!).toBeCloseTo(gap, 3);
    // The water between is above the edge by less than a third of the head: Villemonte's factor hardly matters.
    expect(levelsZ.inlet! - 0.23).toBeGreaterThan(weirHead - 1e-4);
    expect(levelsZ.inlet! - 0.23).toBeLessThan(weirHead * 1.1);
  });

  test("a joined sump rises with the pump room: the rise of a stop is shared by their plan areas", () => {
    const both = new OutageSimulator(rigOf(TEXT)).simulate(quick);
    const level = (run: typeof both, id: string, areaM2: number) => run.cut.endVolumesM3[id]! / areaM2;
    expect(level(both, "second sump", 0.24)).toBeCloseTo(level(both, "pump room", 0.42 * 0.4 - 0), 2);
    const alone = new OutageSimulator(rigOf(TEXT.replace(/ {2}joined:\n.*\n/, ""))).simulate(quick);
    const gained = (run: typeof both) =>
      ["second sump", "pump room", "trap up", "trap down", "inlet"].reduce(
        (sum, id) => sum + (run.cut.endVolumesM3[id] ?? 0) - (run.cut.startVolumesM3[id] ?? 0),
        0,
      );
    // The same water comes down.
    expect(gained(both) / gained(alone)).toBeCloseTo(1, 1);
    expect(both.verdict.marginM).toBeGreaterThan(alone.verdict.marginM + 0.01);
  });

  test("with the drain into the second sump its pipe takes the head of its flow: (1.5 + f L / D) v2 / 2g", () => {
    const through = TEXT.replaceAll("to: inlet, outlet: 300 mm", "to: second sump, outlet: 350 mm").replace(
      "to: pump room, bore",
      "to: inlet, bore",
    );
    const { levelsZ, pump } = new OutageSimulator(rigOf(through)).running();
    const v = pump.flowM3PerS / ((Math.PI / 4) * 0.04 ** 2);
    const friction = 0.25 / Math.log10(1.5e-6 / (3.7 * 0.04) + 5.74 / ((v * 0.04) / 0.893e-6) ** 0.9) ** 2;
    const head = (1.5 + (friction * 0.3) / 0.04) * (v ** 2 / (2 * 9.80665));
    expect((levelsZ["second sump"]! - levelsZ.inlet!) / head).toBeCloseTo(1, 1);
  });

  test("one that stands higher runs down to its pipe when the pump stops", () => {
    const higher = TEXT.replaceAll("to: inlet, outlet: 300 mm", "to: second sump, outlet: 700 mm").replace(
      "to: pump room, bore",
      "floor: 300 mm, to: inlet, bore",
    );
    const { cut } = new OutageSimulator(rigOf(higher)).simulate(quick);
    // Its pipe lies 40 mm over its floor.
    expect(cut.endVolumesM3["second sump"]! / 0.24).toBeGreaterThan(0.039);
    expect(cut.endVolumesM3["second sump"]! / 0.24).toBeLessThan(0.046);
    expect(cut.waterDriftM3).toBeLessThan(1e-9);
  });

  test("names that nothing has and pipes above the rims are refused", () => {
    for (const [from, to, problem] of [
      ["to: pump room", "to: cellar", "cellar"],
      ["bore: 40 mm }\n\ntower", "height: 430 mm }\n\ntower", "above its rim"],
      ["name: second sump", "name: inlet", "already the name of another part"],
    ] as const) {
      const loaded = loadScenario(TEXT.replace(from, to), "broken.yaml");
      expect(loaded.ok ? "" : loaded.errors.map((e) => e.problem).join()).toContain(problem);
    }
  });
});
