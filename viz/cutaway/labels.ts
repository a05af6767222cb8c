// Names of tanks, chambers and parts, and the scale.
import { hypot } from "../../sim/elementary.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { bareLength, type Reader } from "../view/reader.ts";
import { type Area, type PlacedLabel, placeLabels, textArea, textWidth, type WantedLabel } from "./placement.ts";
import type { Layout, Point } from "./places.ts";
import type { Sheet } from "./sheet.ts";

/** Font size of a name [drawing units, which are CSS pixels on the page]. */
export const NAME_SIZE = 12.5;

/** Width of the longest name with its leader [drawing units]. */
const NAME_WIDE = 140;

/** Smallest scale with space for the names of parts [drawing units per metre]. */
const LEAST_SCALE = 190;

/** Candidate offsets: the preferred one, then its mirror images, then larger ones. */
const around = (dx: number, dy: number): readonly (readonly [number, number])[] =>
  [1, 1.6, 0.6, 2.4].flatMap((far) =>
    [
      [dx, dy],
      [dx, -dy],
      [-dx, dy],
      [-dx, -dy],
    ].map(([x, y]): [number, number] => [x! * far, y! * far]),
  );

interface Named {
  readonly text: string;
  readonly at: Point;
  readonly to: readonly [dx: number, dy: number];
}

function partNames(layout: Layout, sheet: Sheet, reader: Reader): readonly Named[] {
  const names: Named[] = [];
  const first = layout.displays[0];
  const box = first?.overflows[0];
  if (box)
    names.push({
      text: box.overflow.kind === "standpipe" ? "standpipe" : box.hung ? "weir of the hung box" : "weir",
      at: [box.crest.x, box.crest.z],
      to: [34, 30],
    });
  const nozzle = first?.nozzles[0];
  if (nozzle) {
    names.push({ text: "nozzle tip", at: [nozzle.x, nozzle.tipZ], to: [-48, 34] });
    if (nozzle.hole) names.push({ text: "break hole", at: nozzle.hole, to: [-58, -26] });
  }
  const tower = layout.towers[0];
  if (tower) {
    // To the right if the return leaves space for a name, otherwise to the left.
    const riserX = Math.min(...layout.pipes.filter((p) => p.kind === "riser").map((p) => p.points[0]![0]));
    const right = (riserX - tower.shell.x1) * sheet.scale > NAME_WIDE || riserX < tower.shell.x0;
    const [x, sign] = right ? [tower.media.x1, 1] : [tower.media.x0, -1];
    const { media, pad, tray } = tower;
    names.push({
      text: `media, ${bareLength(reader, tower.tower.mediaDepthM)} deep`,
      at: [x, (media.z0 * 2 + media.z1) / 3],
      to: [26 * sign, 8],
    });
    if (pad) names.push({ text: "prefilter pad", at: [x, (pad.z0 + pad.z1) / 2], to: [30 * sign, -16] });
    names.push({ text: tower.tower.distribution, at: [x, tray.z0 + 0.004], to: [30 * sign, 10] });
  }
  return names;
}

/** A name on a leader. */
const leaderLabel = ({ text, at: [x, y], offset: [dx, dy] }: PlacedLabel): Markup =>
  h(
    "g",
    { class: "part-label" },
    h("path", { class: "leader", d: `M${x.toFixed(1)},${y.toFixed(1)}l${dx.toFixed(1)},${(dy - 4).toFixed(1)}` }),
    h("circle", { class: "leader-dot", cx: x, cy: y, r: 1.6 }),
    h("text", { class: "on-sheet", x: x + dx + (dx < 0 ? -3 : 3), y: y + dy, "text-anchor": dx < 0 ? "end" : "start" }, text),
  );

/** A name without a leader. */
const bareLabel = (text: string, x: number, y: number, anchor: "start" | "middle"): { text: Markup; area: Area } => ({
  text: h("text", { class: "part-name", x, y, "text-anchor": anchor }, text),
  area: textArea(text, NAME_SIZE, x, y, anchor),
});

/** Names above tanks: beside the rim, where the return pipe leaves space. */
function tankNames(layout: Layout, sheet: Sheet): readonly WantedLabel[] {
  return layout.displays.map(({ display, inside }) => {
    const start = (inside.x1 - inside.x0) * sheet.scale * 0.16;
    return {
      text: display.name,
      at: [sheet.x(inside.x0), sheet.y(inside.z1)] as const,
      offsets: [
        [start, -7],
        [start * 2, -7],
        [6, -7],
        [start, 16],
        [start * 2, 30],
        [start, (inside.z1 - inside.z0) * sheet.scale - 8],
      ],
      optional: false,
    };
  });
}

