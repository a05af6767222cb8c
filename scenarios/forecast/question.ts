// A scenario prepared for a forecast: the set-ups of its runs, its kits, its readings, its question.
import { type CoupledModel, coupleModels, type NitrogenSetup, nitrogenSetup, otherReadings } from "../model/compile.ts";
import { CLEARED_NO2, CLEARED_TAN } from "../model/readiness.ts";
import { tiedTogether, type UncertainInput, uncertainInputs } from "../model/uncertain.ts";
import type { Scenario } from "../schema/schema.ts";
import type { CourseSetup } from "./course.ts";
import { type KitScale, kitScales } from "./kit.ts";

export interface Question {
  readonly coupled: CoupledModel;
  /** Data that all members share. */
  readonly setup: Omit<CourseSetup, "points">;
  readonly inputs: readonly UncertainInput[];
  /** From independent standard normal numbers to those of the inputs. */
  readonly tied: (z: ArrayLike<number>) => ArrayLike<number>;
  readonly scales: readonly KitScale[];
  /** The ranges already include the readings up to this day. */
  readonly usedUntil: number;
}

/**
 * @param source text of the scenario, from which the unit system is inferred
 * @param handles whether to compute the food that the system can handle
 * @throws Error with a message for the user if the parts cannot be combined
 */
export function questionOf(scenario: Scenario, source: string, handles: boolean): Question {
  const coupled = coupleModels(scenario, source);
  const story = coupled.simulator.simulate();
  const others = otherReadings(scenario, source).map((other) => nitrogenSetup(other, story));
  return questionFor(coupled, [nitrogenSetup(coupled, story), ...others], handles);
}

/** The same for given set-ups, such as those of a changed scenario. */
export function questionFor(coupled: CoupledModel, nitrogen: readonly NitrogenSetup[], handles: boolean): Question {
  const { resolved } = coupled;
  const { ask, fishless } = resolved;
  const inputs = uncertainInputs(nitrogen[0]);
  return {
    coupled,
    setup: {
      nitrogen,
      days: resolved.management.days,
      proof: { times: ask.times, withinDays: ask.withinDays, tan: CLEARED_TAN, no2: CLEARED_NO2 },
      ask: fishless ? { tanGPerM3: ask.tanGPerM3, withinDays: ask.withinDays, times: ask.times } : null,
      handles,
    },
    inputs,
    tied: tiedTogether(nitrogen[0], inputs),
    scales: kitScales(resolved, nitrogen.length),
    usedUntil: resolved.uncertain["readings used until"] ?? -1,
  };
}
