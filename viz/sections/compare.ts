// Comparison of two or more scenarios: their answers, the chart in which they differ, and the differences in files and results.
import type { RunResult } from "../../scenarios/result/result.ts";
import { capital } from "../../scenarios/text/message.ts";
import { NITROGEN, type Panel, panels, valueAt, within } from "../charts/panel.ts";
import { drawPanel, panelFrame } from "../charts/plot.ts";
import type { Period } from "../charts/scale.ts";
import { shapeOf, summarise } from "../charts/words.ts";
import { spokenWords } from "../view/answer.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { shortNames } from "../view/names.ts";
import { figure, NITROGEN_NAME, type Nitrogen, nitrogenScale, number, type Reader } from "../view/reader.ts";
import { symbol } from "../view/symbols.ts";
import { type Context, spanDays } from "./context.ts";
import { inputDifferences } from "./input-differences.ts";
import { table } from "./table.ts";

export interface DifferenceRow {
  readonly label: string;
  readonly unit: string;
  readonly values: readonly (number | null)[];
}

/** Findings whose number is compared, besides the peaks of the curves; nitrogen findings also name the species. */
const COMPARED: readonly { readonly id: RegExp; readonly label: string; readonly species?: Nitrogen; readonly verdict?: true }[] =
  [
    { id: /^ready$/, label: "Ready" },
    { id: /^capacity$/, label: "Food the filter carries at the end" },
    { id: /^step$/, label: "Highest nitrite after the change of stock or food", species: "no2" },
    { id: /^nitrate$/, label: "Nitrate at the end", species: "no3" },
    { id: /^oxygen$/, label: "Lowest oxygen" },
    { id: /^alkalinity$/, label: "Alkalinity" },
    { id: /^power-cut$/, verdict: true, label: "Power cut" },
    { id: /^everyday-faults$/, verdict: true, label: "Worst everyday fault" },
    { id: /^worst-pair$/, verdict: true, label: "Worst ordinary pair" },
    { id: /^fill-mark$/, label: "MAX FILL above the sump bottom" },
    { id: /^clock-/, label: "Clock" },
    { id: /^evaporation$/, label: "Water for the pump without top-off lasts" },
    { id: /^pad$/, label: "Pad is due every" },
    { id: /^sediment$/, label: "Deepest sediment" },
  ];

/** Peaks of the nitrogen curves, then the findings above for which at least two scenarios have a number in the same unit. */
export function differences(results: readonly RunResult[], reader: Reader): readonly DifferenceRow[] {
  const lists = results.map((r) => panels([r], reader));
  const peaks = NITROGEN.flatMap((what): DifferenceRow[] => {
    const shapes = lists.map((list) => list.find((p) => p.id === what)?.lines[0]).map((l) => (l ? shapeOf(l) : null));
    const name = NITROGEN_NAME[what].toLowerCase();
    const { as } = nitrogenScale(reader, results[0]!.kit, what);
    return [
      { label: `Highest ${name}`, unit: `mg/L as ${as}`, values: shapes.map((s) => s?.high ?? null) },
      { label: `Day of highest ${name}`, unit: "day", values: shapes.map((s) => (s ? Math.floor(s.highDay) : null)) },
    ];
  });
  const ids = [...new Set(results.flatMap((r) => r.findings.map((f) => f.id)))];
  const found = COMPARED.flatMap(({ id: wanted, label, species, verdict }) =>
    ids
      .filter((id) => wanted.test(id))
      .flatMap((id): DifferenceRow[] => {
        const list = results.map((r) => r.findings.find((f) => f.id === id && f.value !== null));
        const there = list.filter((f) => f !== undefined);
        const units = new Set(there.map((f) => f.unit));
        if (there.length < 2 || units.size > 1) return [];
        const { unit, factor } = readersUnit(there[0]!.unit, reader, results[0]!, species);
        const what = verdict ? (there[0]!.unit === "m3" ? ": on the floor" : ": to spare") : "";
        const name = label === "Clock" ? `Clock: ${id.replace(/^clock-/, "").replace(/[-_.]/g, " ")}` : label;
        return [
          { label: `${name}${what}`, unit, values: list.map((f) => (typeof f?.value === "number" ? f.value * factor : null)) },
        ];
      }),
  );
  return [...peaks, ...found];
}

interface ReadersUnit {
  readonly unit: string;
  readonly factor: number;
}

/** Unit in which the value of a finding is compared; findings store SI units. */
function readersUnit(unit: string, reader: Reader, first: RunResult, species?: Nitrogen): ReadersUnit {
  const metric = reader.units === "metric";
  if (unit === "m") return metric ? { unit: "mm", factor: 1000 } : { unit: "in", factor: 1 / 0.0254 };
  if (unit === "m3") return metric ? { unit: "L", factor: 1000 } : { unit: "US gal", factor: 1 / 0.003785411784 };
  if (unit === "g N/m3" && species) {
    const { factor, as } = nitrogenScale(reader, first.kit, species);
    return { unit: `mg/L as ${as}`, factor };
  }
  return { unit: unit === "d" ? "days" : unit, factor: 1 };
}

/** Whether all scenarios with the number agree to three figures. */
export const isSame = (row: DifferenceRow, reader: Reader): boolean =>
  row.values.every((v) => v !== null) && new Set(row.values.map((v) => figure(reader, v))).size === 1;

const change = (reader: Reader, a: number | null, b: number | null): string => {
  if (a === null || b === null) return "";
  const d = b - a;
  return Math.abs(d) < 1e-9 ? " (same)" : ` (${d > 0 ? "+" : "−"}${figure(reader, Math.abs(d))})`;
};