/** Role of each chamber, above the bottom of the sump, if the text fits the width. */
function chamberNames(layout: Layout, sheet: Sheet): readonly { text: Markup; area: Area }[] {
  return layout.chambers.flatMap(({ chamber, box }) => {
    const wide = (box.x1 - box.x0) * sheet.scale;
    const text = chamber.role;
    if (textWidth(text, NAME_SIZE) > wide - 6) return [];
    const last = chamber === layout.chambers.at(-1)?.chamber;
    // The pump is on the bottom of the last chamber.
    const y = last ? sheet.y(Math.max(layout.pump.z1, 0)) - 8 : sheet.y(box.z0) - 7;
    return [bareLabel(text, sheet.x((box.x0 + box.x1) / 2), y, "middle")];
  });
}

/** Names of the parts on the floor beside the sump. */
function floorNames(layout: Layout, sheet: Sheet): readonly { text: Markup; area: Area }[] {
  const beside = [
    ...(layout.reservoir ? [{ text: "top-off", box: layout.reservoir }] : []),
    ...layout.joined.map(({ tank, box }) => ({ text: tank.id, box })),
    ...layout.closed.map(({ box }) => ({ text: "closed filter", box })),
    ...layout.reactors.filter(({ inSump }) => !inSump).map(({ id, box }) => ({ text: id, box })),
  ];
  return beside.map(({ text, box }, i) =>
    bareLabel(text, sheet.x((box.x0 + box.x1) / 2), sheet.y(layout.floorZ) + 22 + (i % 2) * 15, "middle"),
  );
}

/** Longest piece of a pipe that counts as one area [drawing units]; a sloping pipe has many. */
const PIECE = 14;

/** The areas that pipes cover, which names keep clear of. */
const pipeAreas = (layout: Layout, sheet: Sheet): readonly Area[] =>
  layout.pipes.flatMap(({ points, boreM }) => {
    const half = Math.max(4, boreM * sheet.scale) / 2;
    return points.slice(1).flatMap((to, i) => {
      const [x0, y0] = [sheet.x(points[i]![0]), sheet.y(points[i]![1])];
      const [x1, y1] = [sheet.x(to[0]), sheet.y(to[1])];
      const sloping = x0 !== x1 && y0 !== y1;
      const pieces = sloping ? Math.ceil(hypot(x1 - x0, y1 - y0) / PIECE) : 1;
      return Array.from({ length: pieces }, (_, n): Area => {
        const [a, b] = [n / pieces, (n + 1) / pieces];
        const [ax, bx, ay, by] = [x0 + a * (x1 - x0), x0 + b * (x1 - x0), y0 + a * (y1 - y0), y0 + b * (y1 - y0)];
        return {
          x0: Math.min(ax, bx) - half,
          x1: Math.max(ax, bx) + half,
          y0: Math.min(ay, by) - half,
          y1: Math.max(ay, by) + half,
        };
      });
    });
  });

/**
 * All names of the drawing.
 * @param taken areas of the dimensions, which were placed before
 */
export function drawLabels(layout: Layout, sheet: Sheet, reader: Reader, taken: readonly Area[]): Child[] {
  const room = { x0: 2, x1: sheet.width - 2, y0: 2, y1: sheet.height - 14 };
  const tanks = placeLabels(tankNames(layout, sheet), NAME_SIZE, room, taken);
  const fixed = [...chamberNames(layout, sheet), ...(sheet.narrow ? [] : floorNames(layout, sheet))];
  const covered = [...taken, ...tanks.map((t) => t.area), ...fixed.map((f) => f.area), ...pipeAreas(layout, sheet)];
  const parts =
    sheet.narrow || sheet.scale < LEAST_SCALE
      ? []
      : placeLabels(
          partNames(layout, sheet, reader).map(({ text, at, to: [dx, dy] }) => ({
            text,
            at: [sheet.x(at[0]), sheet.y(at[1])] as const,
            offsets: around(dx, dy),
            optional: true,
          })),
          NAME_SIZE,
          room,
          covered,
        );
  return [
    tanks.map(({ text, at, offset }) => h("text", { class: "part-name", x: at[0] + offset[0], y: at[1] + offset[1] }, text)),
    fixed.map(({ text }) => text),
    parts.map(leaderLabel),
  ];
}

export function scaleBar(layout: Layout, sheet: Sheet, reader: Reader): Markup {
  const lengthM = reader.units === "metric" ? (sheet.narrow ? 0.2 : 0.3) : 0.3048;
  const x = sheet.x(layout.bounds.x0);
  const y = sheet.height - 6;
  const wide = lengthM * sheet.scale;
  const half = wide / 2;
  const [bar, unit] = reader.units === "metric" ? [`${lengthM * 1000} mm`, "mm"] : ["1 ft", "inches"];
  return h(
    "g",
    { class: "scale-bar" },
    h("rect", { x, y: y - 4, width: half, height: 4, class: "bar-dark" }),
    h("rect", { x: x + half, y: y - 4, width: half, height: 4, class: "bar-light" }),
    h(
      "text",
      { x: x + wide + 6, y },
      sheet.narrow ? `${bar}; levels in ${unit}` : `${bar}, to scale; levels in ${unit} below the rim`,
    ),
  );
}
