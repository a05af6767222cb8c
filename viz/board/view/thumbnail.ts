// A small drawing of a system, for lists and starting points: vessels, water, media, pipes; to scale, without text.

import type { Rig } from "../../../models/rig.ts";
import { mostlyWritten, resolveScenario } from "../../../scenarios/build/build.ts";
import { chamberLevelsM } from "../../../scenarios/build/filter.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { layout } from "../../cutaway/layout.ts";
import type { Box, Layout, Point } from "../../cutaway/places.ts";
import { type Child, h, type Markup } from "../../view/markup.ts";

const WIDTH = 132;
const HEIGHT = 96;
const EDGE = 5;

/** The rig of a text, with usual heads over its weirs; null if the text cannot be parsed. */
export function rigOf(text: string): Rig | null {
  const loaded = loadScenario(text, "scenario");
  if (!loaded.ok) return null;
  try {
    return resolveScenario(loaded.scenario, { units: mostlyWritten(text), unknownScale: "ion", weirHeadsM: {} }).rig;
  } catch (error) {
    if (error instanceof RangeError || error instanceof TypeError) throw error;
    return null;
  }
}

const sheet = (): Markup =>
  h(
    "svg",
    { class: "thumb", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, "aria-hidden": "true" },
    h("path", { class: "thumb-line", d: "M30 10h52l20 20v56H30z" }),
    h("path", { class: "thumb-line", d: "M82 10v20h20" }),
    h("path", { class: "thumb-soft", d: "M42 48h38M42 58h48M42 68h30" }),
  );

/** The small drawing of a text; an empty sheet if there is nothing to draw. */
export function thumbnail(text: string): Markup {
  const rig = rigOf(text);
  if (!rig) return sheet();
  const plan: Layout = layout(rig);
  const { bounds } = plan;
  const scale = Math.min((WIDTH - 2 * EDGE) / (bounds.x1 - bounds.x0), (HEIGHT - 2 * EDGE) / (bounds.z1 - bounds.z0));
  const left = (WIDTH - (bounds.x1 - bounds.x0) * scale) / 2;
  const x = (m: number): number => left + (m - bounds.x0) * scale;
  const y = (z: number): number => HEIGHT - EDGE - (z - bounds.z0) * scale;
  const rect = (b: Box, name: string): Child =>
    h("rect", {
      class: name,
      x: x(b.x0),
      y: y(b.z1),
      width: (b.x1 - b.x0) * scale,
      height: Math.max(0.5, (b.z1 - b.z0) * scale),
    });
  const line = (points: readonly Point[], name: string): Child =>
    h("path", {
      class: name,
      d: points.map(([a, b], i) => `${i === 0 ? "M" : "L"}${x(a).toFixed(1)} ${y(b).toFixed(1)}`).join(""),
    });
  const levels = chamberLevelsM(rig.sump);
  const filled = (b: Box, z: number, name = "thumb-water"): Child => rect({ ...b, z1: Math.min(b.z1, z) }, name);
  return h(
    "svg",
    { class: "thumb", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, "aria-hidden": "true" },
    plan.displays.map(({ inside, overflows }) => filled(inside, Math.max(...overflows.map((o) => o.crest.z)))),
    plan.chambers.map(({ chamber, box }) => filled(box, levels[chamber.id] ?? rig.sump.runningLevelM)),
    plan.closed.map(({ box }) => rect(box, "thumb-water")),
    plan.towers.map(({ media }) => rect(media, "thumb-media")),
    plan.pipes.map(({ points }) => line(points, "thumb-soft")),
    plan.displays.map(({ inside }) => rect(inside, "thumb-line")),
    plan.displays.flatMap(({ overflows }) => overflows.map((o) => rect(o.inside, "thumb-line"))),
    rect(plan.sump, "thumb-line"),
    plan.baffles.map(({ box }) => rect(box, "thumb-line")),
    plan.towers.map(({ shell }) => rect(shell, "thumb-line")),
    plan.closed.map(({ box }) => rect(box, "thumb-line")),
    plan.reservoir && rect(plan.reservoir, "thumb-line"),
    h("path", { class: "thumb-line", d: `M0 ${y(plan.floorZ).toFixed(1)}H${WIDTH}` }),
  );
}
