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

describe("CSV tables, read by another library", () => {
  test("every line has as many cells as the header, and lines end as RFC 4180 requires", () => {
    for (const { suffix, text } of csvFiles(result)) {
      const rows = rowsOf(suffix);
      expect(rows.length).toBeGreaterThan(1);
      expect(new Set(rows.map((row) => row.length))).toEqual(new Set([rows[0]!.length]));
      expect(text.replaceAll("\r\n", "")).not.toMatch(/\n/);
      expect(text).not.toMatch(/NaN|undefined|Infinity/);
    }
  });

  test("values have seven digits, and bands are beside their line", () => {
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

  /** 17.031 g of NH3 and 46.006 g of NO2 hold 14.007 g of nitrogen (standard atomic masses, IUPAC 2021). */
  test("nitrogen is also given on the scale of the kit", () => {
    const kit = { ...result.kit, ammonia: "NH3", nitrite: "NO2", nitrate: "NO3-N" } as const;
    const factor = { tan: ["NH3", 17.031 / 14.007], no2: ["NO2", 46.006 / 14.007], no3: ["NO3-N", 1] } as const;
    // Series are named as in a run: those of the first tank without its name.
    const series = result.nitrogen.series.map((s) => ({ ...s, id: s.id.replace("display/", "") }));
    const rows = rowsOf("days", { ...result, kit, nitrogen: { ...result.nitrogen, series } }).slice(1);
    for (const row of rows) {
      const scale = factor[row[1]!.split(".")[0] as keyof typeof factor];
      expect(row[10]).toBe(scale?.[0] ?? "");
      if (scale) expect(Number(row[9])).toBeCloseTo(Number(row[6]) * scale[1], 3);
      else expect(row[9]).toBe("");
    }
    expect(rows.filter((row) => row[10] === "NH3").length).toBe(result.nitrogen.timeDays.length);
  });

  test("commas, quotes and line breaks in a name are preserved; a name that looks like a formula is not read as one", () => {
    const nasty = 'Tank "A", left\nside';
    expect(rowsOf("findings", { ...result, name: nasty })[1]![0]).toBe(nasty);
    for (const name of ["=1+1", "+1", "-1", "@x"]) expect(rowsOf("findings", { ...result, name })[1]![0]).toBe(`'${name}`);
  });
});
