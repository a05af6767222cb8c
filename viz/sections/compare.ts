// Two or more scenarios: what differs, in a table, measured against the first.
import type { RunResult } from "../../scenarios/result/result.ts";
import { NITROGEN, panels } from "../charts/panel.ts";
import { shapeOf } from "../charts/words.ts";
import { h, type Markup } from "../view/markup.ts";
import { shortNames } from "../view/names.ts";
import { figure, NITROGEN_NAME, type Nitrogen, nitrogenScale, number, type Reader } from "../view/reader.ts";
import type { Context } from "./context.ts";

export interface DifferenceRow {
  readonly label: string;
  readonly unit: string;
  readonly values: readonly (number | null)[];
}

/** Findings whose number is worth comparing, beside the peaks of the curves: what it is, and whose kit it is read on. */
const COMPARED: readonly { readonly id: RegExp; readonly label: string; readonly species?: Nitrogen; readonly verdict?: true }[] =
  [
    { id: /^ready$/, label: "Ready" },
    { id: /^capacity$/, label: "Food the filter carries at the end" },
    { id: /^step$/, label: "Highest nitrite after the change of stock or food", species: "no2" },
    { id: /^nitrate$/, label: "Nitrate at the end", species: "no3" },
    { id: /^oxygen$/, label: "Lowest oxygen" },
    { id: /^alkalinity$/, label: "Alkalinity" },
    { id: /^power-cut$/, verdict: true, label: "Power cut" },
    { id: /^worst-fault$/, verdict: true, label: "Worst single fault" },
    { id: /^worst-pair$/, verdict: true, label: "Worst ordinary pair" },
    { id: /^fill-mark$/, label: "MAX FILL above the sump bottom" },
    { id: /^clock-/, label: "Clock" },
    { id: /^evaporation$/, label: "Water for the pump without top-off lasts" },
    { id: /^pad$/, label: "Pad is due every" },
    { id: /^sediment$/, label: "Deepest sediment" },
  ];

/** Peaks of the nitrogen curves, then the findings above that more than one scenario has a number for in the same unit. */
export function differences(results: readonly RunResult[], reader: Reader): readonly DifferenceRow[] {
  const lists = results.map((r) => panels([r], reader));
  const peaks = NITROGEN.flatMap((what): DifferenceRow[] => {
    const shapes = lists.map((list) => list.find((p) => p.id === what)?.lines[0]).map((l) => (l ? shapeOf(l) : null));
    const name = NITROGEN_NAME[what].toLowerCase();
    const { as } = nitrogenScale(reader, results[0]!.kit, what);
    return [
      { label: `Highest ${name}`, unit: `mg/L as ${as}`, values: shapes.map((s) => s?.high ?? null) },
      { label: `Day of highest ${name}`, unit: "day", values: shapes.map((s) => s?.highDay ?? null) },
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

/** Unit in which a finding's value is compared; findings carry SI. */
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

/** Whether all scenarios that have the number have the same, to three figures. */
export const isSame = (row: DifferenceRow, reader: Reader): boolean =>
  row.values.every((v) => v !== null) && new Set(row.values.map((v) => figure(reader, v))).size === 1;

const change = (reader: Reader, a: number | null, b: number | null): string => {
  if (a === null || b === null) return "";
  const d = b - a;
  return Math.abs(d) < 1e-9 ? " (same)" : ` (${d > 0 ? "+" : "−"}${figure(reader, Math.abs(d))})`;
};

export function compareSection(c: Context): Markup | null {
  if (c.results.length < 2) return null;
  const all = differences(c.results, c.reader);
  const rows = all.filter((row) => !isSame(row, c.reader));
  const same = all.filter((row) => isSame(row, c.reader));
  return h(
    "section",
    { id: "compare", "aria-labelledby": "compare-title" },
    h("h2", { id: "compare-title" }, "What differs"),
    h("p", { class: "lead" }, `Measured against “${c.results[0]!.name}”; the difference stands in brackets.`),
    h(
      "div",
      { class: "table-scroll", tabindex: 0, role: "region", "aria-label": "Differences between the scenarios" },
      h(
        "table",
        {},
        h(
          "thead",
          {},
          h(
            "tr",
            {},
            h("th", { scope: "col" }, "Quantity"),
            h("th", { scope: "col" }, "Unit"),
            shortNames(c.results.map((r) => r.name)).short.map((name) => h("th", { scope: "col", class: "n" }, name)),
          ),
        ),
        h(
          "tbody",
          {},
          rows.map((row) =>
            h(
              "tr",
              {},
              h("th", { scope: "row" }, row.label),
              h("td", {}, row.unit),
              row.values.map((v, i) =>
                h(
                  "td",
                  { class: "n" },
                  row.unit === "day" ? number(c.reader, v, 1) : figure(c.reader, v),
                  i > 0 ? change(c.reader, row.values[0] ?? null, v) : "",
                ),
              ),
            ),
          ),
        ),
      ),
    ),
    same.length > 0 &&
      h(
        "p",
        { class: "note" },
        `The same in all: ${same.map((r) => `${r.label.toLowerCase()} ${figure(c.reader, r.values[0] ?? null)} ${r.unit}`).join("; ")}.`,
      ),
  );
}
