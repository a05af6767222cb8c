// The library under Node: `load`, `run` and `render` chain.
import { availableParallelism } from "node:os";
import type { EnsembleSetup } from "../scenarios/model/members.ts";
import type { RunResult } from "../scenarios/result/result.ts";
import { type RunOptions as OwnThreadOptions, run as runHere } from "../scenarios/run/library.ts";
import { type RunInput, runScenario } from "../scenarios/run/run.ts";
import { nodePool } from "../sim/ensemble/node-pool.ts";
import { ensembleWorker, pageScripts } from "./assets.ts";
import { type RenderOptions, renderPage } from "./report.ts";

/** The seed and the number of runs in the bands, as the command line's options; what to call meanwhile; when to stop; threads. */
export interface RunOptions extends OwnThreadOptions {
  /** Threads for the bands; all cores when left out, 0 for this thread alone. The results have the same bits either way. */
  readonly threads?: number;
}

/**
 * Runs a scenario, with the settings of the command line unless the options say otherwise: 40 runs in the bands, every fault and pair
 * of faults, seed "1".
 * @param scenario from `load`
 * @throws RunFailure in plain words when the parts cannot be put together or a run gives up
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
 * The page of a result, or of several that are compared on the same axes: one HTML file that needs nothing else.
 * @param results from `run`, at least one
 */
export function render(results: RunResult | readonly RunResult[], options: RenderOptions = {}): string {
  const { page, ...carried } = pageScripts();
  return renderPage("format" in results ? [results] : results, page, { ...options, ...carried });
}
