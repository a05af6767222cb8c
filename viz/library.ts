// The library under Node, in three steps: `load`, `run` and `render`.
import { availableParallelism } from "node:os";
import type { EnsembleSetup } from "../scenarios/model/members.ts";
import type { RunResult } from "../scenarios/result/result.ts";
import { type RunOptions as OwnThreadOptions, run as runHere } from "../scenarios/run/library.ts";
import { type RunInput, runScenario } from "../scenarios/run/run.ts";
import { nodePool } from "../sim/ensemble/node-pool.ts";
import { ensembleWorker, pageScripts } from "./assets.ts";
import { type RenderOptions, renderPage } from "./report.ts";

/** Options as on the command line (seed, number of runs in the bands), callbacks, abort signal, and threads. */
export interface RunOptions extends OwnThreadOptions {
  /**
   * Threads for the bands; all cores when absent, 0 for the calling thread only. The results have the same bits in
   * either case.
   */
  readonly threads?: number;
}

/**
 * Runs a scenario with the settings of the command line unless the options say otherwise: 40 runs in the bands, every
 * fault and pair of faults, seed "1".
 * @param scenario from `load`
 * @throws RunFailure in plain words when the parts cannot be combined or a run does not finish
 * @throws the reason of `options.signal` when it is aborted
 * @example
 * const scenario = load(readFileSync("tank.yaml", "utf8"), "tank.yaml");
 * const result = await run(scenario, { members: 40, seed: "1" });
 * writeFileSync("tank.html", render(result));
 */
export async function run(scenario: RunInput, options: RunOptions = {}): Promise<RunResult> {
  const { threads = availableParallelism(), ...settings } = options;
  if (threads < 1 || settings.members === 0) return runHere(scenario, settings);
  const pool = nodePool<EnsembleSetup>(ensembleWorker(), threads);
  try {
    return await runScenario(scenario, { seed: "1", members: 40, matrix: true, ...settings, pool });
  } finally {
    await pool.close();
  }
}

/**
 * Renders the page of one result, or of several that are compared on the same axes: one HTML file without external resources.
 * @param results from `run`, at least one
 * @throws Error when there is no result, or the built scripts are missing
 */
export function render(results: RunResult | readonly RunResult[], options: RenderOptions = {}): string {
  const { page, ...carried } = pageScripts();
  return renderPage("format" in results ? [results] : results, page, { ...options, ...carried });
}
