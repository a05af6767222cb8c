import seedrandom from "seedrandom";
import { describe, expect, test } from "vitest";
import type { Course } from "../../../scenarios/forecast/course.ts";
import { chanceOf, drawnReadings, type KitScale, logLikelihood, readingsBetween } from "../../../scenarios/forecast/kit.ts";
import { readingsFrom } from "../../../scenarios/forecast/readings-file.ts";
import { errorText } from "../../../scenarios/load/load.ts";

/** A course with constant concentrations [g N/m³]. */
const still = (tan: number, no2 = 0): Course => {
  const flat = (value: number) => new Float64Array(121).fill(value);
  return {
    curves: { tan: flat(tan), no2: flat(no2), no3: flat(1), ph: flat(7.5), alk: flat(2) },
    answers: {} as Course["answers"],
  };
};
const scales: readonly KitScale[] = [
  { species: "ammonia", perN: [1], steps: [0, 0.25, 0.5, 1, 2, 4, 8] },
  { species: "nitrite", perN: [3.2845], steps: [0, 0.25, 0.5, 1, 2, 5] },
  { species: "nitrate", perN: [4.4267], steps: [0, 5, 10, 20, 40] },
];
const reading = (of: "ammonia" | "nitrite", value: number, day = 3) => ({ of, value, day, weight: 1 });

describe("readings of a kit", () => {
  test("the probabilities of all steps add up to one", () => {
    for (const tan of [0, 0.1, 0.6, 3, 40]) {
      const sum = scales[0]!.steps.reduce((total, step) => total + chanceOf(reading("ammonia", step), still(tan), 0, scales), 0);
      expect(sum).toBeCloseTo(1, 9);
    }
  });

  test("the true step is the most likely, followed by its neighbours: accurate to one step (common practice, no published source)", () => {
    const chance = (value: number) => chanceOf(reading("ammonia", value), still(1), 0, scales);
    expect(chance(1)).toBeGreaterThan(0.5);
    expect(chance(0.5) + chance(1) + chance(2)).toBeGreaterThan(0.95);
    expect(chance(8)).toBeGreaterThan(0);
    expect(chance(8)).toBeLessThan(0.02);
  });

  test("the last step means this or more: a value far above it is as likely as one just above", () => {
    const at = (no2: number) => chanceOf(reading("nitrite", 5), still(0, no2), 0, scales);
    expect(at(50)).toBeGreaterThanOrEqual(at(4));
    expect(at(50)).toBeGreaterThan(0.95);
    expect(at(0.3)).toBeLessThan(0.02);
  });

  test("sampled readings have the probabilities of the likelihood", () => {
    const random = seedrandom("kit");
    const asked = [{ day: 3, of: "ammonia" as const }];
    const seen = new Map<number, number>();
    const many = 4000;
    for (let n = 0; n < many; n++) {
      const { value } = drawnReadings(still(1.3), 0, scales, asked, random)[0]!;
      seen.set(value, (seen.get(value) ?? 0) + 1);
    }
    for (const step of scales[0]!.steps) {
      const expected = chanceOf(reading("ammonia", step), still(1.3), 0, scales);
      // Four standard errors of a count.
      expect(Math.abs((seen.get(step) ?? 0) / many - expected)).toBeLessThan(4 * Math.sqrt(expected / many) + 1e-3);
    }
  });

  test("a kit that reads a third too high is more likely than the same error in every single reading", () => {
    const shifted = [1, 3, 5, 7].map((day) => reading("ammonia", 2, day));
    const together = logLikelihood(shifted, still(1.5), 0, scales);
    const apart = shifted.reduce((sum, one) => sum + logLikelihood([one], still(1.5), 0, scales), 0);
    expect(together).toBeGreaterThan(apart);
  });

  test("two readings on one day count as one, readings every second day count in full", () => {
    const at = (day: number) => ({ day, ammonia: 1, nitrite: null, nitrate: null, ph: null, alkalinityEqPerM3: null });
    const weights = (days: readonly number[]) => readingsBetween(days.map(at), -1, 99).map(({ weight }) => weight);
    expect(weights([4, 4])).toEqual([0.5, 0.5]);
    expect(weights([2, 4, 6])).toEqual([1, 1, 1]);
    expect(weights([2, 3, 4])).toEqual([1 / 1.5, 0.5, 1 / 1.5]);
    expect(readingsBetween([2, 4, 6].map(at), 2, 4).map(({ day }) => day)).toEqual([4]);
  });
});

describe("a table of readings", () => {
  test("days, steps, more than the last step, blanks, remarks", () => {
    const rows = readingsFrom("# my tank\nday,Ammonia,nitrite,kh\n0,0.25,,8\nday 3 18:00,1,5+,\n7,>4,0,6.5\n", "r.csv");
    expect(rows.map((row) => ("written" in row ? row.written : row.problem))).toEqual([
      { at: "day 0", ammonia: 0.25, kh: "8 dKH" },
      { at: "day 3 18:00", ammonia: 1, nitrite: 5 },
      { at: "day 7", ammonia: 4, nitrite: 0, kh: "6.5 dKH" },
    ]);
  });

  test("reports every error with its position and a suggestion", () => {
    const errors = readingsFrom("at,amonia,nitrite\n0,1,much\nsoon,1,2\n,1,1\n3,1,2000\n", "r.csv") as Parameters<
      typeof errorText
    >[0][];
    expect(errors.map((error) => errorText(error).split("\n")[0])).toEqual([
      'r.csv:1:4: "amonia" is no kind of reading: did you mean "ammonia"?',
      'r.csv:2:5: "much" is no reading: write a number such as 0.5, or 5+ for "5 or more"',
      expect.stringMatching(/^r\.csv:3:1: /),
      "r.csv:4:1: this row does not say when",
      "r.csv:5:5: 2000 is outside the possible range, 0 to 1000",
    ]);
  });

  test("rejects a text that is not a table", () => {
    for (const text of ["", "at,ammonia\n", "ammonia\n1\n"]) expect("problem" in readingsFrom(text, "r.csv")[0]!).toBe(true);
  });
});
