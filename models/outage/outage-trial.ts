// An outage simulated from a state of a run, with the same equations, animals and bacteria.

import { GaveUpError } from "../../sim/integrators/outcome.ts";
import { HOURS_PER_DAY } from "../../sim/time.ts";
import type { Case } from "../life/respiration.ts";
import { isHabit, type ManagementEvent } from "../nitrogen/events/all.ts";
import { type OutageRecord, stillHours } from "../nitrogen/operation/outage-record.ts";
import type { OutageOptions } from "../nitrogen/operation/power-cut.ts";
import { type PlannedModel, type Run, runSimulation } from "../nitrogen/simulation/simulation.ts";
import { buildNitrogenModel } from "../nitrogen/tank/nitrogen-model.ts";
import type { Snapshot } from "../nitrogen/tank/snapshot.ts";
import { type Cut, HORIZON_H } from "./cut.ts";

/** Relative tolerance: clocks are reported to a few per cent only. */
const TOLERANCE = 1e-3;

/**
 * Starting state of a trial: that of the last planned outage, unless more animals have come since; otherwise the end of
 * the run.
 */
export function trialStart({ cuts, ending }: Run): Snapshot {
  const last = cuts[cuts.length - 1]?.before;
  const more = last && ending.operating.groups.length > last.operating.groups.length;
  return last && !(more && ending.operating.running) ? last : ending;
}

/** Length of the period before the trial whose habits are repeated [d]. */
const HABIT_DAYS = 14;

/** The habits in the days before a state, repeated after an outage that begins in that state. */
function habitsAfter(events: readonly ManagementEvent[], from: Snapshot, cut: Cut): ManagementEvent[] {
  return events
    .filter(({ day }) => day > from.day - HABIT_DAYS && day <= from.day)
    .filter(isHabit)
    .map((event) => ({ ...event, day: event.day - from.day + HABIT_DAYS }))
    .filter(({ day }) => day > stillHours(cut) / HOURS_PER_DAY);
}

/**
 * A model that continues from a state for some days. The animals keep their feeding hours, and the outage begins at
 * once; `more` adds events.
 */
function onward(
  aquarium: PlannedModel,
  { day, operating }: Snapshot,
  cut: Cut,
  days: number,
  more: readonly ManagementEvent[] = [],
): PlannedModel {
  const { rig, management, cells, exchange, parameters } = aquarium;
  const hourOfDay = HOURS_PER_DAY * (day % 1);
  const groups = operating.groups.map((group) => ({
    ...group,
    feedingHours: group.feedingHours.map((hour) => (hour - hourOfDay + HOURS_PER_DAY) % HOURS_PER_DAY),
    // They arrived the day before, so that their last meal is known.
    arrivesDay: -1,
    leavesDay: null,
  }));
  const events = [{ ...cut, kind: "power cut", day: 0, label: "" } as const, ...more];
  return buildNitrogenModel(rig, { ...management, days, groups, events }, cells, exchange, parameters);
}

/** Runs the model with the tolerance above. @throws GaveUpError when the integrator gives up */
function follow(aquarium: PlannedModel, begin: Snapshot, options: OutageOptions): Run {
  const run = runSimulation(aquarium, { ...options, begin, outputsPerDay: 8, relative: TOLERANCE });
  if (run.outcome.status === "finished") return run;
  throw new GaveUpError("the power cut that is tried could not be followed", run.outcome);
}

/**
 * Simulates an outage and some days after it from a state of a run, with the habits of the days before.
 * @throws GaveUpError when the integrator gives up
 */
export const continueRun = (aquarium: PlannedModel, begin: Snapshot, cut: Cut, days: number, options: OutageOptions): Run =>
  follow(onward(aquarium, begin, cut, days, habitsAfter(aquarium.management.events, begin, cut)), begin, options);

/** The outage up to the horizon of the clocks: with likely, high and low oxygen uptake. */
export interface OutageTrial extends Readonly<Record<Case, OutageRecord>> {
  readonly aquarium: PlannedModel;
  readonly from: Snapshot;
}

/** Simulates the outage from a state up to the horizon; low and high uptake when they are first asked for. @throws GaveUpError when the integrator gives up */
export function runTrial(aquarium: PlannedModel, from: Snapshot, cut: Cut, options: OutageOptions): OutageTrial {
  // The outage is longer than the simulated time, so that the power does not return.
  const lasting = onward(aquarium, from, { ...cut, hours: HORIZON_H + 1, pumpStuckHours: 0 }, HORIZON_H / HOURS_PER_DAY);
  const live = (outageCase: Case): OutageRecord => follow(lasting, from, { ...options, outageCase }).cuts[0];
  const simulated: Partial<Record<Case, OutageRecord>> = {};
  const of = (outageCase: Case): OutageRecord => {
    simulated[outageCase] ??= live(outageCase);
    return simulated[outageCase];
  };
  of("likely");
  return {
    aquarium: lasting,
    from,
    get likely() {
      return of("likely");
    },
    get low() {
      return of("low");
    },
    get high() {
      return of("high");
    },
  };
}

/**
 * First time at which a quantity of a record falls to a level [h], linear between samples; null when it does not during
 * the outage.
 */
export function firstBelowH(record: OutageRecord, values: (sample: number) => number, level: number): number | null {
  for (let i = 0; i < record.inCut; i++) {
    const now = values(i);
    if (now > level) continue;
    if (i === 0) return 0;
    const before = values(i - 1);
    const share = before > now ? (before - level) / (before - now) : 1;
    return record.hours[i - 1] + share * (record.hours[i] - record.hours[i - 1]);
  }
  return null;
}
