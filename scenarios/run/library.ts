// The library for programs, in steps: a text, a loaded scenario, a result.
import { errorText, loadScenario, type ScenarioError } from "../load/load.ts";
import type { RunResult } from "../result/result.ts";
import { type RunControls, type RunInput, runScenario } from "./run.ts";

/** A scenario with errors: all of them, each with its place, and `message` as the command line prints them. */
export class ScenarioMistakes extends Error {
  readonly errors: readonly ScenarioError[];
  constructor(errors: readonly ScenarioError[]) {
    super(errors.map(errorText).join("\n"));
    this.name = "ScenarioMistakes";
    this.errors = errors;
  }
}

/**
 * Loads and checks a scenario.
 * @param source the text of a scenario file (YAML)
 * @param file its name, for messages and the page
 * @returns the input of `run`
 * @throws ScenarioMistakes with all errors of the scenario
 * @example
 * const scenario = load(readFileSync("tank.yaml", "utf8"), "tank.yaml");
 */
export function load(source: string, file = "scenario.yaml"): RunInput {
  const loaded = loadScenario(source, file);
  if (!loaded.ok) throw new ScenarioMistakes(loaded.errors);
  const { scenario, defaults, warnings } = loaded;
  return { scenario, source, file, defaults, warnings };
}

/** Options as on the command line (random seed, number of runs in the bands), callbacks, and abort signal. */
export type RunOptions = Partial<RunControls>;

/**
 * Runs a scenario in this thread as the command line does (40 runs in the bands, every fault and pair, seed "1") unless the
 * options say otherwise. Works in Node and in browsers.
 * @throws RunFailure in plain words when the parts cannot be combined or a run does not finish
 */
export const run = (input: RunInput, options: RunOptions = {}): Promise<RunResult> =>
  runScenario(input, { seed: "1", members: 40, matrix: true, ...options });
