// The section drawing is to scale: heights are those of the rig, and every vessel of the model has a place.
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Rig } from "../../../models/rig.ts";
import { resolveScenario } from "../../../scenarios/build/build.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { spread } from "../../../viz/cutaway/dimensions.ts";

import { layout } from "../../../viz/cutaway/layout.ts";
import { at, levelMarks, ruledVessels, sampleBefore, stageTimes } from "../../../viz/cutaway/marks.ts";
import { sheetFor } from "../../../viz/cutaway/sheet.ts";
import { bind, traceSampleAt } from "../../../viz/cutaway/state.ts";
import { wetColumns } from "../../../viz/cutaway/tower.ts";
import { waterRect } from "../../../viz/cutaway/water.ts";
import { fixtureResult, fixtureRig } from "../fixture.ts";

const folder = new URL("../../../scenarios/shipped/", import.meta.url);
const shipped: readonly (readonly [string, Rig])[] = readdirSync(folder)
  .filter((name) => name.endsWith(".yaml"))
  .map((name) => {
    const loaded = loadScenario(readFileSync(new URL(name, folder), "utf8"), name);
    if (!loaded.ok) throw new Error(`${name} does not load`);
    return [name, resolveScenario(loaded.scenario, { units: "metric", unknownScale: "ion", weirHeadsM: {} }).rig] as const;
  });

describe("layout of every shipped scenario", () => {
  it.each(shipped)("%s: heights and lengths are those of the rig", (_, rig) => {
    const plan = layout(rig);
    for (const [i, d] of rig.displays.entries()) {
      const { inside } = plan.displays[i]!;
      expect(inside.x1 - inside.x0).toBeCloseTo(d.lengthM, 9);
      expect(inside.z0).toBeCloseTo(d.bottomZ, 9);
      expect(inside.z1 - inside.z0).toBeCloseTo(d.heightM, 9);
    }
    expect(plan.sump.x1 - plan.sump.x0).toBeCloseTo(rig.sump.lengthM, 9);
    expect(plan.sump.z1 - plan.sump.z0).toBeCloseTo(rig.sump.heightM, 9);
    for (const [i, t] of rig.towers.entries()) {
      const { media } = plan.towers[i]!;
      expect(media.z0).toBeCloseTo(t.grateZ, 9);
      expect(media.z1 - media.z0).toBeCloseTo(t.mediaDepthM, 9);
    }
    for (const n of rig.return.nozzles) {
      const pipe = plan.pipes.find((p) => p.id === n.id)!;
      expect(pipe.points.some(([, z]) => Math.abs(z - n.tipZ) < 1e-9)).toBe(true);
    }
    for (const d of rig.displays.flatMap((x) => x.overflows.flatMap((o) => o.drains)))
      expect(plan.pipes.some((p) => p.id === d.id)).toBe(true);
    expect(plan.chambers.map((c) => c.chamber.id)).toEqual(rig.sump.chambers.map((c) => c.id));
  });

  it.each(shipped)("%s: no part overlaps another, and the chambers fill the sump side by side", (_, rig) => {
    const plan = layout(rig);
    const inside = (x: number, z: number): boolean =>
      x >= plan.bounds.x0 - 1e-9 && x <= plan.bounds.x1 + 1e-9 && z >= plan.bounds.z0 - 1e-9 && z <= plan.bounds.z1 + 1e-9;
    for (const p of plan.pipes) for (const [x, z] of p.points) expect(inside(x, z), `${p.id} at ${x}, ${z}`).toBe(true);
    for (const v of plan.vessels) expect(inside(v.box.x0, v.box.z0) && inside(v.box.x1, v.box.z1), v.id).toBe(true);
    for (let i = 1; i < plan.chambers.length; i++)
      expect(plan.chambers[i]!.box.x0).toBeGreaterThanOrEqual(plan.chambers[i - 1]!.box.x1);
    expect(plan.chambers.at(-1)!.box.x1).toBeCloseTo(plan.sump.x1, 9);
  });
});

describe("a closed filter", () => {
  const [, rig] = shipped.find(([name]) => name === "canister-left-standing.yaml")!;
  const plan = layout(rig);
  const [filter] = rig.closedFilters;

  it("is on the floor beside the sump, with room for its water and media", () => {
    const { box } = plan.closed[0]!;
    const solids = filter!.media.volumeM3 * (1 - filter!.media.voidShare);
    expect((box.x1 - box.x0) ** 2 * (box.z1 - box.z0)).toBeCloseTo(filter!.waterM3 + solids, 9);
    expect(box.z0).toBe(plan.floorZ);
    expect(box.x0).toBeGreaterThan(plan.sump.x1);
  });

  it("draws through its intake at its real depth and returns through the other hose, only while the power is on", () => {
    const [intake, outlet] = plan.pipes.filter((p) => p.kind === "hose");
    const crest = Math.max(...rig.displays[0]!.overflows.map((o) => o.crestZ));
    expect(crest - intake!.points[0]![1]).toBeCloseTo(filter!.intakeDepthM, 9);
    expect(outlet!.points[0]![1]).toBeCloseTo(plan.closed[0]!.box.z1, 9);
    const binding = bind(plan, fixtureResult().hydraulics.stories[0]!);
    expect(traceSampleAt(binding, 10).flowM3PerS.get(intake!.id)).toBe(filter!.flowM3PerS);
    expect(traceSampleAt(binding, 100).flowM3PerS.get(outlet!.id)).toBe(0);
    expect(traceSampleAt(binding, 250).flowM3PerS.get(outlet!.id)).toBe(filter!.flowM3PerS);
  });
});

