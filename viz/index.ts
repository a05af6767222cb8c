// The library: load a scenario, run it, render its page.
export { load, ScenarioMistakes } from "../scenarios/run/library.ts";
export { type RunOptions, render, run } from "./library.ts";
export { type IndexEntry, type RenderOptions, renderIndex } from "./report.ts";
export * from "./shared-library.ts";
