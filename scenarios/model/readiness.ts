// Day of readiness and food capacity: the keeper's challenge test, applied to the states of a run.
import { USUAL_TAN_PER_PROTEIN } from "../../models/life/excretion.ts";
import { NOTHING_ON_A_KIT, Trial } from "../../models/nitrogen/analysis/capacity.ts";
import { type Run, sampledState } from "../../models/nitrogen/simulation/simulation.ts";
import type { SampledState } from "../../models/nitrogen/tank/snapshot.ts";
import { log } from "../../sim/elementary.ts";

/** Readings below these count as cleared: a kit shows nothing [g N/m³]. */
export const CLEARED_TAN = NOTHING_ON_A_KIT.tanGPerM3;
export const CLEARED_NO2 = NOTHING_ON_A_KIT.no2GPerM3;

export interface Readiness {
  /**
   * First day from which the test passes the required number of times in succession; null when that does not occur in
   * the run.
   */
  readonly day: number | null;
  /** Index of the output of the run at which the capacity is evaluated. */
  readonly index: number;
}

/** Capacity of a filter with its biomass of one day [g N/d of ammonia]. */
export interface Capacity {
  /** Largest single dose that is cleared in a day. It is high because a strong dose speeds up uptake. */
  readonly clearsGNPerDay: number;
  /** Largest steady load at which a kit shows neither ammonia nor nitrite after some days, which is what animals need. */
  readonly carriesGNPerDay: number;
}

/** Largest dose that is considered [g N/m³]; no keeper doses more. */
const LARGEST_DOSE_GN_PER_M3 = 10;

/** Step of the search while the test fails by a wide margin [d]. */
const STRIDE_DAYS = 6;

/** The keeper's challenge test: a dose that must be cleared within a time, on a number of days in succession. */
export interface ChallengeQuestion {
  readonly tanGPerM3: number;
  readonly withinDays: number;
  readonly times: number;
}

/** Food that releases a daily amount of ammonia nitrogen [g/d]. Source of the factor: see `USUAL_TAN_PER_PROTEIN`. */
export const foodFor = (gNPerDay: number, proteinShare: number): number => gNPerDay / (USUAL_TAN_PER_PROTEIN * proteinShare);

/** A state of the run prepared for the test: without ammonia and without the next meal. */
function testWater(run: Run, n: number): SampledState {
  const { layout } = run.aquarium;
  const y = Float64Array.from(run.states[n]);
  for (const c of layout.wiring.cells.keys()) y[layout.cellIndex(c, "tan")] = 0;
  for (const g of layout.wiring.guts.keys()) {
    y[layout.gutIndex(g, 0)] = 0;
    y[layout.gutIndex(g, 1)] = 0;
  }
  return { y, operating: run.operating[n] };
}

/**
 * Applies the test once per day of the run, with the biomass, the water and the operating state of that day; it does
 * not change the run. The capacity of a filter run in without animals is evaluated on the day it passes, otherwise at
 * the end.
 * @param from first day on which the test is applied
 */
export function readiness(run: Run, ask: ChallengeQuestion, fishless: boolean, from = 0): Readiness {
  const trial = new Trial(run.aquarium);
  const last = run.days[run.days.length - 1];
  const indexOf = (day: number): number => {
    const n = run.days.findIndex((d) => d >= day);
    return n < 0 ? run.days.length - 1 : n;
  };
  const passes = (day: number): boolean => trial.clearsDose(testWater(run, indexOf(day)), ask.tanGPerM3, ask.withinDays);
  let ready: number | null = null;
  const lastTry = Math.floor(last);
  const tried = new Map<number, boolean>();
  const passed = (day: number): boolean => {
    if (!tried.has(day)) tried.set(day, passes(day));
    return tried.get(day)!;
  };
  for (let day = from; day <= lastTry && ready === null; ) {
    // Long before readiness the test fails by a wide margin, so search in large steps and go back to the first day that passes.
    const ahead = Math.min(day + STRIDE_DAYS, lastTry);
    if (!passed(day) && !passed(ahead)) {
      day = ahead + 1;
      continue;
    }
    const row = Array.from({ length: ask.times }, (_, n) => day + n);
    const failing = row.findLast((tryDay) => tryDay > lastTry || !passed(tryDay));
    if (failing === undefined) ready = day + ask.times - 1 + ask.withinDays;
    else day = failing + 1;
  }
  return { day: ready, index: ready === null || !fishless ? lastRunning(run) : indexOf(ready - ask.withinDays) };
}

/** Index of the last output with everything running: the last one, unless the run ends during an outage. */
function lastRunning({ days, cuts, ending }: Run): number {
  const cut = cuts[cuts.length - 1];
  if (ending.operating.running || !cut) return days.length - 1;
  return Math.max(0, days.findIndex((day) => day >= cut.event.day) - 1);
}

/** Steady load without measurable ammonia and nitrite, as ammonia [g N/d], with the biomass of one output of a run. */
export const carriesAt = (run: Run, index: number): number =>
  new Trial(run.aquarium).foodCapacityGPerDay(sampledState(run, index), 1) * USUAL_TAN_PER_PROTEIN;

/** The same with no ammonia in the water yet: what the bacteria of a fresh start could handle, whatever dose is in. */
export const carriesWithout = (run: Run, index: number): number =>
  new Trial(run.aquarium).foodCapacityGPerDay(testWater(run, index), 1) * USUAL_TAN_PER_PROTEIN;

/** What the filter could do with the bacteria and the water of one output of a run. */
export function capacityAt(run: Run, index: number): Capacity {
  const { aquarium } = run;
  const trial = new Trial(aquarium);
  const water = testWater(run, index);
  const volume = aquarium.exchange.volumesM3.reduce((a, b) => a + b, 0);
  return {
    clearsGNPerDay: trial.largestDose(water, 1, LARGEST_DOSE_GN_PER_M3) * volume,
    carriesGNPerDay: carriesAt(run, index),
  };
}

/** Periods without food that are simulated [d]. */
const FASTS = [7, 21] as const;

/** Days without food after which the capacity of one output has halved; null when longer than the simulated periods. */
export function halvesAfterDays(run: Run, index: number): number | null {
  const trial = new Trial(run.aquarium);
  const carries = (moment: SampledState): number => trial.foodCapacityGPerDay(moment, 1);
  const full = carries(sampledState(run, index));
  let before = { days: 0, share: 1 };
  for (const days of FASTS) {
    const share = carries(trial.unfed(testWater(run, index), days)) / full;
    if (share <= 0.5) {
      const rate = log(before.share / Math.max(share, 1e-3)) / (days - before.days);
      return before.days + log(before.share / 0.5) / rate;
    }
    before = { days, share };
  }
  return null;
}
