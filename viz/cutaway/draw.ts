// The section drawing of a rig at one moment of a story. Static SVG first; the player then moves only water and flows.
import type { NitrogenResult, RunResult, Story } from "../../scenarios/result.ts";
import { type Child, h, type Markup } from "../markup.ts";
import { bareLength, type Reader, volume } from "../reader.ts";
import { dimensions } from "./dimensions.ts";
import type { Box, Layout, Point } from "./layout.ts";
import { drawDisplayGlass, drawPipe, drawPump, drawSumpGlass } from "./parts.ts";
import { type PatternIds, patterns } from "./patterns.ts";
import type { Moment } from "./state.ts";
import { drawTower } from "./tower.ts";

/** Turns metres into the SVG's units. */
export interface Sheet {
  readonly width: number;
  readonly height: number;
  /** SVG units per metre. */
  readonly scale: number;
  x(m: number): number;
  y(z: number): number;
  readonly narrow: boolean;
}

/** A sheet of the given width that leaves room for the dimensions on both sides. */
export function sheetFor(layout: Layout, width: number): Sheet {
  const narrow = width < 620;
  const left = narrow ? 58 : 158;
  const right = narrow ? 60 : 176;
  const top = narrow ? 22 : 26;
  const { bounds } = layout;
  const wide = bounds.x1 - bounds.x0;
  const high = bounds.z1 - bounds.z0;
  const scale = Math.min((width - left - right) / wide, (narrow ? 560 : 720) / high);
  const spare = width - left - right - wide * scale;
  const foot = narrow ? 30 : 34;
  return {
    width,
    height: Math.ceil(top + high * scale + foot),
    scale,
    narrow,
    x: (m) => left + spare / 2 + (m - bounds.x0) * scale,
    y: (z) => top + (bounds.z1 - z) * scale,
  };
}

export const pathOf = (sheet: Sheet, points: readonly Point[]): string =>
  points.map(([x, z], i) => `${i === 0 ? "M" : "L"}${sheet.x(x).toFixed(1)},${sheet.y(z).toFixed(1)}`).join("");

export const rectOf = (sheet: Sheet, b: Box): { x: number; y: number; width: number; height: number } => ({
  x: sheet.x(b.x0),
  y: sheet.y(b.z1),
  width: (b.x1 - b.x0) * sheet.scale,
  height: (b.z1 - b.z0) * sheet.scale,
});

/** The drawn body of water of one vessel: from its bottom to `z`, never above the rim. */
export function waterRect(sheet: Sheet, b: Box, z: number): { x: number; y: number; width: number; height: number } {
  return rectOf(sheet, { ...b, z1: Math.max(b.z0, Math.min(z, b.z1)) });
}

