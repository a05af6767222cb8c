// Settings of the JavaScript engine for a short program with many threads.
import { setFlagsFromString } from "node:v8";

/** To be called before any work: it counts for what runs afterwards, and for worker threads. */
export function tuneEngine(): void {
  // V8 11 (Node 20) optimises functions early, and again where their types change; a run is over before that pays. A later start saves a tenth of
  // its processor time. Later engines have a compiler in between and no such setting.
  if (process.versions.v8.startsWith("11.")) setFlagsFromString("--interrupt-budget=500000");
  // Room for short-lived arrays [MB].
  setFlagsFromString("--min-semi-space-size=16");
}
