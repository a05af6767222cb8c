// When is it ready, and for how much food: the keeper's own test, tried on the states of a run.
import { USUAL_TAN_PER_PROTEIN } from "../../models/life/excretion.ts";
import { NOTHING_ON_A_KIT, Trial } from "../../models/nitrogen/analysis/capacity.ts";
import { momentOf, type Run } from "../../models/nitrogen/simulation/simulation.ts";
import type { Moment } from "../../models/nitrogen/tank/snapshot.ts";
import { log } from "../../sim/elementary.ts";

/** What "cleared" means: nothing a kit shows [g N/m3]. */
export const CLEARED_TAN = NOTHING_ON_A_KIT.tanGPerM3;
export const CLEARED_NO2 = NOTHING_ON_A_KIT.no2GPerM3;

export interface Readiness {
  /** First day from which the test passes the wanted number of times running; null when it does not within the run. */
  readonly day: number | null;
  /** Index of the run's output that the capacity was judged at. */
  readonly index: number;
}

/** What a filter can do with the bacteria it has on one day [g N/d of ammonia]. */
export interface Capacity {
  /** Largest dose put in at once that is gone in a day. Strong water makes it large. */
  readonly clearsGNPerDay: number;
  /** Steady food under which neither ammonia nor nitrite shows on a kit after some days: what animals need. */
  readonly carriesGNPerDay: number;
}

/** No keeper doses more [g N/m3]. */
const LARGEST_DOSE_GN_PER_M3 = 10;

/** Days skipped at a time while the test fails by far [d]. */
const STRIDE_DAYS = 6;

/** The keeper's test: a dose that must be gone within a time, so many days in a row. */
export interface Ask {
  readonly tanGPerM3: number;
  readonly withinDays: number;
  readonly times: number;
}

/** Food that gives off a daily amount of ammonia nitrogen [g/d]. Source of the factor: see `USUAL_TAN_PER_PROTEIN`. */
export const foodFor = (gNPerDay: number, proteinShare: number): number => gNPerDay / (USUAL_TAN_PER_PROTEIN * proteinShare);

/** A moment of a run with the water of a test: no ammonia but the dose to come, and no meal on the way. */
function testWater(run: Run, n: number): Moment {
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
 * Tries the test once a day along the run, on the bacteria, the water and the operation of that day; nothing of the run is changed. A filter
 * run in without animals is then judged on the day it passes, one with animals at the end.
 * @param from first day that is tried
 */
export function readiness(run: Run, ask: Ask, fishless: boolean, from = 0): Readiness {
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
    // Long before a colony passes it fails by far: look every few days, and go back to the first day once one passes.
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

/** The last output at which everything ran: the last of all, unless the days end in a cut. */
function lastRunning({ days, cuts, ending }: Run): number {
  const cut = cuts[cuts.length - 1];
  if (ending.operating.running || !cut) return days.length - 1;
  return Math.max(0, days.findIndex((day) => day >= cut.event.day) - 1);
}

/** Steady food under which nothing shows, as ammonia [g N/d], with the bacteria of one output of a run. */
export const carriesAt = (run: Run, index: number): number =>
  new Trial(run.aquarium).foodCapacityGPerDay(momentOf(run, index), 1) * USUAL_TAN_PER_PROTEIN;

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

/** Days without food that are tried [d]. */
const FASTS = [7, 21] as const;

/** Days without any food after which the filter handles half of what it could at one output of a run; null when longer than is tried. */
export function halvesAfterDays(run: Run, index: number): number | null {
  const trial = new Trial(run.aquarium);
  const carries = (moment: Moment): number => trial.foodCapacityGPerDay(moment, 1);
  const full = carries(momentOf(run, index));
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
