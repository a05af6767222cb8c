// Dimension lines: RUNNING, OFF and RESTART of every display and of the return chamber, measured from the rim down.
import type { OutageTrace } from "../../scenarios/result/result.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { bareBelowRim, type Reader } from "../view/reader.ts";
import { type LevelMarks, levelMarks, ruledVessels, runningWord } from "./marks.ts";
import type { Area } from "./placement.ts";
import { textArea, textWidth } from "./placement.ts";
import type { Box, Layout } from "./places.ts";
import type { Sheet } from "./sheet.ts";

/** Moves positions apart so that neighbours keep `gap`. Preserves the order and the centre of each cluster. */
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

/** Difference of two levels below the resolution of a ruler [m]. */
const SAME_M = 0.0015;

/** Marks of a vessel that get a dimension line. RESTART is omitted if the level only returns to RUNNING. */
export function marksOf(m: LevelMarks, isReturn: boolean, running: string): DimensionMark[] {
  const marks: DimensionMark[] = [{ word: running, short: running === "RUNNING" ? "RUN" : running, z: m.runningZ }];
  const add = (word: string, short: string, z: number | null): void => {
    if (z !== null && !marks.some((k) => Math.abs(k.z - z) < SAME_M)) marks.push({ word, short, z });
  };
  add("OFF", "OFF", m.offZ);
  if (isReturn) add("RESTART", "LOW", m.lowZ);
  else add("RESTART", "PEAK", m.peakZ);
  return marks;
}

/**
 * Position of a column of dimensions: its lines start at `fromX`; the dimensions begin at `edgeX`, to the left or to the
 * right.
 */
interface Stand {
  readonly sign: -1 | 1;
  readonly fromX: number;
  readonly edgeX: number;
  /** The labels are below the lowest level instead of beside each one, away from the surface. */
  readonly sunk: boolean;
}

interface DimensionLine {
  readonly mark: DimensionMark;
  readonly value: string;
  readonly x: number;
  readonly y: number;
  readonly textY: number;
}

/** Layout of one column, from which its drawing and its areas follow. */
export interface DimensionColumn {
  readonly narrow: boolean;
  readonly sign: -1 | 1;
  readonly fromX: number;
  readonly lastX: number;
  readonly boxX0: number;
  readonly boxX1: number;
  readonly rimY: number;
  readonly rimTextY: number;
  readonly textX: number;
  readonly sunk: boolean;
  readonly lines: readonly DimensionLine[];
}

const VALUE_SIZE = 14;
const WORD_SIZE = 12;
const WORD_GAP = 5;
/** Highest label position [drawing units]. */
const TOP_TEXT_Y = 12;
/** Space below the lowest label, for the scale bar [drawing units]. */
const BOTTOM_TEXT = 32;

function layColumn(
  sheet: Sheet,
  box: Box,
  marks: readonly DimensionMark[],
  { sign, fromX, edgeX, sunk }: Stand,
  reader: Reader,
): DimensionColumn {
  const start = edgeX + sign * (sheet.narrow ? 6 : 12);
  const step = sheet.narrow ? 7 : 12;
  const rimY = sheet.y(box.z1);
  const levelY = marks.map((m) => sheet.y(m.z));
  const gap = sheet.narrow ? 30 : 18;
  const under = Math.max(...levelY) + (sheet.narrow ? 20 : 15);
  const wanted = sunk ? [rimY, ...marks.map((_, i) => under + i * gap)] : spread([rimY, ...levelY], gap);
  // Labels near the top move down until the first is on the sheet.
  const raised = Math.max(0, TOP_TEXT_Y - Math.min(...wanted));
  // Labels near the bottom move up until the last is on the sheet.
  const sunkBy = Math.max(0, Math.max(...wanted) + BOTTOM_TEXT - sheet.height);
  const [rimTextY = rimY, ...textY] = wanted.map((y) => y + raised - sunkBy);
  const last = start + sign * step * (marks.length - 1);
  return {
    narrow: sheet.narrow,
    sign,
    fromX,
    lastX: last,
    boxX0: sheet.x(box.x0),
    boxX1: sheet.x(box.x1),
    rimY,
    rimTextY,
    textX: last + sign * (sheet.narrow ? 5 : 9),
    sunk,
    lines: marks.map((mark, i) => ({
      mark,
      value: bareBelowRim(reader, box.z1 - mark.z),
      x: start + sign * step * i,
      y: levelY[i]!,
      textY: textY[i]!,
    })),
  };
}

/** Inside a tank there is space only for the short label. */
const wordOf = (column: DimensionColumn, mark: DimensionMark): string => (column.sunk ? mark.short : mark.word);

