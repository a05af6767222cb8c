// Readings from a CSV table: one row per day; the column headings are the keys of readings in a scenario.
import { CsvError, parse } from "csv-parse/sync";
import { EQ_PER_M3_PER_DKH } from "../../models/water/molar-mass.ts";
import type { LocatedError } from "../load/yaml.ts";
import type { KitReading } from "../result/result.ts";
import { parseDay } from "../text/sizes.ts";
import { nearest } from "../text/suggest.ts";

const HEADS = ["at", "ammonia", "nitrite", "nitrate", "ph", "kh"] as const;
type Head = (typeof HEADS)[number];
/** Synonyms accepted as column headings. */
const ALSO: Readonly<Record<string, Head>> = { day: "at", "kh (dkh)": "kh" };
const MOST: Readonly<Record<Exclude<Head, "at">, number>> = { ammonia: 1000, nitrite: 1000, nitrate: 5000, ph: 11, kh: 60 };
const MOST_ROWS = 2000;

/** A row in the scenario format and in the units of the models. */
export interface ReadingRow {
  readonly written: Readonly<Record<string, string | number>>;
  readonly reading: KitReading;
}

/**
 * Reads a table of readings. A value may be written as "5+", ">5" or "≥ 5": at or above the last step of the kit.
 * @returns the rows in order of day, or all errors with line and column
 */
export function readingsFrom(text: string, file: string): readonly ReadingRow[] | readonly LocatedError[] {
  const lines = text.split("\n");
  const error = (line: number, column: number, problem: string): LocatedError => {
    const source = lines[line - 1]?.replace(/\r$/, "").slice(0, 200) ?? "";
    const frame = source === "" ? "" : `${String(line).padStart(5)} | ${source}\n      | ${" ".repeat(Math.max(0, column - 1))}^`;
    return { file, line, column, path: "", problem, frame };
  };
  let rows: readonly { readonly record: readonly string[]; readonly line: number }[];
  try {
    rows = parse(text, {
      bom: true,
      trim: true,
      skip_empty_lines: true,
      info: true,
      relax_column_count: true,
      comment: "#",
      comment_no_infix: true,
    }).map((row) => {
      const { record, info } = row as unknown as { record: string[]; info: { lines: number } };
      return { record, line: info.lines };
    });
  } catch (cause) {
    if (!(cause instanceof CsvError)) throw cause;
    const line = Number((cause as CsvError & { lines?: number }).lines ?? 1);
    return [error(line, 1, `this is not a table of comma-separated values: ${cause.message}`)];
  }
  const [head, ...body] = rows;
  const example = "write, for example: at,ammonia,nitrite";
  if (!head) return [error(1, 1, `the file is empty: ${example}`)];
  if (body.length === 0) return [error(head.line, 1, "there are no rows under the headings")];
  if (body.length > MOST_ROWS) return [error(1, 1, `at most ${MOST_ROWS} rows`)];
  const columnAt = (line: number, c: number): number => {
    const source = lines[line - 1] ?? "";
    return source.includes('"') ? 1 : source.split(",").slice(0, c).join(",").length + (c > 0 ? 2 : 1);
  };
  const errors: LocatedError[] = [];
  const heads = head.record.map((word, c): Head | null => {
    const plain = word.toLowerCase();
    const known = HEADS.find((one) => one === plain) ?? ALSO[plain] ?? null;
    if (known === null) {
      const guess = nearest(plain, HEADS);
      errors.push(
        error(
          head.line,
          columnAt(head.line, c),
          `"${word}" is no kind of reading${guess ? `: did you mean "${guess}"?` : `. Known: ${HEADS.join(", ")}`}`,
        ),
      );
    }
    return known;
  });
  if (!heads.includes("at")) errors.push(error(head.line, 1, `no column says when: ${example}`));
  const out: ReadingRow[] = [];
  for (const { record, line } of body) {
    const written: Record<string, string | number> = {};
    let day: number | null = null;
    const values: Partial<Record<Exclude<Head, "at">, number>> = {};
    record.forEach((cell, c) => {
      const of = heads[c];
      if (of === null || of === undefined || cell === "") return;
      if (of === "at") {
        const read = /^\d+(?:\.\d+)?$/.test(cell) ? { ok: true as const, day: Number(cell) } : parseDay(cell);
        if (!read.ok) errors.push(error(line, columnAt(line, c), read.problem));
        else {
          day = read.day;
          const hours = 24 * (day - Math.floor(day));
          const clock = `${String(Math.floor(hours)).padStart(2, "0")}:${String(Math.round(60 * (hours % 1))).padStart(2, "0")}`;
          written.at = `day ${Math.floor(day)}${hours > 0 ? ` ${clock}` : ""}`;
        }
        return;
      }
      const number = /^(?:>=?|≥)?\s*(\d+(?:\.\d+)?)\s*\+?$/.exec(cell)?.[1];
      const value = Number(number);
      if (number === undefined)
        errors.push(error(line, columnAt(line, c), `"${cell}" is no reading: write a number such as 0.5, or 5+ for "5 or more"`));
      else if (value > MOST[of])
        errors.push(error(line, columnAt(line, c), `${cell} is outside the possible range, 0 to ${MOST[of]}`));
      else {
        values[of] = value;
        written[of] = of === "kh" ? `${value} dKH` : value;
      }
    });
    if (day === null) {
      if (!errors.some((one) => one.line === line)) errors.push(error(line, 1, "this row does not say when"));
      continue;
    }
    out.push({
      written,
      reading: {
        day,
        ammonia: values.ammonia ?? null,
        nitrite: values.nitrite ?? null,
        nitrate: values.nitrate ?? null,
        ph: values.ph ?? null,
        alkalinityEqPerM3: values.kh === undefined ? null : values.kh * EQ_PER_M3_PER_DKH,
      },
    });
  }
  return errors.length > 0 ? errors : out.sort((a, b) => a.reading.day - b.reading.day);
}
