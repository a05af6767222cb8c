// A CSV file of settings, one per row. Each column is headed by a key, with an optional name before it. The unit is in
// the cells or once in the heading: "food given = stock[1].food (g/day)".
import { CsvError, parse } from "csv-parse/sync";
import type { LocatedError } from "../load/yaml.ts";
import { amountOf, rounded, written } from "./amounts.ts";
import type { Change } from "./base.ts";
import { type Path, stepsOf } from "./keys.ts";
import type { Input, Setting } from "./variables.ts";

export interface Table {
  readonly inputs: readonly Input[];
  readonly rows: readonly Setting[];
  /** The error of a cell, or of its row when no column has these steps. */
  readonly errorAt: (row: number, steps: Path | null, problem: string) => LocatedError;
}

const MOST_ROWS = 20_000;
const MOST_COLUMNS = 200;
/** Heading of the column that selects one of the study's scenarios. */
const SCENARIO = "scenario";

interface Heading {
  readonly text: string;
  readonly steps: Path;
  /** The unit in the heading; null when each cell has its own. */
  readonly unit: string | null;
}

interface Row {
  readonly record: readonly string[];
  readonly line: number;
}

/**
 * @param name name of the variable
 * @param scenarios paths of the study's scenarios, for a column "scenario"
 */
export function readTable(
  text: string,
  file: string,
  name: string,
  scenarios: readonly string[],
): Table | readonly LocatedError[] {
  const lines = text.split("\n");
  const error = (line: number, column: number, path: string, problem: string): LocatedError => {
    const source = lines[line - 1]?.replace(/\r$/, "").slice(0, 200) ?? "";
    const frame = source === "" ? "" : `${String(line).padStart(5)} | ${source}\n      | ${" ".repeat(Math.max(0, column - 1))}^`;
    return { file, line, column, path, problem, frame };
  };
  let parsed: readonly Row[];
  try {
    parsed = parse(text, { bom: true, trim: true, skip_empty_lines: true, info: true, relax_column_count: true }).map((row) => {
      const { record, info } = row as unknown as { record: string[]; info: { lines: number } };
      return { record, line: info.lines };
    });
  } catch (cause) {
    if (!(cause instanceof CsvError)) throw cause;
    const line = Number((cause as CsvError & { lines?: number }).lines ?? 1);
    return [error(line, 1, "", `this is not a table of comma-separated values: ${cause.message}`)];
  }
  const [head, ...body] = parsed;
  if (!head) return [error(1, 1, "", "the file is empty: its first line must name a key in each column")];
  if (body.length === 0) return [error(1, 1, "", "there are no rows under the headings")];
  if (body.length > MOST_ROWS) return [error(1, 1, "", `at most ${MOST_ROWS} rows`)];
  if (head.record.length > MOST_COLUMNS) return [error(1, 1, "", `at most ${MOST_COLUMNS} columns`)];

  const errors: LocatedError[] = [];
  const columnAt = (row: Row, c: number): number => {
    const source = lines[row.line - 1] ?? "";
    return source.includes('"') ? 1 : source.split(",").slice(0, c).join(",").length + (c > 0 ? 2 : 1);
  };
  const headings = head.record.map((text, c): Heading => {
    const named = /^([^=]+?)\s*=\s*(.+)$/.exec(text);
    const match = /^(.*?)\s*\(([^()]+)\)$/.exec(named?.[2] ?? text);
    const key = match ? match[1] : (named?.[2] ?? text);
    const steps = stepsOf(key);
    if (!steps)
      errors.push(error(head.line, columnAt(head, c), text, `"${text}" is not a key such as water.temperature or tank[2].rock`));
    if (head.record.indexOf(text) < c) errors.push(error(head.line, columnAt(head, c), text, `two columns are headed "${text}"`));
    return { text: named?.[1] ?? key, steps: steps ?? [key], unit: match ? match[2] : null };
  });
  for (const row of body)
    if (row.record.length !== headings.length)
      errors.push(error(row.line, 1, "", `${row.record.length} values under ${headings.length} headings`));
  if (errors.length > 0) return errors;

  const pick = headings.findIndex(({ text }) => text === SCENARIO);
  // Without a column "name", rows are named by their number.
  const numbered = !headings.some(({ text }) => text === "name");
  const columns = headings.map((heading, c) =>
    columnOf(
      heading,
      body.map(({ record }) => record[c]),
    ),
  );
  const rows = body.map((row, r): Setting => {
    const changes: Change[] = [];
    headings.forEach(({ steps }, c) => {
      const value = columns[c].cells[r];
      if (c !== pick && value !== null) changes.push({ steps, value });
    });
    const values = [...(numbered ? [r + 1] : []), ...columns.map(({ values }) => values[r])];
    if (pick < 0 || row.record[pick] === "") return { changes, values };
    const scenario = scenarios.indexOf(row.record[pick]);
    if (scenario < 0)
      errors.push(
        error(
          row.line,
          columnAt(row, pick),
          SCENARIO,
          `"${row.record[pick]}" is not among the study's scenarios: ${scenarios.join(", ")}`,
        ),
      );
    return { changes, values, scenario };
  });
  if (errors.length > 0) return errors;
  return {
    inputs: [...(numbered ? [{ name, unit: "", labels: null }] : []), ...columns.map(({ input }) => input)],
    rows,
    errorAt: (r, steps, problem) => {
      const c = headings.findIndex((heading) => steps !== null && heading.steps.join(".") === steps.join("."));
      return error(body[r].line, c < 0 ? 1 : columnAt(body[r], c), c < 0 ? "" : headings[c].text, problem);
    },
  };
}

interface ReadColumn {
  readonly input: Input;
  /** Values written into the scenario; null where the cell is empty, so that the scenario keeps its own value. */
  readonly cells: readonly (string | number | null)[];
  readonly values: readonly number[];
}

function columnOf({ text, unit }: Heading, cells: readonly string[]): ReadColumn {
  const filled = cells.filter((cell) => cell !== "");
  const amounts = cells.map((cell) => (cell === "" ? null : amountOf(cell)));
  const units = new Set(amounts.flatMap((amount) => (amount ? [amount.unit] : [])));
  const numeric = units.size === 1 && amounts.filter((a) => a !== null).length === filled.length;
  const [own] = units;
  if (numeric && (unit === null || own === ""))
    return {
      input: { name: text, unit: unit ?? own, labels: null },
      cells: amounts.map((amount) => (amount ? written(amount.value, unit ?? own) : null)),
      values: amounts.map((amount) => (amount ? rounded(amount.value) : Number.NaN)),
    };
  const labels = [...new Set(filled)];
  return {
    input: { name: text, unit: "", labels },
    cells: cells.map((cell) => (cell === "" ? null : unit === null ? cell : `${cell} ${unit}`)),
    values: cells.map((cell) => (cell === "" ? Number.NaN : labels.indexOf(cell))),
  };
}
