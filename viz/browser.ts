// The library in a browser: read a scenario and run it there. Pages are made under Node.
export * from "../scenarios/run/library.ts";
export * from "./shared-library.ts";
