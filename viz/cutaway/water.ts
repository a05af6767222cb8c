// Water in the drawing: the contents of a vessel, its surface symbol, and spills on the floor.
import { type Child, h, type Markup } from "../view/markup.ts";
import { type Reader, volume } from "../view/reader.ts";
import type { PatternIds } from "./patterns.ts";
import type { Box, Layout } from "./places.ts";
import { rectOf, type Sheet } from "./sheet.ts";
import type { TraceSample } from "./state.ts";

/** Rectangle of the water in one vessel: from its bottom to `z`, at most to the rim. */
export function waterRect(sheet: Sheet, b: Box, z: number): { x: number; y: number; width: number; height: number } {
  return rectOf(sheet, { ...b, z1: Math.max(b.z0, Math.min(z, b.z1)) });
}

export function drawWater(layout: Layout, sheet: Sheet, moment: TraceSample, pattern: PatternIds): Child[] {
  return layout.vessels
    .filter((place) => moment.surfaceZ.has(place.id))
    .map((place) => {
      const rect = waterRect(sheet, place.box, moment.surfaceZ.get(place.id)!);
      return h(
        "g",
        { class: "water", "data-water": place.id },
        h("rect", { class: "water-fill", ...rect }),
        h("rect", { class: "water-lines", ...rect, fill: `url(#${pattern.water})` }),
        h("path", { class: "water-surface", d: `M${rect.x.toFixed(1)},${rect.y.toFixed(1)}h${rect.width.toFixed(1)}` }),
      );
    });
}

/** The standard symbol of a free water surface: a triangle on it, with successively shorter lines below. */
export function levelSign(x: number, y: number, id: string): Markup {
  return h(
    "g",
    { class: "level-sign", "data-level": id, transform: `translate(${x.toFixed(1)},${y.toFixed(1)})` },
    h("path", { d: "M0,0l-4.5,-8h9z", class: "level-triangle" }),
    h("path", { d: "M-7,3H7M-4.5,5.6H4.5M-2,8.2H2", class: "level-lines" }),
  );
}

export const puddleWidthM = (floorM3: number, layout: Layout): number =>
  Math.min(layout.bounds.x1 - layout.bounds.x0, 0.18 + Math.sqrt(floorM3 / 0.01) * 0.22);

export function drawFloor(layout: Layout, sheet: Sheet, moment: TraceSample, reader: Reader, pattern: PatternIds): Child[] {
  const y = sheet.y(layout.floorZ);
  const x0 = sheet.x(layout.bounds.x0) - (sheet.narrow ? 34 : 60);
  const x1 = sheet.x(layout.bounds.x1) + (sheet.narrow ? 34 : 60);
  const wet = moment.floorM3 > 0;
  const wide = puddleWidthM(moment.floorM3, layout) * sheet.scale;
  const mid = sheet.x((layout.sump.x0 + layout.sump.x1) / 2);
  return [
    h("rect", { class: "ground", x: x0, y, width: x1 - x0, height: 9, fill: `url(#${pattern.ground})` }),
    h("path", { class: "ink-strong", d: `M${x0.toFixed(1)},${y.toFixed(1)}H${x1.toFixed(1)}` }),
    h(
      "g",
      { class: wet ? "puddle" : "puddle hidden", "data-puddle": "" },
      h("path", { class: "puddle-water", d: puddlePath(mid, y, wide) }),
      h(
        "text",
        { class: "puddle-label", x: mid, y: y + 24, "text-anchor": "middle" },
        wet ? `${volume(reader, moment.floorM3)} on the floor` : "",
      ),
    ),
  ];
}

export const puddlePath = (mid: number, y: number, wide: number): string =>
  `M${(mid - wide / 2).toFixed(1)},${y.toFixed(1)}q${(wide * 0.08).toFixed(1)},-7 ${(wide * 0.3).toFixed(1)},-6h${(wide * 0.4).toFixed(1)}q${(wide * 0.22).toFixed(1)},-1 ${(wide * 0.3).toFixed(1)},6z`;
