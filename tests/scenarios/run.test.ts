// Every shipped scenario from file to result: water and nitrogen close, nothing is undefined, and no verdict uses a
// forbidden word.
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { loadScenario } from "../../scenarios/load/load.ts";
import type { RunResult } from "../../scenarios/result/result.ts";
import { runScenario } from "../../scenarios/run/run.ts";
import { MEMBERS, shipped, shippedResult } from "../shipped-results.ts";

async function resultOf(file: string, seed = "1"): Promise<RunResult> {
  const source = readFileSync(new URL(`../../scenarios/shipped/${file}`, import.meta.url), "utf8");
  const loaded = loadScenario(source, file);
  if (!loaded.ok) throw new Error(loaded.errors.map((error) => error.problem).join("\n"));
  return runScenario({ ...loaded, source, file }, { seed, members: MEMBERS, matrix: true });
}

function everyNumber(value: unknown, path: string, visit: (n: number, path: string) => void): void {
  if (typeof value === "number") visit(value, path);
  else if (Array.isArray(value)) for (const [i, item] of value.entries()) everyNumber(item, `${path}[${i}]`, visit);
  else if (value !== null && typeof value === "object")
    for (const [key, item] of Object.entries(value)) everyNumber(item, `${path}.${key}`, visit);
}

it.each(shipped)("%s: water closes to 1e-9, nitrogen to 1e-8, every number is finite", async (file) => {
  const result = await shippedResult(file);
  expect(result.hydraulics.waterImbalance).toBeLessThan(1e-9);
  expect(result.nitrogen.ledger.imbalance).toBeLessThan(1e-8);
  expect(result.nitrogen.inertSolids.imbalance).toBeLessThan(1e-9);
  everyNumber(result, "result", (n, path) => expect(Number.isFinite(n), path).toBe(true));
  expect(result.findings.length).toBeGreaterThan(3);
  for (const finding of result.findings) {
    expect(`${finding.word} ${finding.text}`).not.toMatch(/\bsafe\b/i);
    expect(`${finding.text} ${finding.advice ?? ""}`, finding.id).not.toMatch(/NaN|undefined|Infinity|null|\[object/);
  }
  for (const series of result.nitrogen.series) expect(series.values.length, series.id).toBe(result.nitrogen.timeDays.length);
  for (const story of result.hydraulics.stories)
    for (const vessel of story.vessels) expect(vessel.levelZ.length).toBe(story.timeS.length);
});

it("gives the same bytes for the same seed, and other bands for another seed", async () => {
  const [shared, again, other] = [
    await shippedResult("first-tank.yaml"),
    await resultOf("first-tank.yaml"),
    await resultOf("first-tank.yaml", "2"),
  ];
  expect(JSON.stringify(again)).toBe(JSON.stringify(shared));
  expect(other.nitrogen.series).toEqual(shared.nitrogen.series);
  expect(other.nitrogen.bands).not.toEqual(shared.nitrogen.bands);
});

it("finds a seeded tank ready long before an unseeded one, and a cold one long after (NI-2, NI-3: common practice, no published source)", async () => {
  const day = (result: RunResult) => result.findings.find((finding) => finding.id === "ready")?.value ?? Number.NaN;
  const [plain, seeded, cold] = [
    await shippedResult("fishless-cycle-180.yaml"),
    await shippedResult("seeded-180.yaml"),
    await shippedResult("cold-cycle-180.yaml"),
  ];
  expect(plain.findings.find((finding) => finding.id === "ready")?.word).toBe("READY");
  expect(day(seeded)).toBeLessThan(0.6 * day(plain));
  expect(day(cold)).toBeGreaterThan(1.4 * day(plain));
});

it("fishless-cycle-180: no band of nitrite holds more nitrogen than the plan can put in before it is gone", async () => {
  const { bands } = (await shippedResult("fishless-cycle-180.yaml")).nitrogen;
  // A dose fills up to 3 mg/L as NH3, and none is given before nitrite is under 1 mg/L as NO2: the balance of mass allows no more [g N/m3].
  const most = 3 * (14.007 / 17.031) + 1 * (14.007 / 46.005);
  const nitrite = bands.find(({ series }) => series === "no2");
  expect(Math.max(...(nitrite?.high ?? [Number.NaN]))).toBeLessThan(most);
}, 60_000);
