// A scenario made ready for a forecast: the set-ups of its runs, its kits, its readings, what is asked.
import { type CoupledModel, coupleModels, type NitrogenSetup, nitrogenSetup, otherReadings } from "../model/compile.ts";
import { CLEARED_NO2, CLEARED_TAN } from "../model/readiness.ts";
import { type UncertainInput, uncertainInputs } from "../model/uncertain.ts";
import type { Scenario } from "../schema/schema.ts";
import type { CourseSetup } from "./course.ts";
import { type KitScale, kitScales } from "./kit.ts";

export interface Question {
  readonly coupled: CoupledModel;
  /** What every member shares. */
  readonly setup: Omit<CourseSetup, "points">;
  readonly inputs: readonly UncertainInput[];
  readonly scales: readonly KitScale[];
  /** Readings up to this day are in the ranges already. */
  readonly usedUntil: number;
}

/**
 * @param source the scenario's text, from which the unit system is guessed
 * @param handles whether the food it can handle is asked
 * @throws Error in plain words when the parts cannot be put together
 */
export function questionOf(scenario: Scenario, source: string, handles: boolean): Question {
  const coupled = coupleModels(scenario, source);
  const story = coupled.simulator.simulate();
  const others = otherReadings(scenario, source).map((other) => nitrogenSetup(other, story));
  return questionFor(coupled, [nitrogenSetup(coupled, story), ...others], handles);
}

/** The same for set-ups made otherwise: those of a scenario with something changed. */
export function questionFor(coupled: CoupledModel, nitrogen: readonly NitrogenSetup[], handles: boolean): Question {
  const { resolved } = coupled;
  const { ask, fishless } = resolved;
  return {
    coupled,
    setup: {
      nitrogen,
      days: resolved.management.days,
      proof: { times: ask.times, withinDays: ask.withinDays, tan: CLEARED_TAN, no2: CLEARED_NO2 },
      ask: fishless ? { tanGPerM3: ask.tanGPerM3, withinDays: ask.withinDays, times: ask.times } : null,
      handles,
    },
    inputs: uncertainInputs(nitrogen[0]),
    scales: kitScales(resolved, nitrogen.length),
    usedUntil: resolved.uncertain["readings used until"] ?? -1,
  };
}
