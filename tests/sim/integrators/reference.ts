// Reads tests/data/numerics.csv: reference end values and closed forms, each row with its source.

import { readFileSync } from "node:fs";
import { csvParse } from "d3";

export interface ReferenceRow {
  readonly id: string;
  readonly inputs: Readonly<Record<string, number | string>>;
  readonly quantity: string;
  readonly expected: number;
  readonly source: string;
}

const rows: readonly ReferenceRow[] = csvParse(readFileSync(new URL("../../data/numerics.csv", import.meta.url), "utf8")).map(
  (row) => ({
    id: row.id,
    inputs: JSON.parse(row.inputs),
    quantity: row.quantity,
    expected: Number(row.expected),
    source: row.source,
  }),
);

/** Rows whose id begins with the prefix, in file order. @throws Error when there are none */
export function referenceRows(prefix: string): readonly ReferenceRow[] {
  const found = rows.filter((row) => row.id.startsWith(prefix));
  if (found.length === 0) throw new Error(`no reference rows ${prefix}`);
  return found;
}
