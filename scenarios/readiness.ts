// When is it ready, and for how much food: the keeper's own test, tried on the states of a run.

import { TAN_PER_PROTEIN } from "../models/life/excretion.ts";
import type { Aquarium } from "../models/nitrogen/aquarium.ts";
import type { Run } from "../models/nitrogen/timeline.ts";
import { StiffSolver } from "../sim/stiff.ts";

/** What "cleared" means: nothing a kit shows, 0.25 mg/L as NH3 and as NO2 [g N/m3] (common practice, no published source). */
export const CLEARED_TAN = 0.25 / 1.2159;
export const CLEARED_NO2 = 0.25 / 3.2844;
const TRIAL_TOLERANCE = 1e-3;

/** Tries the test dose on copies of a system's state. Uses the system's present conditions. */
export class DoseTest {
  private readonly aquarium: Aquarium;
  private readonly solver: StiffSolver;
  private readonly y: Float64Array;

  constructor(aquarium: Aquarium) {
    this.aquarium = aquarium;
    const { system } = aquarium;
    this.y = new Float64Array(system.size);
    this.solver = new StiffSolver(system, { tolerances: { relative: TRIAL_TOLERANCE, absolute: system.absoluteTolerances() } });
  }

  /** Whether a dose [g N/m3] put into a state is gone, ammonia and nitrite both, within `days`. */
  clears(state: Float64Array, doseGPerM3: number, days: number): boolean {
    const { system, displayCells } = this.aquarium;
    const { y } = this;
    y.set(state);
    const { wiring } = system;
    // The water of the test holds the dose and nothing else on the way: animals' guts are empty.
    wiring.guts.forEach((_, g) => {
      y[system.gutIndex(g, 0)] = 0;
      y[system.gutIndex(g, 1)] = 0;
    });
    wiring.cells.forEach((_, c) => {
      y[system.cellIndex(c, "tan")] = doseGPerM3;
    });
    this.solver.restart();
    const outcome = this.solver.advance(0, days, y);
    return (
      outcome.status === "finished" &&
      y[system.cellIndex(displayCells[0], "tan")] < CLEARED_TAN &&
      y[system.cellIndex(displayCells[0], "no2")] < CLEARED_NO2
    );
  }

  /** Largest dose [g N/m3] that a state clears within a day, between 0 and `most`, to 3 %. */
  largest(state: Float64Array, most: number): number {
    let low = 0;
    let high = most;
    if (this.clears(state, most, 1)) return most;
    while (high - low > 0.03 * high && high > 0.02) {
      const middle = 0.5 * (low + high);
      if (this.clears(state, middle, 1)) low = middle;
      else high = middle;
    }
    return low;
  }
}

export interface Readiness {
  /** First day from which the test passes the wanted number of times running; null when it does not within the run. */
  readonly day: number | null;
  /** Nitrogen the filter takes in a day then (or at the end, when not ready) [g N/d]. */
  readonly capacityGNPerDay: number;
}

/** Food that gives off a daily amount of ammonia nitrogen [g/d]. Source of the factor: see `TAN_PER_PROTEIN`. */
export const foodFor = (gNPerDay: number, proteinShare: number): number => gNPerDay / (TAN_PER_PROTEIN * proteinShare);

/** Tries the test once a day along the run, on the water as it is that day with the dose in it; nothing of the run is changed. */
export function readiness(
  run: Run,
  ask: { readonly tanGPerM3: number; readonly withinDays: number; readonly times: number },
  fishless: boolean,
): Readiness {
  const test = new DoseTest(run.aquarium);
  const volume = run.aquarium.exchange.volumesM3.reduce((a, b) => a + b, 0);
  const last = run.days[run.days.length - 1];
  let running = 0;
  let ready: number | null = null;
  let index = 0;
  for (let day = 0; day <= Math.floor(last) && ready === null; day++) {
    while (index < run.days.length - 1 && run.days[index] < day) index++;
    running = test.clears(run.states[index], ask.tanGPerM3, ask.withinDays) ? running + 1 : 0;
    if (running >= ask.times) ready = day + ask.withinDays;
  }
  // A filter with animals is judged at the end; one run in without them on the day it passes.
  const state = run.states[ready === null || !fishless ? run.states.length - 1 : index];
  return { day: ready, capacityGNPerDay: test.largest(state, Math.max(8, 4 * ask.tanGPerM3)) * volume };
}
