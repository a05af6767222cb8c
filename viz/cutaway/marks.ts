// Reads levels out of an outage run: at a moment, and the RUNNING, OFF and RESTART levels that a ruler can check.
import type { OutageTrace, VesselTrace } from "../../scenarios/result/result.ts";

/** Index of the last sample at or before `s`. */
export function sampleBefore(times: readonly number[], s: number): number {
  let low = 0;
  let high = times.length - 1;
  while (low < high) {
    const mid = (low + high + 1) >> 1;
    if (times[mid]! <= s) low = mid;
    else high = mid - 1;
  }
  return low;
}

/** Value at time `s` by linear interpolation; constant outside the samples. */
export function at(times: readonly number[], values: readonly number[], s: number): number {
  const i = sampleBefore(times, s);
  const next = Math.min(i + 1, times.length - 1);
  const span = times[next]! - times[i]!;
  const share = span > 0 ? Math.min(1, Math.max(0, (s - times[i]!) / span)) : 0;
  return values[i]! + (values[next]! - values[i]!) * share;
}

const CUT = /cut|power (goes|off|fails)|pump stops/i;
const RESTART = /restart|power (returns|back|on)|pump starts/i;

/** Times that divide an outage run into stages [s]; null for a missing stage. */
export function stageTimes(story: OutageTrace): {
  readonly cutS: number | null;
  readonly restartS: number | null;
  readonly endS: number;
} {
  const find = (what: RegExp): number | null => story.events.find((e) => what.test(e.id) || what.test(e.label))?.s ?? null;
  const cutS = find(CUT);
  const restartS = story.events.find((e) => RESTART.test(e.id) || RESTART.test(e.label))?.s ?? null;
  return { cutS, restartS, endS: story.timeS.at(-1) ?? 0 };
}

export interface LevelMarks {
  readonly vessel: VesselTrace;
  readonly runningZ: number;
  readonly offZ: number | null;
  /** Highest and lowest after the power is back. */
  readonly peakZ: number | null;
  readonly lowZ: number | null;
}

/** The marks of one vessel in one outage run. */
export function levelMarks(story: OutageTrace, vessel: VesselTrace): LevelMarks {
  const { cutS, restartS } = stageTimes(story);
  const runningZ = at(story.timeS, vessel.levelZ, cutS === null ? 0 : Math.max(0, cutS - 1e-6));
  if (restartS === null) return { vessel, runningZ, offZ: vessel.levelZ.at(-1) ?? null, peakZ: null, lowZ: null };
  const after = vessel.levelZ.filter((_, i) => story.timeS[i]! >= restartS);
  return {
    vessel,
    runningZ,
    offZ: at(story.timeS, vessel.levelZ, restartS),
    peakZ: after.length > 0 ? Math.max(...after) : null,
    lowZ: after.length > 0 ? Math.min(...after) : null,
  };
}

/** Water within this distance of the rim counts as full [m]. */
const AT_RIM_M = 0.005;

const BLOCKING = /drain|block|clog|debris|weir/i;

/**
 * Name of the level while the pump runs: BLOCKED if a fault keeps the water of a display at its rim.
 */
export function runningWord(story: OutageTrace, vessel: VesselTrace): "RUNNING" | "BLOCKED" {
  const { runningZ } = levelMarks(story, vessel);
  const atRim = vessel.rimZ !== null && runningZ > vessel.rimZ - AT_RIM_M;
  return atRim && vessel.kind === "display" && story.faults.some((fault) => BLOCKING.test(fault)) ? "BLOCKED" : "RUNNING";
}

/** Vessels with level marks: every display and the return chamber (the last chamber). */
export function ruledVessels(story: OutageTrace): readonly VesselTrace[] {
  const chambers = story.vessels.filter((v) => v.kind === "chamber");
  const last = chambers.at(-1);
  return [...story.vessels.filter((v) => v.kind === "display"), ...(last ? [last] : [])];
}
