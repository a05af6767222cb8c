// Two or more scenarios: what differs, in a table, measured against the first.
import type { RunResult } from "../../scenarios/result.ts";
import { panels } from "../charts/panel.ts";
import { shapeOf } from "../charts/words.ts";
import { h, type Markup } from "../markup.ts";
import { shortNames } from "../names.ts";
import { figure, number, type Reader } from "../reader.ts";
import type { Context } from "./context.ts";

export interface DifferenceRow {
  readonly label: string;
  readonly unit: string;
  readonly values: readonly (number | null)[];
}

/** Peaks of every panel and every finding that more than one scenario has a number for. */
export function differences(results: readonly RunResult[], reader: Reader): readonly DifferenceRow[] {
  const rows: DifferenceRow[] = [];
  const lists = results.map((r) => panels([r], reader));
  for (const panel of lists[0] ?? []) {
    if (!["tan", "no2", "no3"].includes(panel.id)) continue;
    const peaks = lists.map((list) => list.find((p) => p.id === panel.id)?.lines[0]).map((l) => (l ? shapeOf(l) : null));
    rows.push({ label: `Highest ${panel.title.toLowerCase()}`, unit: panel.unit, values: peaks.map((p) => p?.high ?? null) });
    rows.push({
      label: `Day of highest ${panel.title.toLowerCase()}`,
      unit: "day",
      values: peaks.map((p) => p?.highDay ?? null),
    });
  }
  const ids = [...new Set(results.flatMap((r) => r.findings.map((f) => f.id)))];
  for (const id of ids) {
    const found = results.map((r) => r.findings.find((f) => f.id === id));
    if (found.filter((f) => f && f.value !== null).length < 2) continue;
    const first = found.find((f) => f !== undefined)!;
    const { unit, factor } = readersUnit(first.unit, reader);
    rows.push({
      label: `${first.topic}: ${id.replace(/[-_.]/g, " ")}`,
      unit,
      values: found.map((f) => (f && f.value !== null ? f.value * factor : null)),
    });
  }
  return rows;
}

/** Unit in which a finding's value is compared; findings carry SI. */
function readersUnit(unit: string, reader: Reader): { readonly unit: string; readonly factor: number } {
  const metric = reader.units === "metric";
  if (unit === "m") return metric ? { unit: "mm", factor: 1000 } : { unit: "in", factor: 1 / 0.0254 };
  if (unit === "m3") return metric ? { unit: "L", factor: 1000 } : { unit: "US gal", factor: 1 / 0.003785411784 };
  if (unit === "g N/m3") return { unit: "mg/L as N", factor: 1 };
  return { unit, factor: 1 };
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
