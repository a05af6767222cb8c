// The library for browsers: load a scenario and run it. Pages are rendered only under Node.
export * from "../scenarios/run/library.ts";
export * from "./shared-library.ts";
