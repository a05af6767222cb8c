// How much a page weighs with everything in it, so that it can be sent by mail: faults, pairs and bands of the heaviest shipped scenarios.
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { loadScenario } from "../../scenarios/load/load.ts";
import type { RunResult } from "../../scenarios/result/result.ts";
import { runScenario } from "../../scenarios/run/run.ts";
import { pageScripts } from "../../viz/assets.ts";
import { renderPage } from "../../viz/report.ts";

const folder = new URL("../../scenarios/shipped/", import.meta.url);

async function resultOf(name: string): Promise<RunResult> {
  const source = readFileSync(new URL(`${name}.yaml`, folder), "utf8");
  const loaded = loadScenario(source, name);
  if (!loaded.ok) throw new Error(`${name} does not load`);
  // A band weighs the same for any number of runs in it.
  return runScenario({ ...loaded, source, file: `${name}.yaml` }, { seed: "1", members: 6, matrix: true });
}

it.each(["client-750", "four-tanks-one-sump", "community-few, community-all-at-once, community-in-four-lots"])(
  "%s: one page under a megabyte (some 15 s)",
  async (names) => {
    const results: RunResult[] = [];
    for (const name of names.split(", ")) results.push(await resultOf(name));
    const { page, ...carried } = pageScripts();
    expect(Buffer.byteLength(renderPage(results, page, carried))).toBeLessThan(1_000_000);
  },
  180_000,
);
