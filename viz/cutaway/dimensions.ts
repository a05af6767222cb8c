// Dimension lines: RUNNING, OFF and RESTART PEAK of every display and of the return chamber, measured from the rim down.
import type { OutageTrace } from "../../scenarios/result/result.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { bareLength, type Reader } from "../view/reader.ts";
import { type LevelMarks, levelMarks, ruledVessels } from "./marks.ts";
import type { Box, Layout } from "./places.ts";
import type { Sheet } from "./sheet.ts";

/** Moves positions apart so that neighbours keep `gap`; order is kept, the middle of each crowd stays where it was. */
export function spread(wanted: readonly number[], gap: number): number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => wanted[a]! - wanted[b]! || a - b);
  const clusters: { members: number[]; mid: number }[] = [];
  for (const i of order) {
    let cluster = { members: [i], mid: wanted[i]! };
    for (;;) {
      const before = clusters.at(-1);
      if (!before) break;
      const reach = ((before.members.length + cluster.members.length) / 2) * gap;
      if (cluster.mid - before.mid >= reach) break;
      clusters.pop();
      const members = [...before.members, ...cluster.members];
      cluster = { members, mid: members.reduce((sum, m) => sum + wanted[m]!, 0) / members.length };
    }
    clusters.push(cluster);
  }
  const placed = [...wanted];
  for (const { members, mid } of clusters) {
    members.forEach((m, k) => {
      placed[m] = mid + (k - (members.length - 1) / 2) * gap;
    });
  }
  return placed;
}

export interface DimensionMark {
  readonly word: string;
  readonly short: string;
  readonly z: number;
}

/** Closer than a ruler tells apart. */
const SAME_M = 0.0015;

/** The marks of a vessel that are worth a dimension line; the restart is left out where it only comes back to RUNNING. */
export function marksOf(m: LevelMarks, isReturn: boolean): DimensionMark[] {
  const marks: DimensionMark[] = [{ word: "RUNNING", short: "RUN", z: m.runningZ }];
  const add = (word: string, short: string, z: number | null): void => {
    if (z !== null && !marks.some((k) => Math.abs(k.z - z) < SAME_M)) marks.push({ word, short, z });
  };
  add("OFF", "OFF", m.offZ);
  if (isReturn) add("RESTART LOW", "LOW", m.lowZ);
  else add("RESTART PEAK", "PEAK", m.peakZ);
  return marks;
}

/** Where a column of dimensions stands: its lines start at `fromX` and are set out from `edgeX` on, to the left or to the right. */
interface Stand {
  readonly sign: -1 | 1;
  readonly fromX: number;
  readonly edgeX: number;
  /** Words under the lowest level instead of beside each, clear of the surface. */
  readonly sunk: boolean;
}

function column(
  sheet: Sheet,
  box: Box,
  marks: readonly DimensionMark[],
  { sign, fromX, edgeX, sunk }: Stand,
  reader: Reader,
): Markup {
  const start = edgeX + sign * (sheet.narrow ? 6 : 12);
  const step = sheet.narrow ? 7 : 12;
  const rimY = sheet.y(box.z1);
  const levelY = marks.map((m) => sheet.y(m.z));
  const gap = sheet.narrow ? 23 : 17;
  const under = Math.max(...levelY) + (sheet.narrow ? 18 : 14);
  const [rimText = rimY, ...textY] = sunk ? [rimY, ...marks.map((_, i) => under + i * gap)] : spread([rimY, ...levelY], gap);
  const last = start + sign * step * (marks.length - 1);
  const textX = last + sign * (sheet.narrow ? 5 : 9);
  const anchor = sign < 0 ? "end" : "start";
  const lines: Child[] = [
    h("path", {
      class: "dim-extension",
      d: `M${fromX.toFixed(1)},${rimY.toFixed(1)}H${(last + sign * 4).toFixed(1)}`,
    }),
    h("text", { class: "dim-rim", x: textX, y: rimText + 3, "text-anchor": anchor }, "rim"),
  ];
  marks.forEach((m, i) => {
    const x = start + sign * step * i;
    const y = levelY[i]!;
    const down = box.z1 - m.z;
    lines.push(
      h("path", { class: "dim-extension", d: `M${fromX.toFixed(1)},${y.toFixed(1)}H${(x + sign * 4).toFixed(1)}` }),
      h("path", { class: "dim-level", d: `M${sheet.x(box.x0).toFixed(1)},${y.toFixed(1)}H${sheet.x(box.x1).toFixed(1)}` }),
      h("path", { class: "dim-line", d: `M${x.toFixed(1)},${rimY.toFixed(1)}V${y.toFixed(1)}` }),
      h("path", {
        class: "dim-tick",
        d: `M${(x - 3.5).toFixed(1)},${(rimY + 3.5).toFixed(1)}l7,-7M${(x - 3.5).toFixed(1)},${(y + 3.5).toFixed(1)}l7,-7`,
      }),
      !sunk &&
        h("path", {
          class: "leader",
          d: `M${(x + sign * 3).toFixed(1)},${y.toFixed(1)}L${(textX - sign * 2).toFixed(1)},${textY[i]!.toFixed(1)}`,
        }),
      sheet.narrow
        ? [
            h("text", { class: "dim-word", x: textX, y: textY[i]! - 1, "text-anchor": anchor }, m.short),
            h("text", { class: "dim-value", x: textX, y: textY[i]! + 10, "text-anchor": anchor }, bareLength(reader, down)),
          ]
        : h(
            "text",
            { class: "dim-text", x: textX, y: textY[i]! + 4, "text-anchor": anchor },
            h("tspan", { class: "dim-value" }, bareLength(reader, down)),
            h("tspan", { class: "dim-word", dx: 5 }, m.word),
          ),
    );
  });
  return h("g", { class: "dimensions" }, lines);
}

/** A display drawn narrower than this has no room for words in it; the table beside the drawing has them all [SVG units]. */
const LEAST_WIDE = 110;

/**
 * Dimension columns: left of the first display, right of the sump; those of further displays, which stand between others, inside, beside their
 * overflow.
 */
export function dimensions(layout: Layout, sheet: Sheet, story: OutageTrace, reader: Reader): Child[] {
  const ruled = ruledVessels(story);
  const displays = layout.displays.map(({ display, inside, overflows }, i) => {
    const trace = ruled.find((v) => v.kind === "display" && v.partOf === display.id);
    const boxes = overflows.filter((o) => !o.hung && o.inside.x0 < (inside.x0 + inside.x1) / 2);
    const clear = Math.max(inside.x0, ...boxes.map((o) => o.inside.x1)) + 0.02;
    const stand: Stand =
      i === 0
        ? { sign: -1, fromX: sheet.x(inside.x0) - 8, edgeX: sheet.x(layout.bounds.x0), sunk: false }
        : { sign: 1, fromX: sheet.x(clear), edgeX: sheet.x(clear), sunk: true };
    if (i > 0 && (inside.x1 - clear) * sheet.scale < LEAST_WIDE) return null;
    return trace && column(sheet, inside, marksOf(levelMarks(story, trace), false), stand, reader);
  });
  const chamber = layout.chambers.at(-1);
  const trace = ruled.find((v) => v.kind === "chamber");
  const right: Stand | null = chamber
    ? { sign: 1, fromX: sheet.x(chamber.box.x1) + 8, edgeX: sheet.x(layout.bounds.x1), sunk: false }
    : null;
  return [
    ...displays,
    chamber && trace && right && column(sheet, chamber.box, marksOf(levelMarks(story, trace), true), right, reader),
  ];
}
