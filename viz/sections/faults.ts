// Hydraulic faults: each fault and each pair, fill marks for the glass, the effect of a blocked drain, and remedies.
import type { HydraulicResult, RunResult } from "../../scenarios/result/result.ts";
import { h, type Markup } from "../view/markup.ts";
import { area, duration, length, type Reader, volume, withLengths } from "../view/reader.ts";
import { type Context, focused } from "./context.ts";
import { fold } from "./fold.ts";
import { scroll, table } from "./table.ts";

type Cell = HydraulicResult["matrix"][number];

const cellOf = (matrix: readonly Cell[], a: string, b: string): Cell | undefined =>
  matrix.find((m) => (m.a === a && m.b === b) || (m.a === b && m.b === a));

function matrixCell(cell: Cell, names: string, reader: Reader, first = false): Markup {
  const floods = cell.verdict === "FLOODS";
  const number = floods ? volume(reader, cell.floorM3) : length(reader, cell.marginM);
  const detail = floods
    ? `${number} on the floor${cell.floorAfterS === null ? "" : `, first drop after ${duration(reader, cell.floorAfterS)}`}`
    : `${number} to spare`;
  return h(
    "td",
    { class: cell.verdict },
    h(
      "button",
      {
        type: "button",
        "data-faults": cell.a === cell.b ? cell.a : `${cell.a}|${cell.b}`,
        // The whole table is one tab stop; the arrow keys move within it.
        tabindex: first ? 0 : -1,
        "aria-label": `${names}: ${cell.verdict}, ${detail}. Play it`,
        title: detail,
      },
      h("span", { class: `verdict-word v-${cell.verdict}` }, cell.verdict),
      h("small", {}, number),
    ),
  );
}

const ORDINARY: Readonly<Record<number, string>> = { 3: "common", 2: "possible", 1: "rare" };

/**
 * The lower triangle of the matrix: single faults in the first column, each pair once. The columns are headed by the
 * numbers of the rows.
 */
export function faultMatrix(h8: HydraulicResult, reader: Reader): Markup {
  const { faults, matrix } = h8;
  const partners = faults.slice(0, -1);
  return h(
    "table",
    { class: "matrix", "data-matrix": "" },
    h("caption", {}, "Each fault alone, and each pair: how much room is left, or how much lands on the floor"),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        h("th", { scope: "col" }, "Fault"),
        h("th", { scope: "col" }, "alone"),
        partners.map((f, i) => h("th", { scope: "col", title: withLengths(reader, f.name) }, `and ${i + 1}`)),
      ),
    ),
    h(
      "tbody",
      {},
      faults.map((f, i) => {
        const alone = cellOf(matrix, f.id, f.id);
        return h(
          "tr",
          {},
          h(
            "th",
            { scope: "row" },
            h(
              "span",
              { class: "fault" },
              h("span", { class: "fault-number" }, i + 1),
              h("span", {}, withLengths(reader, f.name), h("small", {}, ORDINARY[f.ordinary])),
            ),
          ),
          alone ? matrixCell(alone, withLengths(reader, f.name), reader, i === 0) : h("td", {}, "–"),
          partners.map((g, k) => {
            if (k >= i) return h("td", { class: "empty" });
            const cell = cellOf(matrix, f.id, g.id);
            return cell ? matrixCell(cell, withLengths(reader, `${f.name} and ${g.name}`), reader) : h("td", {}, "–");
          }),
        );
      }),
    ),
  );
}

const markLength = (reader: Reader, m: number | null): string => (m === null ? "no level passes" : length(reader, m, true));

export function fillMarks(r: RunResult, reader: Reader): Markup {
  const m = r.hydraulics.marks;
  const row = (word: string, level: number | null, why: string): readonly string[] => [
    word,
    markLength(reader, level),
    level === null ? "–" : length(reader, m.sumpRimM - level, true),
    why,
  ];
  return table(
    "Fill marks",
    ["Mark", "Above the sump bottom", "Below the rim", "What it means"],
    [
      row("MAX FILL", m.maxRunningUntrustedM, "highest running level that stays in with the break hole blocked"),
      row("MAX FILL, hole trusted", m.maxRunningTrustedM, "only if you clean and test the hole"),
      row("RUNNING now", m.runningM, "as in the scenario"),
      row("OFF", m.offLevelM, "where the water should stop when the power goes"),
      row("MIN", m.minRunningM, "below this the pump draws air"),
    ],
    { caption: "Marks for the glass of the return chamber", looks: "roomy" },
  );
}

/** The effect of a blocked drain, for each display. */
function fuseSentences(r: RunResult, reader: Reader): readonly string[] {
  const { fuses } = r.hydraulics.marks;
  return fuses.map(({ display, outcome, floorM3, aboveIntakeM3, headroomM3 }) => {
    const tank = fuses.length > 1 ? display : "the tank";
    const room = `The return chamber holds ${volume(reader, aboveIntakeM3, true)} above the pump intake; ${tank} has room for ${volume(reader, headroomM3, true)} up to its rim.`;
    const end = {
      spills: `If its main drain blocks while the pump runs, ${volume(reader, floorM3, true)} end up on the floor.`,
      "runs dry": "If its main drain blocks while the pump runs, the pump runs dry first and the floor stays dry.",
      carried: "If its main drain blocks while the pump runs, the other drains carry the flow.",
    } as const;
    return `${room} ${end[outcome]}`;
  });
}

type Remedy = HydraulicResult["remedies"][number];

function remedy(m: Remedy, reader: Reader): Markup {
  const value =
    m.value === null
      ? ""
      : m.unit === "m"
        ? length(reader, m.value, true)
        : m.unit === "m2"
          ? area(reader, m.value)
          : volume(reader, m.value, true);
  const then =
    m.verdict === "FLOODS"
      ? `still ${volume(reader, m.floorM3, true)} on the floor`
      : `${m.verdict}, ${length(reader, m.marginM, true)} to spare`;
  return h("li", {}, h("strong", {}, capital(withLengths(reader, m.what).replace("{value}", value))), `. Then: ${then}.`);
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

export function faultsSection(c: Context): Markup {
  const r = focused(c);
  const { faults, matrix, remedies } = r.hydraulics;
  const dry = matrix.filter((cell) => cell.verdict !== "FLOODS").length;
  return fold(c, {
    id: "faults",
    title: "What can go wrong with the water",
    gist:
      matrix.length > 0 ? `fill marks; ${dry} of ${matrix.length} faults and pairs of faults keep the floor dry` : "fill marks",
    // As the method: omitted from a comparison without scripts.
    again: c.results.length > 1,
    contents: () => [
      h(
        "div",
        { class: faults.length > 0 ? "matrix-block" : null },
        h(
          "p",
          { class: "lead" },
          "Most real floods are two ordinary faults at once. Choose a cell to play it in the drawing; with the keyboard, the arrow keys move from cell to cell.",
        ),
        faults.length > 0 && scroll("Verdict of each fault and each pair", faultMatrix(r.hydraulics, c.reader), false),
      ),
      fillMarks(r, c.reader),
      fuseSentences(r, c.reader).map((words) => h("p", {}, words)),
      remedies.length > 0 && [
        h("h3", {}, "What would make it hold, easiest first"),
        h(
          "p",
          { class: "lead" },
          "Each change is tried alone, against the power cut and the common faults. The line gives the worst result that is left.",
        ),
        h(
          "ol",
          { class: "remedies" },
          [...remedies].sort((a, b) => a.ease - b.ease).map((m) => remedy(m, c.reader)),
        ),
      ],
    ],
  });
}
