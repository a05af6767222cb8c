// The part of the library that is the same under Node and in browsers.

export type * from "../models/rig.ts";
export { errorText, type Loaded, loadScenario, type ScenarioError } from "../scenarios/load/load.ts";
export { type Change, withChanges } from "../scenarios/load/save.ts";
export type { LocatedError } from "../scenarios/load/yaml.ts";
export type { CachedFaults } from "../scenarios/report/cached-faults.ts";
export type { FaultResult } from "../scenarios/report/hydraulic-report.ts";
export type * from "../scenarios/result/result.ts";
export { type RunControls, RunFailure, type RunInput } from "../scenarios/run/run.ts";
export { scenarioJsonSchema } from "../scenarios/schema/json-schema.ts";
export type { Scenario, ScenarioText } from "../scenarios/schema/schema.ts";
export type { UnitSystem } from "../scenarios/text/format.ts";
export type * from "../scenarios/text/message.ts";
export type { Species } from "../scenarios/text/nitrogen-basis.ts";
export type { DefaultUsed } from "../scenarios/text/notes.ts";
export { type CsvFile, csvFiles } from "./csv.ts";
