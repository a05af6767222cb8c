// The short way in for programs: a loaded scenario, a result.

import type { RunResult } from "../result/result.ts";
import { type RunInput, type RunSettings, runScenario } from "./run.ts";

/**
 * Runs a scenario with the command line's own settings (40 runs in the bands, every fault and pair, seed "1") unless told otherwise.
 * @throws RunFailure in plain words when the parts cannot be put together or a run gives up
 */
export const simulate = (input: RunInput, settings: Partial<RunSettings> = {}): Promise<RunResult> =>
  runScenario(input, { seed: "1", members: 40, matrix: true, ...settings });
