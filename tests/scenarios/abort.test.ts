// A run that is aborted, or that fails during its bands, leaves nothing running and no unhandled rejection.
import { readFileSync } from "node:fs";
import { afterEach, beforeEach, expect, test } from "vitest";
import { loadScenario } from "../../scenarios/load/load.ts";
import type { EnsembleSetup } from "../../scenarios/model/members.ts";
import { giveUpText } from "../../scenarios/run/give-up.ts";
import { type RunSettings, runScenario } from "../../scenarios/run/run.ts";
import type { MemberPool } from "../../sim/ensemble/ensemble.ts";

const source = readFileSync(new URL("../../scenarios/shipped/first-tank.yaml", import.meta.url), "utf8").concat("days: 7\n");
const loaded = loadScenario(source, "first-tank.yaml");
const run = (settings: Partial<RunSettings>) => {
  if (!loaded.ok) throw new Error("the shipped scenario does not load");
  return runScenario({ ...loaded, source, file: "first-tank.yaml" }, { seed: "1", members: 0, matrix: false, ...settings });
};

const alone: unknown[] = [];
const note = (reason: unknown) => alone.push(reason);
beforeEach(() => process.on("unhandledRejection", note));
afterEach(async () => {
  await new Promise((resolve) => setTimeout(resolve, 5));
  process.off("unhandledRejection", note);
  expect(alone.splice(0)).toEqual([]);
});

/** A pool whose chunks end only when aborted; counts the running ones. */
function endless(): MemberPool<EnsembleSetup> & { running: number } {
  const pool = {
    size: 2,
    running: 0,
    run: (_: unknown, signal: AbortSignal) => {
      pool.running++;
      return new Promise<never>((_resolve, reject) => {
        signal.addEventListener("abort", () => {
          pool.running--;
          reject(new Error("cancelled"));
        });
      });
    },
    close: async () => {},
  };
  return pool;
}

test("a run whose signal is already aborted does nothing", async () => {
  const told: string[] = [];
  await expect(run({ signal: AbortSignal.abort("no"), onProgress: (what) => told.push(what) })).rejects.toBe("no");
  expect(told).toEqual([]);
});

test("a run that is aborted rejects with the reason after its workers have stopped", async () => {
  const controller = new AbortController();
  const pool = endless();
  const onProgress = (what: string) => {
    if (what === "days") setTimeout(() => controller.abort(new Error("enough")), 0);
  };
  await expect(run({ members: 8, pool, signal: controller.signal, onProgress })).rejects.toThrow("enough");
  expect(pool.running).toBe(0);
});

test("a failure of the run stops the bands, and a failure of the bands stops the run; neither is unhandled", async () => {
  const pool = endless();
  const thrown = (what: string) => {
    if (what === "faults") throw new Error("fails meanwhile");
  };
  await expect(run({ members: 8, pool, matrix: true, onProgress: thrown })).rejects.toThrow("fails meanwhile");
  expect(pool.running).toBe(0);
  const broken: MemberPool<EnsembleSetup> = {
    size: 2,
    run: () => Promise.reject(new Error("a worker broke")),
    close: async () => {},
  };
  await expect(run({ members: 8, pool: broken })).rejects.toThrow("a worker broke");
});

test("the message of a run that is given up names the part of the file to change, and unusual values first", () => {
  if (!loaded.ok) throw new Error("the shipped scenario does not load");
  const told = (message: string, unusual: string[]) => giveUpText(message, loaded.scenario, unusual);
  expect(told("the step became too small to go on (the drip tray of tower)", [])).toBe(
    "The step became too small to go on (the drip tray of tower). Change sizes or flows under tower: tray in the file; everything else can stay.",
  );
  expect(told("x", ["tower.depth: 4 m is unusual (usual: 100 mm to 1.5 m)"])).toContain(
    "Change what is unusual in the file first: tower.depth: 4 m",
  );
});
