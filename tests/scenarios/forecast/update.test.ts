import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { createCourse } from "../../../scenarios/forecast/course.ts";
import { forecast } from "../../../scenarios/forecast/forecast.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { ownThreadPool } from "../../../sim/ensemble/ensemble.ts";
import { nodePool } from "../../../sim/ensemble/node-pool.ts";

const source = readFileSync(new URL("../../../scenarios/shipped/first-tank.yaml", import.meta.url), "utf8").replace(
  "seed: none",
  "seed: { share: 10 %, where: everywhere }\ndays: 12",
);
const at = (day: number, ammonia: number, nitrite: number) => ({
  day,
  ammonia,
  nitrite,
  nitrate: null,
  ph: null,
  alkalinityEqPerM3: null,
});

function input(readings: readonly ReturnType<typeof at>[], text = source) {
  const loaded = loadScenario(text, "tank.yaml");
  if (!loaded.ok) throw new Error(loaded.errors[0]!.problem);
  return { scenario: loaded.scenario, source: text, file: "tank.yaml", readings };
}
const settings = {
  signal: new AbortController().signal,
  seed: "1",
  members: 24,
  hydraulicMembers: 0,
  diagnose: "never" as const,
};
const here = () => ownThreadPool(createCourse());

describe("a forecast (about 20 seconds of runs)", () => {
  test("has the same bits on two workers as on this thread", { timeout: 120_000 }, async () => {
    const pool = nodePool<Parameters<ReturnType<typeof createCourse>>[0]>(
      new URL("../../../scenarios/forecast/worker.ts", import.meta.url),
      2,
    );
    try {
      const readings = [at(2, 1, 0.5), at(4, 0, 1)];
      const alone = await forecast(input(readings), { ...settings, pool: here() });
      const together = await forecast(input(readings), { ...settings, pool });
      expect(JSON.stringify(together)).toBe(JSON.stringify(alone));
      expect(alone.summary.members).toBeGreaterThan(24);
    } finally {
      await pool.close();
    }
  });

  test("early, likely and late are in order, and the shares of the spread do not exceed it", { timeout: 60_000 }, async () => {
    const { summary, answers } = await forecast(input([]), { ...settings, pool: here() });
    expect(summary.answers.length).toBeGreaterThan(5);
    for (const { after, why } of summary.answers) {
      expect(after.early).toBeLessThanOrEqual(after.likely);
      expect(after.likely).toBeLessThanOrEqual(after.late);
      expect(why.reduce((sum, { share }) => sum + share, 0)).toBeLessThanOrEqual(1 + 1e-9);
    }
    for (const { after } of summary.bands)
      after.early.forEach((value, n) => {
        expect(value).toBeLessThanOrEqual(after.late[n]!);
      });
    expect(answers[0]!.text).toMatch(/^Ready/);
  });

  test("readings far from every run give no trusted answer and no update", { timeout: 60_000 }, async () => {
    const odd = Array.from({ length: 6 }, (_, n) => at(2 * n, 8, 5));
    const result = await forecast(input(odd), { ...settings, pool: here() });
    expect(result.summary.trust).not.toBe("claimed");
    expect(result.learned).toEqual([]);
    expect(result.trust).toMatch(/^(?:No claim|The readings do not fit)/);
  });

  test("an input given as exact does not vary", { timeout: 60_000 }, async () => {
    const known = `${source}uncertain:\n  water volume: { low: 100 %, high: 100 % }\n  readings used until: day 4\n`;
    const result = await forecast(input([at(2, 1, 1)], known), { ...settings, pool: here() });
    expect(result.inputs.find(({ id }) => id === "water volume")!.before).toBe("100 % · 100 % · 100 %");
    // The ranges already include the single reading.
    expect(result.summary.readings).toBe(0);
  });
});
