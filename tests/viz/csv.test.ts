import { csvParseRows } from "d3";
import { describe, expect, test } from "vitest";
import { csvFiles } from "../../viz/csv.ts";
import { fixtureResult } from "./fixture.ts";

const result = fixtureResult();
const rowsOf = (suffix: string, from = result): string[][] => {
  const file = csvFiles(from).find((f) => f.suffix === suffix);
  if (!file) throw new Error(`no table ${suffix}`);
  return csvParseRows(file.text);
};

describe("tables, read back by another library's parser", () => {
  test("every line has as many cells as the header, and lines end as RFC 4180 says", () => {
    for (const { suffix, text } of csvFiles(result)) {
      const rows = rowsOf(suffix);
      expect(rows.length).toBeGreaterThan(1);
      expect(new Set(rows.map((row) => row.length))).toEqual(new Set([rows[0]!.length]));
      expect(text.replaceAll("\r\n", "")).not.toMatch(/\n/);
      expect(text).not.toMatch(/NaN|undefined|Infinity/);
    }
  });

  test("values come back to seven digits, and bands beside their line", () => {
    const rows = rowsOf("days").slice(1);
    const series = result.nitrogen.series[0]!;
    const own = rows.filter((row) => row[1] === series.id);
    expect(own).toHaveLength(result.nitrogen.timeDays.length);
    for (const [i, row] of own.entries()) expect(Number(row[6])).toBeCloseTo(series.values[i]!, 5);
    const banded = result.nitrogen.bands[0]!;
    const bandRows = rows.filter((row) => row[1] === banded.series);
    expect(Number(bandRows[10]![7])).toBeCloseTo(banded.low[10]!, 5);
    expect(Number(bandRows[10]![8])).toBeCloseTo(banded.high[10]!, 5);
  });

  test("commas, quotes and line ends in a name survive; a name that looks like a formula is kept from being one", () => {
    const nasty = 'Tank "A", left\nside';
    expect(rowsOf("findings", { ...result, name: nasty })[1]![0]).toBe(nasty);
    for (const name of ["=1+1", "+1", "-1", "@x"]) expect(rowsOf("findings", { ...result, name })[1]![0]).toBe(`'${name}`);
  });
});
