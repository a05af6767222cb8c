// Sequences of stops, and weeks without maintenance: compared with hand calculations and with a single outage.

import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { stopsInARow } from "../../../models/hydraulics/outage/cuts-in-a-row.ts";
import { OutageSimulator } from "../../../models/hydraulics/outage/outage-simulation.ts";
import { simulateNeglect } from "../../../models/hydraulics/planning/neglect.ts";
import type { Rig } from "../../../models/rig.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { coupleModels } from "../../../scenarios/model/compile.ts";
import { sequencesOf } from "../../../scenarios/report/sequences.ts";
import { rigR, twoDrains } from "./rigs.ts";

const textOf = (file: string) => readFileSync(new URL(`../../../scenarios/shipped/rigs/${file}`, import.meta.url), "utf8");

function coupled(text: string) {
  const loaded = loadScenario(text, "rig.yaml");
  if (!loaded.ok) throw new Error(loaded.errors.map(({ problem }) => problem).join("; "));
  return coupleModels(loaded.scenario, text);
}

const sequences = (text: string) => {
  const { resolved, simulator } = coupled(text);
  return sequencesOf(resolved, simulator, simulator.simulate({ follow: false }).cut.settledS);
};

describe("outages in succession", () => {
  test("one stop until rest gives the levels of a single outage, to 0.1 mm", () => {
    const simulator = new OutageSimulator(rigR());
    const single = simulator.simulate({ keepTrace: false, follow: false });
    const row = stopsInARow(simulator, [{ fromS: 1, forS: single.cut.durationS }], false)!;
    expect(row.cut.highestZ.sump!.z).toBeCloseTo(single.cut.highestZ.sump!.z, 4);
    expect(row.cut.endVolumesM3.sump!).toBeCloseTo(row.running.volumesM3.sump!, 4);
  });

  test("HY-11: six of 20 s in ten minutes on a vented standpipe, no net change, the pump never draws air", () => {
    const stops = Array.from({ length: 6 }, (_, n) => ({ fromS: 1 + 100 * n, forS: 20 }));
    const { cut, running, verdict } = stopsInARow(new OutageSimulator(twoDrains()), stops, false)!;
    expect(verdict.floorM3).toBe(0);
    expect(cut.waterDriftM3).toBeLessThan(1e-9);
    for (const id of ["sump", "display"]) expect(Math.abs(cut.endVolumesM3[id]! - running.volumesM3[id]!)).toBeLessThan(1e-4);
    expect(cut.events.filter(({ id }) => id === "pump off")).toHaveLength(6);
    expect(cut.events.some(({ id }) => id === "pump air")).toBe(false);
  });

  test("stops shorter than the drain time drain no more than a single outage", () => {
    const { resolved, simulator } = coupled(textOf("six-flickers.yaml"));
    const single = simulator.simulate({ keepTrace: false, follow: false });
    const [row] = sequencesOf(resolved, simulator, 60);
    expect(row!.stops).toHaveLength(6);
    expect(row!.run.cut.highestZ.sump!.z).toBeLessThanOrEqual(single.cut.highestZ.sump!.z + 1e-4);
  });

  test("outages of the calendar that are close together form a sequence, those a day apart do not", () => {
    const plan = (second: string) =>
      `${textOf("six-flickers.yaml").replace(/power cut: .*/, "power cut: { for: 4 h }")}timeline:\n  - { at: day 2 10:00, do: power cut, for: 20 s }\n  - { at: ${second}, do: power cut, for: 20 s }\n`;
    expect(sequences(plan("day 2 10:02")).map(({ stops }) => stops.length)).toEqual([2]);
    expect(sequences(plan("day 3 10:00"))).toEqual([]);
  });

  test("an outage that ends while water still drains is reported as such", () => {
    const told = sequences(textOf("six-flickers.yaml").replace(/power cut: .*/, "power cut: { for: 12 s }"));
    expect(told.map(({ id, stops }) => [id, stops.length])).toEqual([["asked-in-a-row", 1]]);
  });

  test("a pump on a timer: the cycles are periodic, and none is worse than one outage", () => {
    const { resolved, simulator } = coupled(textOf("pump-on-a-timer.yaml"));
    const [row] = sequencesOf(resolved, simulator, 60);
    const { cut } = row!.run;
    const peaks = row!.stops.map(({ fromS, forS }) =>
      Math.max(
        ...cut.trace.levelsZ.sump!.filter((_, n) => cut.trace.timesS[n]! >= fromS && cut.trace.timesS[n]! <= fromS + forS),
      ),
    );
    expect(peaks).toHaveLength(6);
    for (const peak of peaks) expect(Math.abs(peak - peaks[0]!)).toBeLessThan(0.002);
  });
});

