// A quick result reuses faults and fill levels of an earlier run: they must be right when the rig is the same, and
// absent when it is not.
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { loadScenario } from "../../scenarios/load/load.ts";
import { withChanges } from "../../scenarios/load/save.ts";
import { isSameRig } from "../../scenarios/report/cached-faults.ts";
import type { RunResult } from "../../scenarios/result/result.ts";
import { type RunSettings, runScenario } from "../../scenarios/run/run.ts";

const source = readFileSync(new URL("../../scenarios/shipped/first-tank.yaml", import.meta.url), "utf8");

async function run(text: string, settings: Partial<RunSettings>): Promise<RunResult> {
  const loaded = loadScenario(text, "first-tank.yaml");
  if (!loaded.ok) throw new Error(loaded.errors.map((error) => error.problem).join("\n"));
  return runScenario({ ...loaded, source: text, file: "first-tank.yaml" }, { seed: "1", members: 0, matrix: true, ...settings });
}

let cachedFaults: RunResult;
beforeAll(async () => {
  cachedFaults = await run(source, {});
});

describe("reused faults and fill levels", () => {
  it("are those of a complete run when only animals and bacteria changed", async () => {
    const text = withChanges(source, [{ path: ["seed"], value: "mature" }]);
    const whole = await run(text, {});
    const quick = await run(text, { matrix: false, cachedFaults });
    const { stories: _, waterImbalance: __, ...tables } = whole.hydraulics;
    expect(quick.hydraulics).toMatchObject(tables);
    const byId = (r: RunResult) => [...r.findings].sort((a, b) => a.id.localeCompare(b.id));
    expect(byId(quick)).toEqual(byId(whole));
  });

  it("keep their tables but lose their findings when the sump level changes", async () => {
    const quick = await run(withChanges(source, [{ path: ["sump", "water"], value: "260 mm" }]), { matrix: false, cachedFaults });
    expect(quick.hydraulics.matrix).toEqual(cachedFaults.hydraulics.matrix);
    const ids = quick.findings.map((f) => f.id);
    expect(ids).toContain("power-cut");
    for (const id of ["fill-mark", "everyday-faults", "fuse", "evaporation"]) expect(ids).not.toContain(id);
  });

  it("compare rigs by the six figures that a page stores", () => {
    const { rig } = cachedFaults;
    const nudged = (by: number) => ({ ...rig, sump: { ...rig.sump, runningLevelM: rig.sump.runningLevelM * (1 + by) } });
    expect(isSameRig(rig, nudged(1e-9))).toBe(true);
    expect(isSameRig(rig, nudged(1e-4))).toBe(false);
  });
});