/** Compared curves count as different from the first day on which they differ by more than this share of the highest value. */
const APART_SHARE = 0.02;
/** Part of the run shown before that day, as a share of the whole run. */
const LEAD_IN_SHARE = 0.05;

/**
 * The period in which the curves of a panel differ, from a little before they separate to the end, so that the common
 * part does not set the scale. The whole run where they differ from the start or never.
 */
export function partingPeriod(panel: Panel, days: number): Period {
  const [first, ...others] = panel.lines;
  const most = Math.max(1e-12, ...panel.lines.flatMap((l) => l.values.map((v) => v ?? 0)));
  const parted = first?.days.find((day, i) => {
    const own = first.values[i] ?? null;
    return others.some((line) => {
      const other = valueAt(line, day);
      return own !== null && other !== null && Math.abs(other - own) > APART_SHARE * most;
    });
  });
  return { from: parted === undefined ? 0 : Math.max(0, Math.floor(parted - LEAD_IN_SHARE * days)), to: days };
}

/** The panel in which the scenarios differ most, by their peaks after they separate; nitrite when they do not differ. */
export function mostDifferent(list: readonly Panel[], days: number): Panel | undefined {
  const spreadOf = (panel: Panel): number => {
    const peaks = within(panel, partingPeriod(panel, days)).lines.map((l) => Math.max(0, ...l.values.map((v) => v ?? 0)));
    const most = Math.max(...peaks, panel.ceiling === null ? 0 : panel.ceiling / 20);
    return most > 0 ? (most - Math.min(...peaks)) / most : 0;
  };
  const nitrogen = list.filter((p) => p.id === "no2" || p.id === "tan");
  return [...nitrogen].sort((a, b) => spreadOf(b) - spreadOf(a))[0];
}

/** The chart of the comparison, with its period. */
export function comparedChart(c: Context): Child {
  const panel = mostDifferent(panels(c.results, c.reader), spanDays(c.results));
  if (!panel) return null;
  const period = partingPeriod(panel, spanDays(c.results));
  const frame = panelFrame(c.width, c.width < 620 ? 220 : 260, true);
  return drawPanel({ ...panel, bands: [] }, period, frame, c.reader, summarise(panel, c.reader), {
    withAxis: true,
    eventDays: [],
    prefix: "compare",
  });
}

/** The answers of all scenarios to one job in which they differ; if possible one that all of them answer. */
function comparedAnswers(c: Context): Child {
  const jobs = ["stocking", "ready", "power cut"] as const;
  const textOf = (r: RunResult, job: (typeof jobs)[number]): string | null => {
    const lead = r.answer.lead.find((l) => l.job === job);
    return lead ? spokenWords(c.reader, r, lead) : null;
  };
  const differing = jobs.filter((j) => new Set(c.results.map((r) => textOf(r, j))).size > 1);
  const job = differing.find((j) => c.results.every((r) => textOf(r, j) !== null)) ?? differing[0];
  const names = shortNames(c.results.map((r) => r.name)).short;
  if (!job) return h("p", {}, "None of the lead answers differs between these scenarios.");
  return h(
    "ul",
    { class: "compared-answers" },
    c.results.map((r, i) => {
      const lead = r.answer.lead.find((l) => l.job === job);
      return h(
        "li",
        { class: lead?.level ?? "info" },
        symbol(lead?.level ?? "info"),
        h(
          "span",
          {},
          h("strong", { class: `label-s${i}` }, `${capital(names[i]!)}: `),
          textOf(r, job) ?? "no answer to this question",
        ),
      );
    }),
  );
}

function inputTable(c: Context): Child {
  const rows = inputDifferences(c.results.map((r) => r.source));
  if (rows.length === 0) return h("p", { class: "note" }, "The files of these scenarios do not differ.");
  const cell = (value: string | null): Child =>
    value === null || value === ""
      ? "–"
      : h(
          "code",
          {},
          value.split("\n").map((line, i) => [i > 0 && h("br"), line]),
        );
  return table(
    "Differences between the files",
    ["In the file", ...shortNames(c.results.map((r) => r.name)).short],
    rows.map((row) => [row.key, ...row.values.map(cell)]),
    { caption: "What differs in the files", looks: "inputs" },
  );
}

function answerTable(c: Context): Child {
  const all = differences(c.results, c.reader);
  const rows = all.filter((row) => !isSame(row, c.reader));
  const same = all.filter((row) => isSame(row, c.reader));
  const cells = (row: DifferenceRow): Child[] =>
    row.values.map((v, i) => [
      row.unit === "day" ? number(c.reader, v) : figure(c.reader, v),
      i > 0 ? change(c.reader, row.values[0] ?? null, v) : "",
    ]);
  return [
    table(
      "Differences between the answers",
      ["Quantity", "Unit", ...shortNames(c.results.map((r) => r.name)).short],
      rows.map((row) => [row.label, row.unit, ...cells(row)]),
      { caption: "What differs in the answers", numbers: c.results.map((_, i) => i + 2) },
    ),
    same.length > 0 &&
      h(
        "p",
        { class: "note" },
        `The same in all: ${same.map((r) => `${r.label.toLowerCase()} ${figure(c.reader, r.values[0] ?? null)} ${r.unit}`).join("; ")}.`,
      ),
  ];
}

export function compareSection(c: Context): Markup | null {
  if (c.results.length < 2) return null;
  return h(
    "section",
    { id: "compare", "aria-labelledby": "compare-title" },
    h("h2", { id: "compare-title" }, "The comparison"),
    comparedAnswers(c),
    h("div", { "data-figure": "compared" }, comparedChart(c)),
    inputTable(c),
    answerTable(c),
    h("p", { class: "note" }, "The change from the first scenario is in brackets."),
  );
}