function drawWater(layout: Layout, sheet: Sheet, moment: Moment, pattern: PatternIds): Child[] {
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

/** The drafter's sign for a free water surface: a triangle standing on it, with shortening lines below. */
function levelSign(x: number, y: number, id: string): Markup {
  return h(
    "g",
    { class: "level-sign", "data-level": id, transform: `translate(${x.toFixed(1)},${y.toFixed(1)})` },
    h("path", { d: "M0,0l-4.5,-8h9z", class: "level-triangle" }),
    h("path", { d: "M-7,3H7M-4.5,5.6H4.5M-2,8.2H2", class: "level-lines" }),
  );
}

export const puddleWidthM = (floorM3: number, layout: Layout): number =>
  Math.min(layout.bounds.x1 - layout.bounds.x0, 0.18 + Math.sqrt(floorM3 / 0.01) * 0.22);

function drawFloor(layout: Layout, sheet: Sheet, moment: Moment, reader: Reader, pattern: PatternIds): Child[] {
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

/** Outline of a heap of rock, on a base of one and a height of one. */
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

/** What takes up room in a display: a layer where it covers most of the floor, else a heap as high as it is. */
function drawRock(layout: Layout, sheet: Sheet, pattern: PatternIds): Child[] {
  return layout.displays.flatMap(({ display, inside }) => {
    const plan = display.lengthM * display.widthM;
    const real = display.displacements.filter((d) => d.toM > d.fromM && d.areaM2 > 0);
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

function drawSubmergedMedia(layout: Layout, sheet: Sheet, pattern: PatternIds): Child[] {
  return layout.chambers.flatMap(({ chamber, box }) => {
    const media = chamber.submergedMedia;
    if (!media || media.volumeM3 <= 0) return [];
    const inner = box.x1 - box.x0 - 0.016;
    const high = Math.min((box.z1 - box.z0) * 0.8, media.volumeM3 / (inner * 0.36));
    const rect = rectOf(sheet, { x0: box.x0 + 0.008, x1: box.x1 - 0.008, z0: box.z0 + 0.02, z1: box.z0 + 0.02 + high });
    return [h("rect", { class: "media-box", ...rect, fill: `url(#${pattern.media(media.kind)})` })];
  });
}

function drawCabinet(layout: Layout, sheet: Sheet): Child[] {
  const underside = Math.min(...layout.displays.map((d) => d.inside.z0 - d.display.glassM));
  const left = Math.min(...layout.displays.map((d) => d.inside.x0 - d.display.glassM));
  const right = Math.max(...layout.displays.map((d) => d.inside.x1 + d.display.glassM));
  const board = rectOf(sheet, { x0: left - 0.01, x1: right + 0.01, z0: underside - 0.035, z1: underside - 0.002 });
  const legs = [left, right - 0.02].map((x) =>
    h("rect", { class: "stand", ...rectOf(sheet, { x0: x, x1: x + 0.02, z0: layout.floorZ, z1: underside - 0.035 }) }),
  );
  return [h("rect", { class: "stand board", ...board }), ...legs];
}

interface Label {
  readonly text: string;
  readonly at: Point;
  readonly to: readonly [dx: number, dy: number];
}

/** Names of the parts, on leaders, as on a drawing. */
function drawLabels(layout: Layout, sheet: Sheet, reader: Reader): Child[] {
  if (sheet.narrow || sheet.scale < 260) return [];
  const labels: Label[] = [];
  const first = layout.displays[0];
  if (first) {
    const box = first.overflows[0];
    if (box) labels.push({ text: box.hung ? "weir of the hung box" : "weir", at: [box.crest.x, box.crest.z], to: [34, 30] });
    const nozzle = first.nozzles[0];
    if (nozzle) {
      labels.push({ text: `nozzle tip`, at: [nozzle.x, nozzle.tipZ], to: [-48, 34] });
      const bore = layout.displays[0]!.nozzles[0]!.hole;
      if (bore) labels.push({ text: "break hole", at: bore, to: [-58, -26] });
    }
  }
  const tower = layout.towers[0];
  if (tower) {
    labels.push({
      text: `media, ${bareLength(reader, tower.tower.mediaDepthM)} deep`,
      at: [tower.media.x1, (tower.media.z0 * 2 + tower.media.z1) / 3],
      to: [26, 8],
    });
    if (tower.pad) labels.push({ text: "prefilter pad", at: [tower.pad.x1, (tower.pad.z0 + tower.pad.z1) / 2], to: [30, -16] });
    labels.push({ text: tower.tower.distribution, at: [tower.tray.x1, tower.tray.z0 + 0.004], to: [30, 10] });
  }
  return labels.map(({ text, at, to }) => {
    const x = sheet.x(at[0]);
    const y = sheet.y(at[1]);
    const anchor = to[0] < 0 ? "end" : "start";
    return h(
      "g",
      { class: "part-label" },
      h("path", { class: "leader", d: `M${x.toFixed(1)},${y.toFixed(1)}l${to[0]},${to[1]}` }),
      h("circle", { class: "leader-dot", cx: x, cy: y, r: 1.6 }),
      h("text", { class: "on-sheet", x: x + to[0] + (to[0] < 0 ? -3 : 3), y: y + to[1] + 4, "text-anchor": anchor }, text),
    );
  });
}

function scaleBar(layout: Layout, sheet: Sheet, reader: Reader): Markup {
  const lengthM = reader.units === "metric" ? (sheet.narrow ? 0.2 : 0.3) : 0.3048;
  const x = sheet.x(layout.bounds.x0);
  const y = sheet.height - 8;
  const wide = lengthM * sheet.scale;
  const half = wide / 2;
  return h(
    "g",
    { class: "scale-bar" },
    h("rect", { x, y: y - 4, width: half, height: 4, class: "bar-dark" }),
    h("rect", { x: x + half, y: y - 4, width: half, height: 4, class: "bar-light" }),
    h(
      "text",
      { x: x + wide + 6, y },
      `${reader.units === "metric" ? `${lengthM * 1000} mm` : "1 ft"}${sheet.narrow ? "" : ", to scale"}; levels ${reader.units === "metric" ? "in mm" : "in inches"} down from the rim`,
    ),
  );
}

/** Which surfaces of the nitrogen result belong to which tower: for the tone of the media. */
export function towerSurface(nitrogen: NitrogenResult, towerId: string): NitrogenResult["surfaces"][number] | undefined {
  return (
    nitrogen.surfaces.find((s) => s.cell === towerId || s.id === towerId || s.id.startsWith(`${towerId}.`)) ??
    nitrogen.surfaces.find((s) => /tower|media/i.test(s.name))
  );
}

/**
 * The whole drawing.
 * @param prefix unique within the page, so that patterns of two drawings do not mix
 */
export function drawCutaway(
  result: RunResult,
  layout: Layout,
  story: Story,
  moment: Moment,
  reader: Reader,
  width: number,
  prefix: string,
  caption: string,
): Markup {
  const sheet = sheetFor(layout, width);
  const { defs, ids } = patterns(prefix, sheet.scale, layout.towers[0]?.tower.media.pieceM ?? 0.03);
  const signs = layout.vessels
    .filter((v) => v.kind === "display" || v.id === layout.chambers.at(-1)?.chamber.id)
    .filter((v) => moment.surfaceZ.has(v.id))
    .map((v) =>
      levelSign(
        sheet.x(v.kind === "display" ? v.box.x0 + (v.box.x1 - v.box.x0) * 0.3 : (v.box.x0 + v.box.x1) / 2),
        sheet.y(moment.surfaceZ.get(v.id)!),
        v.id,
      ),
    );
  return h(
    "svg",
    {
      class: "cutaway",
      viewBox: `0 0 ${sheet.width} ${sheet.height}`,
      role: "img",
      "aria-label": caption,
      "data-story": story.id,
    },
    h("defs", {}, defs),
    drawCabinet(layout, sheet),
    drawFloor(layout, sheet, moment, reader, ids),
    drawWater(layout, sheet, moment, ids),
    drawRock(layout, sheet, ids),
    dimensions(layout, sheet, story, reader),
    layout.reservoir && h("rect", { class: "vessel-outline", ...rectOf(sheet, layout.reservoir) }),
    layout.reservoir &&
      !sheet.narrow &&
      h(
        "text",
        {
          class: "part-name",
          x: sheet.x((layout.reservoir.x0 + layout.reservoir.x1) / 2),
          y: sheet.y(layout.reservoir.z1) - 6,
          "text-anchor": "middle",
        },
        "top-off",
      ),
    drawSubmergedMedia(layout, sheet, ids),
    layout.towers.map((t) => drawTower(t, sheet, ids, moment, towerSurface(result.nitrogen, t.tower.id), layout)),
    drawSumpGlass(layout, sheet, ids),
    layout.displays.map((d) => drawDisplayGlass(d, sheet, ids)),
    layout.falls
      .filter((f) => !layout.towers.some((t) => t.tower.id === f.from))
      .map((f) => {
        const q = moment.flowM3PerS.get(f.id) ?? 0;
        return h("path", { class: q > 1e-7 ? "fall" : "fall hidden", "data-flow": f.id, d: pathOf(sheet, f.points) });
      }),
    layout.pipes.map((p) => drawPipe(p, sheet, moment.flowM3PerS.get(p.id) ?? 0)),
    drawPump(layout, sheet),
    layout.displays.flatMap((d) =>
      d.nozzles.map(
        (n) => n.hole && h("circle", { class: "break-hole", cx: sheet.x(n.hole[0]), cy: sheet.y(n.hole[1]), r: 2.6 }),
      ),
    ),
    signs,
    drawLabels(layout, sheet, reader),
    scaleBar(layout, sheet, reader),
  );
}