/** Areas of the sheet that the labels of a column cover. */
export function columnAreas(column: DimensionColumn): readonly Area[] {
  const { sign, textX, narrow, rimTextY } = column;
  const anchor = sign < 0 ? "end" : "start";
  return [
    textArea("rim", WORD_SIZE, textX, rimTextY + 3, anchor),
    ...column.lines.map(({ mark, value, textY }): Area => {
      if (narrow) {
        const wide = Math.max(textWidth(mark.short, WORD_SIZE), textWidth(value, VALUE_SIZE));
        return {
          ...textArea("", VALUE_SIZE, textX, textY + 13, anchor),
          x0: sign < 0 ? textX - wide : textX,
          x1: sign < 0 ? textX : textX + wide,
          y0: textY - 12,
        };
      }
      const wide = textWidth(value, VALUE_SIZE) + WORD_GAP + textWidth(wordOf(column, mark), WORD_SIZE);
      return {
        x0: sign < 0 ? textX - wide : textX,
        x1: sign < 0 ? textX : textX + wide,
        y0: textY + 4 - VALUE_SIZE,
        y1: textY + 8,
      };
    }),
  ];
}

function drawLine(column: DimensionColumn, { mark, value, x, y, textY }: DimensionLine): Child {
  const { sign, fromX, boxX0, boxX1, rimY, textX, narrow, sunk } = column;
  const anchor = sign < 0 ? "end" : "start";
  const at = (v: number): string => v.toFixed(1);
  return [
    h("path", { class: "dim-extension", d: `M${at(fromX)},${at(y)}H${at(x + sign * 4)}` }),
    h("path", { class: "dim-level", d: `M${at(boxX0)},${at(y)}H${at(boxX1)}` }),
    h("path", { class: "dim-line", d: `M${at(x)},${at(rimY)}V${at(y)}` }),
    h("path", { class: "dim-tick", d: `M${at(x - 3.5)},${at(rimY + 3.5)}l7,-7M${at(x - 3.5)},${at(y + 3.5)}l7,-7` }),
    !sunk && h("path", { class: "leader", d: `M${at(x + sign * 3)},${at(y)}L${at(textX - sign * 2)},${at(textY)}` }),
    narrow
      ? [
          h("text", { class: "dim-word", x: textX, y: textY - 1, "text-anchor": anchor }, mark.short),
          h("text", { class: "dim-value", x: textX, y: textY + 13, "text-anchor": anchor }, value),
        ]
      : h(
          "text",
          { class: "dim-text", x: textX, y: textY + 4, "text-anchor": anchor },
          h("tspan", { class: "dim-value" }, value),
          h("tspan", { class: "dim-word", dx: WORD_GAP }, wordOf(column, mark)),
        ),
  ];
}

export function drawColumn(column: DimensionColumn): Markup {
  const { fromX, lastX, sign, rimY, rimTextY, textX } = column;
  return h(
    "g",
    { class: "dimensions" },
    h("path", {
      class: "dim-extension",
      d: `M${fromX.toFixed(1)},${rimY.toFixed(1)}H${(lastX + sign * 4).toFixed(1)}`,
    }),
    h("text", { class: "dim-rim", x: textX, y: rimTextY + 3, "text-anchor": sign < 0 ? "end" : "start" }, "rim"),
    column.lines.map((line) => drawLine(column, line)),
  );
}

/**
 * A display narrower than this in the drawing gets no labels inside; the table beside the drawing lists all values
 * [drawing units].
 */
const LEAST_WIDE = 120;

/**
 * Dimension columns: left of the first display and right of the sump. Further displays have neighbours on both sides, so their
 * columns are inside, beside the overflow.
 */
export function dimensionColumns(layout: Layout, sheet: Sheet, story: OutageTrace, reader: Reader): readonly DimensionColumn[] {
  const ruled = ruledVessels(story);
  const running = (trace: (typeof ruled)[number]): string => runningWord(story, trace);
  const displays = layout.displays.flatMap(({ display, inside, overflows }, i) => {
    const trace = ruled.find((v) => v.kind === "display" && v.partOf === display.id);
    const boxes = overflows.filter((o) => !o.hung && o.inside.x0 < (inside.x0 + inside.x1) / 2);
    const clear = Math.max(inside.x0, ...boxes.map((o) => o.inside.x1)) + 0.02;
    const stand: Stand =
      i === 0
        ? { sign: -1, fromX: sheet.x(inside.x0) - 8, edgeX: sheet.x(layout.bounds.x0), sunk: false }
        : { sign: 1, fromX: sheet.x(clear), edgeX: sheet.x(clear), sunk: true };
    if (!trace || (i > 0 && (inside.x1 - clear) * sheet.scale < LEAST_WIDE)) return [];
    return [layColumn(sheet, inside, marksOf(levelMarks(story, trace), false, running(trace)), stand, reader)];
  });
  const chamber = layout.chambers.at(-1);
  const trace = ruled.find((v) => v.kind === "chamber");
  if (!chamber || !trace) return displays;
  const right: Stand = { sign: 1, fromX: sheet.x(chamber.box.x1) + 8, edgeX: sheet.x(layout.bounds.x1), sunk: false };
  return [...displays, layColumn(sheet, chamber.box, marksOf(levelMarks(story, trace), true, running(trace)), right, reader)];
}
