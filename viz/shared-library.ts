// What the library has under Node and in browsers alike.
export { errorText, type Loaded, loadScenario, type ScenarioError } from "../scenarios/load/load.ts";
export { type Change, withChanges } from "../scenarios/load/save.ts";
export type * from "../scenarios/result/result.ts";
export { RunFailure, type RunInput, type RunSettings } from "../scenarios/run/run.ts";
export { scenarioJsonSchema } from "../scenarios/schema/json-schema.ts";
export type { Scenario, ScenarioText } from "../scenarios/schema/schema.ts";
export type { DefaultUsed } from "../scenarios/schema/walk.ts";
export { type CsvFile, csvFiles } from "./csv.ts";
