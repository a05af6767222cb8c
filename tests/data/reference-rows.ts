// Reads the reference tables in this folder: published or independently computed values, each with its source and its tolerance.
import { readFileSync } from "node:fs";

export interface ReferenceRow {
  readonly id: string;
  readonly table: string;
  readonly quantity: string;
  readonly unit: string;
  readonly source: string;
  readonly inputs: Readonly<Record<string, number | string | boolean>>;
  readonly expected: number;
  /** Half-width of the range of agreement: the larger of the row's absolute and relative tolerances. */
  readonly tolerance: number;
  readonly suspect: boolean;
}

/** Splits one CSV line with double-quoted cells (inner quotes are doubled). */
export function csvCells(line: string): string[] {
  return [...line.matchAll(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g)]
    .map((match) => match[1]!)
    .map((cell) => (cell.startsWith('"') ? cell.slice(1, -1).replaceAll('""', '"') : cell));
}

/** Rows of a plain CSV file in this folder as records of strings; lines that begin with # are comments. */
export function csvRecords(fileName: string): Record<string, string>[] {
  const lines = readFileSync(new URL(fileName, import.meta.url), "utf8")
    .split("\n")
    .filter((line) => line !== "" && !line.startsWith("#"));
  const names = csvCells(lines[0]!);
  return lines.slice(1).map((line) => {
    const cells = csvCells(line);
    return Object.fromEntries(names.map((name, index) => [name, cells[index] ?? ""]));
  });
}

/** All rows of a reference table. */
export function referenceRows(fileName: string): ReferenceRow[] {
  return csvRecords(fileName).map((row) => {
    const expected = Number(row.expected);
    return {
      id: row.id!,
      table: row.table!,
      quantity: row.quantity!,
      unit: row.unit!,
      source: row.source!,
      inputs: JSON.parse(row.inputs!),
      expected,
      tolerance: Math.max(Number(row.tol_abs || 0), Number(row.tol_rel || 0) * Math.abs(expected)),
      suspect: row.flag !== "ok",
    };
  });
}

/** A numeric input of a row. @throws Error when the row does not have it */
export function input(row: ReferenceRow, name: string): number {
  const value = row.inputs[name];
  if (typeof value !== "number") throw new Error(`${row.id} has no number ${name}`);
  return value;
}
