// The level strip for the glass at full size: cut it out, align the top edge with the sump's rim, tape it on. 1 SVG unit is 1 mm.
import type { RunResult } from "../../scenarios/result/result.ts";
import { spread } from "../cutaway/dimensions.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { inches, number, type Reader } from "../view/reader.ts";

export interface StripMark {
  readonly word: string;
  readonly levelM: number;
}

export interface StripPiece {
  /** First distance below the rim in this piece [mm]. */
  readonly fromMm: number;
  readonly toMm: number;
}

/** Length of a piece, which fits A4 and Letter with a heading above it [mm]. */
export const PIECE_MM = 200;
const PIECE_WIDE = 50;
const PIECE_GAP = 8;

/** Marks from the top down; a mark without a level is omitted. */
export function stripMarks(r: RunResult): readonly StripMark[] {
  const m = r.hydraulics.marks;
  const list: StripMark[] = [];
  const add = (word: string, levelM: number | null): void => {
    if (levelM !== null && levelM > 0 && levelM <= m.sumpRimM) list.push({ word, levelM });
  };
  add("OFF LEVEL", m.offLevelM);
  add("MAX FILL", m.maxRunningUntrustedM ?? m.maxRunningTrustedM);
  add("MIN", m.minRunningM);
  return list.sort((a, b) => b.levelM - a.levelM);
}

/** Pieces from the rim down to a little below the lowest mark, each at most `PIECE_MM` long. */
export function stripPieces(r: RunResult): readonly StripPiece[] {
  const rim = r.hydraulics.marks.sumpRimM;
  const lowest = Math.min(rim, ...stripMarks(r).map((m) => m.levelM));
  const total = Math.min(rim * 1000, (rim - lowest) * 1000 + 15);
  const count = Math.max(1, Math.ceil(total / PIECE_MM));
  return Array.from({ length: count }, (_, i) => ({ fromMm: i * PIECE_MM, toMm: Math.min(total, (i + 1) * PIECE_MM) }));
}

/** Height of a mark's two lines of text [mm]. */
const WORDS_MM = 10;

/** Marks of one piece; the text of neighbouring marks is spread, with leaders to their lines. */
function pieceMarks(p: StripPiece, marks: readonly StripMark[], rimM: number, reader: Reader): Child {
  const here = marks
    .map((m) => ({ ...m, downMm: (rimM - m.levelM) * 1000 }))
    .filter((m) => m.downMm >= p.fromMm && m.downMm < p.toMm + 1e-9);
  const middle = spread(
    here.map((m) => Math.max(WORDS_MM / 2 + 1, m.downMm - p.fromMm)),
    WORDS_MM,
  );
  return here.map((m, i) => {
    const y = m.downMm - p.fromMm;
    const at = middle[i]!;
    return h(
      "g",
      { class: "strip-mark", "data-mark": m.word },
      h("path", { class: "mark", d: `M0,${y.toFixed(2)}H10M44,${y.toFixed(2)}H${PIECE_WIDE}`, "stroke-width": 0.7 }),
      h("path", { class: "mark", d: `M10,${y.toFixed(2)}L13,${at.toFixed(2)}H44L44,${y.toFixed(2)}`, "stroke-width": 0.3 }),
      h("path", { class: "mark-arrow", d: `M${PIECE_WIDE},${y.toFixed(2)}l-4.5,-1.6v3.2z` }),
      h("text", { x: 43, y: at - 1.2, "font-size": 4.4, "font-weight": 700, "text-anchor": "end" }, m.word),
      h(
        "text",
        { x: 43, y: at + 3.8, "font-size": 2.9, "text-anchor": "end" },
        `${number(reader, m.downMm)} mm · ${inches(m.downMm / 1000)}`,
      ),
    );
  });
}

function piece(
  p: StripPiece,
  i: number,
  column: number,
  count: number,
  marks: readonly StripMark[],
  rimM: number,
  reader: Reader,
): Markup {
  const x = column * (PIECE_WIDE + PIECE_GAP);
  const high = p.toMm - p.fromMm;
  const ticks = Array.from({ length: Math.floor(high / 5) + 1 }, (_, k) => k * 5);
  return h(
    "g",
    { transform: `translate(${x} 6)` },
    h("rect", { class: "cutline", x: 0, y: 0, width: PIECE_WIDE, height: high, "stroke-width": 0.25 }),
    ticks.map((t) => {
      const down = p.fromMm + t;
      const long = down % 50 === 0 ? 9 : down % 10 === 0 ? 5 : 3;
      return [
        h("path", { class: "tick", d: `M0,${t}h${long}` }),
        down % 50 === 0 && t > 0 && h("text", { x: 10, y: t + 1.1, "font-size": 3 }, number(reader, down)),
      ];
    }),
    h(
      "text",
      { x: PIECE_WIDE / 2, y: -1.6, "font-size": 3.2, "text-anchor": "middle" },
      i === 0 ? "this edge to the rim" : `join ${i} to ${i}`,
    ),
    i < count - 1 &&
      h("text", { x: PIECE_WIDE / 2, y: high + 4, "font-size": 3.2, "text-anchor": "middle" }, `join ${i + 1} to ${i + 1}`),
    pieceMarks(p, marks, rimM, reader),
  );
}

/** Number of pieces side by side on one sheet of paper. */
const PER_SHEET = 3;

/** The strip with its check bar of exactly 100 mm; a sump deeper than `PER_SHEET` pieces needs another drawing. */
export function strip(r: RunResult, reader: Reader): readonly Markup[] {
  const pieces = stripPieces(r);
  return Array.from({ length: Math.ceil(pieces.length / PER_SHEET) }, (_, k) => stripSheet(r, reader, pieces, k * PER_SHEET));
}

function stripSheet(r: RunResult, reader: Reader, all: readonly StripPiece[], first: number): Markup {
  const marks = stripMarks(r);
  const pieces = all.slice(first, first + PER_SHEET);
  const wide = Math.max(118, pieces.length * (PIECE_WIDE + PIECE_GAP));
  const tall = Math.max(...pieces.map((p) => p.toMm - p.fromMm)) + 30;
  const barY = tall - 9;
  return h(
    "svg",
    {
      class: "strip true-size",
      width: `${wide}mm`,
      height: `${tall}mm`,
      viewBox: `0 0 ${wide} ${tall}`,
      role: "img",
      "aria-label": `Strip for the glass at full size: ${marks.map((m) => `${m.word} ${number(reader, (r.hydraulics.marks.sumpRimM - m.levelM) * 1000)} mm below the rim`).join(", ")}. Check bar of 100 mm.`,
    },
    pieces.map((p, i) => piece(p, first + i, i, all.length, marks, r.hydraulics.marks.sumpRimM, reader)),
    h("rect", { class: "check-bar", x: 1, y: barY, width: 100, height: 4, fill: "none", stroke: "none" }),
    h("path", { class: "mark", d: `M1,${barY}v4M101,${barY}v4M1,${barY + 2}H101`, "stroke-width": 0.35 }),
    Array.from({ length: 9 }, (_, k) => h("path", { class: "tick", d: `M${11 + k * 10},${barY + 1}v2` })),
    h(
      "text",
      { x: 1, y: barY + 8, "font-size": 3.2 },
      "Check with a ruler: this bar is 100 mm (3 15/16 in). If not, print again at 100 %, no “fit to page”.",
    ),
  );
}
