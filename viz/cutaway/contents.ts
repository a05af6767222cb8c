// Solids in the water: rock and gravel of a display, media in a chamber or in a closed filter.
import type { Displacement } from "../../models/rig.ts";
import { square } from "../../sim/elementary.ts";
import { type Child, h } from "../view/markup.ts";
import type { PatternIds } from "./patterns.ts";
import type { Layout, Point } from "./places.ts";
import { pathOf, rectOf, type Sheet } from "./sheet.ts";

/** Outline of a rock pile with unit base and unit height. */
const HEAP: readonly (readonly [number, number])[] = [
  [-0.5, 0],
  [-0.45, 0.3],
  [-0.38, 0.36],
  [-0.33, 0.62],
  [-0.22, 0.6],
  [-0.16, 0.86],
  [-0.05, 1],
  [0.05, 0.92],
  [0.09, 0.56],
  [0.2, 0.52],
  [0.26, 0.78],
  [0.35, 0.7],
  [0.42, 0.34],
  [0.5, 0],
];

/** Solids in a display: a layer if they cover most of the floor, otherwise a pile of the given height. */
export function drawRock(layout: Layout, sheet: Sheet, pattern: PatternIds): Child[] {
  return layout.displays.flatMap(({ display, inside }) => {
    const plan = display.lengthM * display.widthM;
    // An overflow box in the tank displaces water too, and is drawn as what it is.
    const boxes = new Set(display.overflows.map(({ box }) => box.planAreaM2));
    const isBox = (d: Displacement): boolean => d.toM === display.heightM && boxes.has(d.areaM2);
    const real = display.displacements.filter((d) => d.toM > d.fromM && d.areaM2 > 0 && !isBox(d));
    const layers = real.filter((d) => d.areaM2 > 0.45 * plan);
    const heap = real.filter((d) => !layers.includes(d));
    const base = Math.max(0, ...layers.map((d) => d.toM));
    const top = Math.max(0, ...heap.map((d) => d.toM));
    const wide = Math.min(
      (inside.x1 - inside.x0) * 0.55,
      Math.max(top * 1.3, (Math.max(0, ...heap.map((d) => d.areaM2)) / display.widthM) * 1.6),
    );
    const mid = inside.x0 + (inside.x1 - inside.x0) * 0.56;
    return [
      ...layers.map((d) =>
        h("rect", {
          class: "gravel",
          ...rectOf(sheet, { ...inside, z0: inside.z0 + d.fromM, z1: inside.z0 + d.toM }),
          fill: `url(#${pattern.foam})`,
        }),
      ),
      heap.length > 0 &&
        h("path", {
          class: "rock",
          d: `${pathOf(
            sheet,
            HEAP.map(([x, z]): Point => [mid + x * wide, inside.z0 + base + z * (top - base)]),
          )}Z`,
        }),
    ];
  });
}

export function drawSubmergedMedia(layout: Layout, sheet: Sheet, pattern: PatternIds): Child[] {
  return layout.chambers.flatMap(({ chamber, box }) => {
    const media = chamber.submergedMedia;
    if (!media || media.volumeM3 <= 0) return [];
    const inner = box.x1 - box.x0 - 0.016;
    const high = Math.min((box.z1 - box.z0) * 0.8, media.volumeM3 / (inner * 0.36));
    const rect = rectOf(sheet, { x0: box.x0 + 0.008, x1: box.x1 - 0.008, z0: box.z0 + 0.02, z1: box.z0 + 0.02 + high });
    return [h("rect", { class: "media-box", ...rect, fill: `url(#${pattern.media(media.kind)})` })];
  });
}

/** A closed filter in section: its vessel, its lid, and the media in it. */
export function drawClosed(layout: Layout, sheet: Sheet, pattern: PatternIds): Child[] {
  return layout.closed.map(({ filter, box }) => {
    const lid = (box.z1 - box.z0) * 0.14;
    const plan = square(box.x1 - box.x0);
    const packed = Math.min(box.z1 - box.z0 - lid - 0.02, filter.media.volumeM3 / plan);
    return h(
      "g",
      { class: "closed-filter" },
      h("rect", { class: "water-fill", ...rectOf(sheet, box) }),
      h("rect", {
        class: "media-box",
        ...rectOf(sheet, { x0: box.x0 + 0.006, x1: box.x1 - 0.006, z0: box.z0 + 0.015, z1: box.z0 + 0.015 + packed }),
        fill: `url(#${pattern.media(filter.media.kind)})`,
      }),
      h("rect", { class: "vessel-outline", ...rectOf(sheet, box) }),
      h("rect", { class: "plate", ...rectOf(sheet, { ...box, z0: box.z1 - lid }) }),
    );
  });
}
