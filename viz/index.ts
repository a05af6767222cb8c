// The library: read a scenario, run it, draw its page. Runs under Node; for a browser bundle take the parts from their own files.
export { type BuildOptions, mostlyWritten, type ResolvedScenario, resolveScenario } from "../scenarios/build/build.ts";
export { errorText, type Loaded, loadScenario, type ScenarioError } from "../scenarios/load/load.ts";
export { type Change, withChanges } from "../scenarios/load/save.ts";
export type { Finding, Level, OutageTrace, RunResult, Series } from "../scenarios/result/result.ts";
export { RunFailure, type RunInput, type RunSettings, runScenario } from "../scenarios/run/run.ts";
export { simulate } from "../scenarios/run/simulate.ts";
export { scenarioJsonSchema } from "../scenarios/schema/json-schema.ts";
export type { Scenario, ScenarioText } from "../scenarios/schema/schema.ts";
export { ensembleWorker, pageScripts } from "./assets.ts";
export { type CsvFile, csvFiles } from "./csv.ts";
export { type IndexEntry, type PageOptions, renderIndex, renderPage } from "./report.ts";