describe("circuits", () => {
  const text = textOf("two-pumps.yaml").replace("    backup: 2 h", "    circuit: garage");

  test("with pumps on two circuits each fails once alone: the other pump runs on, and the levels come back", () => {
    const told = sequences(text);
    expect(told.map(({ id, circuit }) => [id, circuit])).toEqual([
      ["circuit-1", "mains"],
      ["circuit-2", "garage"],
    ]);
    for (const { run, stops } of told) {
      const { cut, running, verdict } = run;
      expect(verdict.floorM3).toBe(0);
      const [tank, sump] = ["tank", "sump"].map((id) => Math.abs(cut.endVolumesM3[id]! - running.volumesM3[id]!));
      expect(Math.max(tank!, sump!)).toBeLessThan(2e-3);
      // Less comes down than when both stop: the pump that runs on keeps the edge of the overflow under water.
      const n = cut.trace.timesS.findLastIndex((t) => t < stops[0]!.fromS + stops[0]!.forS - 1);
      const all = coupled(text).simulator.simulate({ keepTrace: false, follow: false }).cut;
      expect(cut.trace.levelsZ.sump![n]!).toBeLessThan(all.highestZ.sump!.z - 0.005);
      expect(cut.trace.levelsZ.sump![n]!).toBeGreaterThan(running.levelsZ.sump!);
    }
  });

  test("pumps on one circuit give no such story", () => {
    expect(sequences(textOf("two-pumps.yaml")).filter(({ circuit }) => circuit !== undefined)).toEqual([]);
  });
});

describe("weeks without maintenance", () => {
  const marine = (): Rig => ({
    ...rigR(0.3),
    salinityGPerKg: 35,
    evaporationM3PerS: 0.003 / 86400,
    topOff: { reservoirM3: 0.5, pumpM3PerS: 1e-5, onBelowM: 0.295, offAboveM: 0.3, salinityGPerKg: 0 },
  });
  const neglect = { days: 42, weirPerWeek: 0.2, padPerWeek: 0, topOff: "works" } as const;

  test("the head over a weir grows at constant flow, and top-off with fresh water dilutes the salt in proportion to the replaced water", () => {
    const story = simulateNeglect(marine(), neglect)!;
    const [first, last] = [story.days[0]!, story.days.at(-1)!];
    const crest = 1.187;
    const head = first.displayZ.display! - crest;
    // Q = 1.84 (L - 0.2 h) h^1.5 (Francis 1883, two end contractions): the same flow over a fifth less edge every week.
    const passes = (edge: number, h: number) => (edge - 0.2 * h) * h ** 1.5;
    // The pump gives half a percent less into the higher tank.
    const flow = passes(0.3 * 0.8 ** 6, last.displayZ.display! - crest) / passes(0.3, head);
    expect(flow).toBeLessThan(1);
    expect(flow).toBeGreaterThan(0.99);
    const replaced = 0.5 - last.reservoirM3 - 42 * 0.003;
    const water = new OutageSimulator(marine()).running().systemVolumeM3;
    expect(last.salinityGPerKg).toBeCloseTo((35 * water) / (water + replaced), 1);
    expect(replaced).toBeCloseTo(0.6 * (last.displayZ.display! - first.displayZ.display!), 2);
  });

  test("HY-8 as days: the sump with a margin of 43 mm becomes tight, then floods, on the day of the corresponding level", () => {
    const story = simulateNeglect(marine(), neglect)!;
    expect(story.tightDay).not.toBeNull();
    expect(story.floodDay! > story.tightDay!).toBe(true);
    // Each millimetre in the display raises the sump by 0.6 / 0.27 mm.
    const day = story.days.find(({ day }) => day === story.tightDay)!;
    const gained = day.displayZ.display! - story.days[0]!.displayZ.display!;
    expect(story.days[0]!.marginM - day.marginM).toBeCloseTo((gained * 0.6) / 0.27, 2);
  });

  test("with the top-off stuck closed the return chamber loses the water: the pump draws air, and the outage holds", () => {
    const story = simulateNeglect(marine(), { ...neglect, topOff: "stuck off" })!;
    expect(story.floodDay).toBeNull();
    expect(story.airDay).not.toBeNull();
    expect(story.days.at(-1)!.salinityGPerKg).toBeGreaterThan(35);
  });

  test("with the top-off stuck open, a reservoir larger than the free volume floods at once", () => {
    expect(simulateNeglect(marine(), { ...neglect, topOff: "stuck on" })!.floodDay).toBe(0);
  });
});
