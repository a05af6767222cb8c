// Maintenance intervals of pads and sediment: compared with arithmetic by hand, and with a shipped scenario.
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { loadScenario } from "../../scenarios/load/load.ts";
import { type FillHistory, maintenanceInterval } from "../../scenarios/model/maintenance-interval.ts";
import type { RunResult } from "../../scenarios/result/result.ts";
import { runScenario } from "../../scenarios/run/run.ts";

/**
 * Days in steps of a quarter on which inert solids fill a share per day since the last cleaning and organic solids have
 * a constant level.
 */
function filling(until: number, perDay: number, organic: number, cleanedOn: readonly number[] = [], before = 0): FillHistory {
  const days = Array.from({ length: 4 * until + 1 }, (_, i) => i / 4);
  const since = (day: number) => day - (cleanedOn.filter((c) => c <= day).at(-1) ?? 0);
  return {
    days,
    inert: days.map((day) => perDay * since(day)),
    organic: days.map(() => organic),
    before: days.map((day) => (cleanedOn.some((c) => c <= day) ? 0 : before)),
  };
}

describe("a maintenance interval", () => {
  it("is extrapolated from the last week where the run is too short: 2 % per day and 30 % of organics give 35 days", () => {
    const due = maintenanceInterval(filling(20, 0.02, 0.3), [])!;
    expect(due.everyDays).toBeCloseTo(35, 9);
    expect(due.fullDay).toBeNull();
  });

  it("is that of the run where it is long enough", () => {
    const due = maintenanceInterval(filling(60, 0.02, 0.3), [])!;
    expect(due.everyDays).toBeCloseTo(35, 9);
    expect(due.fullDay).toBeCloseTo(35, 9);
  });

  it("is the same with a cleaning every ten days, and for a pad that was half full at the start", () => {
    expect(maintenanceInterval(filling(60, 0.02, 0.3, [10, 20, 30, 40, 50]), [10, 20, 30, 40, 50])).toEqual({
      everyDays: expect.closeTo(35, 9),
      fullDay: null,
    });
    const begun = maintenanceInterval(filling(30, 0.02, 0.3, [], 0.5), [])!;
    expect(begun.everyDays).toBeCloseTo(35, 9);
    expect(begun.fullDay).toBeCloseTo(10, 9);
  });

  it("is null where nothing accumulates", () => {
    expect(maintenanceInterval(filling(60, 0, 0.01), [])).toBeNull();
  });
});

async function resultOf(file: string, change: (text: string) => string = (text) => text): Promise<RunResult> {
  const source = change(readFileSync(new URL(`../../scenarios/shipped/${file}`, import.meta.url), "utf8"));
  const loaded = loadScenario(source, file);
  if (!loaded.ok) throw new Error(loaded.errors.map((error) => error.problem).join("\n"));
  return runScenario({ ...loaded, source, file }, { seed: "1", members: 0, matrix: false });
}
const series = (result: RunResult, id: string): readonly (number | null)[] =>
  result.nitrogen.series.find((s) => s.id === id)!.values;

it("a pad that nobody changes is full on the day that its chart shows; changed at the stated interval, it never is", async () => {
  const withPads = (line: string) => (text: string) => text.replace(/.*do: change pad.*\n/, line);
  const left = await resultOf("one-sided-drip.yaml", (text) =>
    withPads("")(text).replace("  wetted: 25 %\n", "$&  prefilter: { changed: never }\n"),
  );
  const pad = left.findings.find((finding) => finding.id === "pad")!;
  const tenth = left.nitrogen.timeDays[series(left, "spill").findIndex((percent) => percent! >= 10)];
  expect(pad.level).toBe("watch");
  expect(pad.text).toContain(`full on day ${Math.floor(tenth + 1e-6)}`);
  const every = Math.floor(0.8 * pad.value!);
  const kept = await resultOf(
    "one-sided-drip.yaml",
    withPads(`  - { at: day ${every}, every: ${every} days, do: change pad }\n`),
  );
  const told = kept.findings.find((finding) => finding.id === "pad")!;
  expect(kept.nitrogen.inertSolids.out.map(({ label }) => label)).toContain("pads changed");
  expect(Math.max(...series(kept, "spill").map(Number))).toBeLessThan(10);
  expect(told.level).toBe("info");
  expect(told.value).toBeGreaterThan(0.8 * pad.value!);
  expect(told.value).toBeLessThan(1.25 * pad.value!);
  const changed = ({ calendar }: RunResult) =>
    calendar.filter(({ title }) => title === "Rinse or change the filter pad").map(({ day }) => day);
  expect(changed(kept)[0]).toBe(every);
  expect(changed(left)[0]).toBeGreaterThan(0);
});