describe("the sheet", () => {
  it.each([390, 760, 1180])("keeps one scale in both directions at %i px", (width) => {
    const plan = layout(fixtureRig);
    const sheet = sheetFor(plan, width);
    expect(sheet.x(1) - sheet.x(0)).toBeCloseTo(sheet.y(0) - sheet.y(1), 9);
    expect(sheet.x(plan.bounds.x1)).toBeLessThan(width);
    expect(sheet.y(plan.bounds.z0)).toBeLessThan(sheet.height);
  });

  it("draws water from the bottom to its level and never above the rim", () => {
    const sheet = sheetFor(layout(fixtureRig), 900);
    const box = { x0: 0, x1: 0.5, z0: 0, z1: 0.4 };
    expect(waterRect(sheet, box, 0.1).height / sheet.scale).toBeCloseTo(0.1, 9);
    expect(waterRect(sheet, box, 9).height / sheet.scale).toBeCloseTo(0.4, 9);
    expect(waterRect(sheet, box, -1).height).toBe(0);
  });

  it("spreads labels apart, in order and close to their places", () => {
    expect(spread([10, 100], 15)).toEqual([10, 100]);
    expect(spread([10, 10, 10], 10)).toEqual([0, 10, 20]);
    const placed = spread([50, 48, 90, 51], 12);
    const sorted = [...placed].sort((a, b) => a - b);
    for (let i = 1; i < sorted.length; i++) expect(sorted[i]! - sorted[i - 1]!).toBeGreaterThanOrEqual(12 - 1e-9);
    expect(placed[1]!).toBeLessThan(placed[0]!);
    expect(placed[2]).toBe(90);
  });

  it("wets a number of media strips in proportion to the share", () => {
    for (const share of [0, 0.25, 0.5, 0.8, 1]) {
      const even = wetColumns(share, false).filter(Boolean).length;
      expect(Math.abs(even / wetColumns(share, false).length - share)).toBeLessThanOrEqual(
        0.5 / wetColumns(share, false).length + 1e-9,
      );
      expect(wetColumns(share, true).filter(Boolean).length).toBe(even);
    }
    expect(wetColumns(0.5, true)[0]).toBe(true);
    expect(wetColumns(0.5, true).at(-1)).toBe(false);
  });
});

describe("an outage run at a moment", () => {
  const story = fixtureResult().hydraulics.stories[0]!;

  it("interpolates levels and holds flows", () => {
    expect(at([0, 10, 20], [0, 100, 100], 5)).toBe(50);
    expect(at([0, 10, 20], [0, 100, 100], -5)).toBe(0);
    expect(at([0, 10, 20], [0, 100, 100], 99)).toBe(100);
    expect(sampleBefore([0, 10, 20], 19.9)).toBe(1);
    const binding = bind(layout(fixtureRig), story);
    const t = story.timeS[7]!;
    const flow = story.flows.find((f) => f.id === "out of nozzle")!.m3PerS[7]!;
    expect(traceSampleAt(binding, t + 0.5).flowM3PerS.get("nozzle")).toBe(flow);
  });

  it("binds a trace to every drawn vessel and a flow to every pipe", () => {
    const binding = bind(layout(fixtureRig), story);
    expect(binding.surfaces.map((s) => s.place).sort()).toEqual(["display", "heater", "inlet", "overflow", "return", "top-off"]);
    for (const flow of binding.flows.filter((f) => !f.place.includes(">")))
      expect(flow.lines.length, flow.place).toBeGreaterThan(0);
  });

  it("finds RUNNING before the outage, OFF at the restart, and the extremes after it", () => {
    const { cutS, restartS } = stageTimes(story);
    expect([cutS, restartS]).toEqual([30, 240]);
    const [display, chamber] = ruledVessels(story).map((v) => levelMarks(story, v));
    expect(display!.runningZ).toBeCloseTo(1.393, 3);
    expect(display!.offZ!).toBeLessThan(display!.runningZ);
    expect(chamber!.offZ!).toBeGreaterThan(chamber!.runningZ);
    expect(chamber!.lowZ!).toBeLessThan(chamber!.offZ!);
    expect(display!.peakZ!).toBeGreaterThanOrEqual(display!.offZ!);
  });
});
