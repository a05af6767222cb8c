// The library: read a scenario, run it, draw its page. Runs under Node; for a browser bundle take the parts from their own files.
export { type BuildOptions, type Built, build, mostlyWritten } from "../scenarios/build.ts";
export { scenarioJsonSchema } from "../scenarios/jsonSchema.ts";
export { errorText, type Loaded, loadScenario, type ScenarioError } from "../scenarios/load.ts";
export type { Finding, Level, RunResult, Series, Story } from "../scenarios/result.ts";
export { RunFailure, type RunInput, type RunSettings, runScenario } from "../scenarios/run.ts";
export { type Change, withChanges } from "../scenarios/save.ts";
export type { Scenario, ScenarioText } from "../scenarios/schema.ts";
export { simulate } from "../scenarios/simulate.ts";
export { ensembleWorker, pageScripts } from "./assets.ts";
export { type CsvFile, csvFiles } from "./csv.ts";
export { type IndexEntry, type PageOptions, renderIndex, renderPage } from "./report.ts";
