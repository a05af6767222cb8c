// Compares the models with reference rows. Every row is either compared, or listed with the reason why it does not apply.

import { describe, expect, it } from "vitest";
import { compared } from "../validation/compared.ts";
import { type ReferenceRow, referenceRows } from "./reference-rows.ts";

/** The model's value in the row's unit, or why the row does not apply. */
export type Verdict = number | { readonly notApplicable: string };

/**
 * One test per table of the file. Misprinted rows (flag "suspect") are counted and left out.
 * @param modelValue the model's value for a row
 * @param notApplicable exact number of rows that do not apply, so that none is skipped unnoticed
 */
export function checkReferenceRows(fileName: string, modelValue: (row: ReferenceRow) => Verdict, notApplicable: number): void {
  const rows = referenceRows(fileName);
  const tables = [...new Set(rows.map((row) => row.table))];
  let skipped = 0;
  describe(`${fileName}: ${rows.length} rows`, () => {
    it.each(tables)("%s", (table) => {
      const mine = rows.filter((row) => row.table === table);
      const misprints = mine.filter((row) => row.suspect);
      if (misprints.length > 0) console.info(`${table}: left out as misprints: ${misprints.map((row) => row.id).join(", ")}`);
      for (const row of mine.filter((candidate) => !candidate.suspect)) {
        const verdict = modelValue(row);
        if (typeof verdict === "object") {
          skipped++;
          console.info(`${row.id} (${row.quantity}, ${row.source}) does not apply: ${verdict.notApplicable}`);
          continue;
        }
        compared({
          set: `Reference table: ${fileName.replace(".csv", "").replaceAll("_", " ")}`,
          what: `${row.quantity} ${JSON.stringify(row.inputs)}`,
          unit: row.unit,
          source: row.source,
          kind: "published",
          outside: row.expected,
          model: verdict,
        });
        const message = `${row.id} ${row.quantity} ${JSON.stringify(row.inputs)} [${row.source}]: ${verdict} against ${row.expected} ± ${row.tolerance}`;
        expect(Math.abs(verdict - row.expected), message).toBeLessThanOrEqual(row.tolerance);
      }
    });
    it("lists every row that does not apply", () => expect(skipped).toBe(notApplicable));
  });
}
