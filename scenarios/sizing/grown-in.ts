// What a size is judged by: the filter grown in on the stock that it is to carry, fed for weeks, with the inputs uncertain.

import { isShock, type ManagementEvent } from "../../models/nitrogen/events/all.ts";
import { type CourseRunner, runCourses } from "../forecast/course.ts";
import { keptBy, type LimitCheck, type Limits, pointsWith } from "../forecast/promise.ts";
import type { NitrogenSetup } from "../model/compile.ts";
import { CLEARED_NO2, CLEARED_TAN } from "../model/readiness.ts";
import { tiedTogether, uncertainInputs } from "../model/uncertain.ts";

/** Length of a trial. Its film begins as it settled on the likely inputs; a member's own inputs change it within two weeks (modelling assumption). */
const TRIAL_DAYS = 42;
const JUDGED_FROM = 14;

/** What a keeper does again and again; all else in a timeline happens once and does not size a filter. */
const isRoutine = (event: ManagementEvent): boolean =>
  (event.kind === "water change" && !isShock(event)) ||
  (event.kind === "dose" && event.substance === "bicarbonate") ||
  event.kind === "change pad" ||
  event.kind === "siphon sediment";

/**
 * A set-up with all animals in from the first day, on a film that has settled on their food, and with the routine of the last weeks as written.
 * @param load factor on the animals and their food
 */
export function grownIn(setup: NitrogenSetup, load = 1): NitrogenSetup {
  const { management } = setup;
  const later = Math.max(0, management.days - TRIAL_DAYS);
  const routine = management.events.filter((event) => isRoutine(event) && event.day >= later);
  // A shorter plan is repeated.
  const span = management.days - later;
  const times = Math.ceil(TRIAL_DAYS / span);
  return {
    ...setup,
    management: {
      ...management,
      days: TRIAL_DAYS,
      seed: { low: 1, likely: 1, high: 1, where: "everywhere" },
      groups: management.groups.map((group) => ({
        ...group,
        count: group.count * load,
        foodGPerDay: group.foodGPerDay * load,
        arrivesDay: 0,
        leavesDay: null,
      })),
      events: Array.from({ length: times }, (_, n) =>
        routine.map((event) => ({ ...event, day: event.day - later + n * span })),
      ).flat(),
    },
  };
}

/** A set-up with other towers; the hydraulics are those of the set-up. */
export function withTower(setup: NitrogenSetup, tower: Partial<NitrogenSetup["rig"]["towers"][number]>): NitrogenSetup {
  const [first, ...others] = setup.rig.towers;
  return { ...setup, rig: { ...setup.rig, towers: [{ ...first, ...tower }, ...others] } };
}

export interface LoadTrial {
  readonly members: number;
  readonly seed: string;
  readonly meals: boolean;
}

/** How the limits are kept, and the share of the members whose alkalinity was used up. */
export interface LoadResult extends LimitCheck {
  readonly alkalinityGone: number;
}

/**
 * Runs members of a set-up that is grown in.
 * @throws the reason of the signal, or the error of a worker
 */
export async function trialOf(
  grown: NitrogenSetup,
  limits: Limits,
  { members, seed, meals }: LoadTrial,
  runner: CourseRunner,
): Promise<LoadResult> {
  const setup = {
    nitrogen: [grown],
    days: TRIAL_DAYS,
    proof: { times: 1, withinDays: 1, tan: CLEARED_TAN, no2: CLEARED_NO2 },
    ask: null,
    handles: false,
  };
  const inputs = uncertainInputs(grown);
  const points = pointsWith({ setup, inputs, tied: tiedTogether(grown, inputs) }, members, seed, { meals });
  const courses = await runCourses(setup, points, runner);
  return {
    ...keptBy(grown, courses, limits, JUDGED_FROM, TRIAL_DAYS),
    alkalinityGone:
      courses.filter((course) => course !== null && Number.isFinite(course.answers["alkalinity gone"])).length / courses.length,
  };
}
