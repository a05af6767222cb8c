// The fastest stocking calendar that keeps the limits of nitrite and un-ionised ammonia with the requested confidence. Each
// slot gets as many animals as the limits allow; the calendar is then checked with fresh members and with meals.

import type { AnimalGroup } from "../../models/nitrogen/management.ts";
import { weightedQuantiles } from "../../sim/inference/weights.ts";
import { COURSE_POINTS_PER_DAY, type CourseRunner, runCourses } from "./course.ts";
import { largestWhole, smallestThatHolds } from "./halving.ts";
import { freeAmmonia, isSurer, keptBy, type LimitCheck, type Limits, pointsWith, stricter } from "./promise.ts";
import type { Question } from "./question.ts";

export interface PlanLimits extends Limits {
  /** Nitrate at which the animals come [g N/m3]. */
  readonly no3GPerM3: number;
}

export interface PlanRequest {
  readonly limits: PlanLimits;
  /** Required share of the members that keep the limits. */
  readonly confidence: number;
  /** Days between two lots. */
  readonly slotDays: number;
}

export interface PlanSettings extends Omit<CourseRunner, "onProgress"> {
  readonly seed: string;
  readonly members: number;
  /** Number of fresh members for the check. */
  readonly checked: number;
  /** Whether the least media is searched for, which takes as long as the calendar. */
  readonly leastMedia: boolean;
  readonly onProgress?: (what: string, done: number, of: number) => void;
}

/** Animals that arrive on a day. */
export interface StockingLot {
  readonly day: number;
  readonly group: number;
  readonly count: number;
}

export interface StockingPlan {
  /** Day on which the filter is ready with the requested confidence; infinity if not within the run; null without a challenge test. */
  readonly readyDay: number | null;
  /** Water change before the first animals. */
  readonly change: { readonly day: number; readonly share: number } | null;
  readonly lots: readonly StockingLot[];
  /** Animals that could not be placed within the run, by group. */
  readonly left: readonly number[];
  readonly searched: LimitCheck;
  /** The same with fresh members and with meals. */
  readonly fresh: LimitCheck;
  /** Whether the fresh members keep the limits more surely than asked, so that another draw of them does so too. */
  readonly promised: boolean;
  /** Times the whole calendar was put off because fresh members did not keep the promise. */
  readonly putOff: number;
  /** Bands of nitrite and un-ionised ammonia of the fresh members [g N/m3, g NH3/m3]. */
  readonly bands: {
    readonly days: readonly number[];
    readonly no2: readonly (readonly [early: number, likely: number, late: number])[];
    readonly nh3: readonly (readonly [early: number, likely: number, late: number])[];
  };
  /** Ammonia that the filter can handle per day at the end [g N/d]: 10 % quantile and median of the fresh members. */
  readonly handles: readonly [low: number, likely: number];
  /** Smallest volume of tower media, relative to the scenario, with which the calendar keeps the limits; null without a tower. */
  readonly leastMedia: number | null;
  readonly runs: number;
}

/** A lot is judged for so long after it comes: what it does to nitrite is over by then (common practice, no published source: mini-cycles last days). */
export const JUDGED_DAYS = 21;
/** Largest change of water before animals come. */
const LARGEST_CHANGE = 0.8;
const MOST_PUT_OFF = 4;
/** Smallest media volume tried, relative to the scenario, and the relative precision of the search. */
const LEAST_MEDIA = 1 / 32;
const NEAR_ENOUGH = 1.1;

interface Trial {
  readonly lots: readonly StockingLot[];
  readonly mediaShare?: number;
  readonly change: StockingPlan["change"];
}

/**
 * @param question of a scenario whose stock is to be planned; the arrivals in it are ignored
 * @throws Error when the scenario has no animals
 * @throws the reason of the signal
 */
export async function stockingPlan(question: Question, request: PlanRequest, settings: PlanSettings): Promise<StockingPlan> {
  const { setup } = question;
  const groups = setup.nitrogen[0].management.groups;
  if (groups.length === 0) throw new Error("there are no animals to plan for: write them under stock:");
  const { limits, confidence, slotDays } = request;
  const { seed, members, onProgress } = settings;
  let runs = 0;
  const run = async (trial: Trial, days: number, count: number, from: string, meals: boolean, handles: boolean) => {
    const points = pointsWith(question, count, from, { planned: { ...trial, days }, meals });
    const done = runs;
    runs += count;
    return runCourses({ ...setup, days, handles }, points, {
      ...settings,
      onProgress: (n) => onProgress?.("runs", done + n, Number.POSITIVE_INFINITY),
    });
  };
  const [nitrogen] = setup.nitrogen;
  const narrow = stricter(limits);
  let readyDay: number | null = null;
  let first = 0;
  let change: StockingPlan["change"] = null;
  if (setup.ask !== null) {
    const courses = await run({ lots: [], change: null }, setup.days, members, seed, false, false);
    const even = new Float64Array(courses.length).fill(1 / courses.length);
    const days = courses.map((course) => course?.answers["ready day"] ?? Number.POSITIVE_INFINITY);
    readyDay = weightedQuantiles(days, even, [confidence])[0];
    if (!Number.isFinite(readyDay)) return nothing(groups, readyDay, runs);
    first = Math.ceil(readyDay) + 1;
    const nitrate = weightedQuantiles(
      courses.map((course) => course?.curves.no3[Math.min(course.curves.no3.length - 1, first * COURSE_POINTS_PER_DAY)] ?? 0),
      even,
      [confidence],
    )[0];
    const wanted = 1 - limits.no3GPerM3 / Math.max(nitrate, limits.no3GPerM3);
    if (wanted > 0.02) change = { day: first - 0.5, share: Math.min(LARGEST_CHANGE, Math.ceil(wanted * 10) / 10) };
  }
  const all = groups.map(({ count }) => count);
  for (let putOff = 0; ; putOff++) {
    const start = first + putOff * slotDays;
    const moved = change && { ...change, day: start - 0.5 };
    const { lots, left } = await filled(start, moved);
    if (lots.length === 0) return { ...nothing(groups, readyDay, runs), putOff };
    const until = lots[lots.length - 1].day + JUDGED_DAYS;
    const trial = { lots, change: moved };
    const searched = keptBy(nitrogen, await run(trial, until, members, seed, false, false), narrow, lots[0].day, until);
    const courses = await run(trial, until, settings.checked, `${seed}/fresh/${putOff}`, true, true);
    const fresh = keptBy(nitrogen, courses, limits, lots[0].day, until);
    const promised = isSurer(fresh, confidence);
    if (!promised && putOff < MOST_PUT_OFF) continue;
    const even = new Float64Array(courses.length).fill(1 / courses.length);
    const bandOf = (values: readonly Float64Array[]) =>
      Array.from({ length: until * COURSE_POINTS_PER_DAY + 1 }, (_, n) => {
        const [early, likely, late] = weightedQuantiles(
          values.map((one) => one[Math.min(n, one.length - 1)]),
          even,
          [0.1, 0.5, 0.9],
        );
        return [early, likely, late] as const;
      });
    const ran = courses.filter((course) => course !== null);
    const [low, likely] = weightedQuantiles(
      ran.map(({ answers }) => answers.handles),
      new Float64Array(ran.length).fill(1 / ran.length),
      [0.1, 0.5],
    );
    return {
      readyDay,
      change: moved,
      lots,
      left,
      searched,
      fresh,
      promised,
      putOff,
      bands: {
        days: Array.from({ length: until * COURSE_POINTS_PER_DAY + 1 }, (_, n) => n / COURSE_POINTS_PER_DAY),
        no2: bandOf(ran.map(({ curves }) => curves.no2)),
        nh3: bandOf(ran.map((course) => freeAmmonia(course, nitrogen))),
      },
      handles: [low, likely],
      leastMedia: settings.leastMedia ? await leastMedia(trial, until) : null,
      runs,
    };
  }

  /** Searches the smallest media volume by bisection of the logarithm; 1 if less is not enough. */
  async function leastMedia(trial: Trial, until: number): Promise<number | null> {
    if (nitrogen.rig.towers.length === 0) return null;
    const holds = async (mediaShare: number): Promise<boolean> => {
      const courses = await run({ ...trial, mediaShare }, until, members, seed, false, false);
      return isSurer(keptBy(nitrogen, courses, narrow, trial.lots[0].day, until), confidence);
    };
    return smallestThatHolds(LEAST_MEDIA, 1, NEAR_ENOUGH, holds);
  }

  /** Fills one slot after another with the largest number of animals that keeps the limits for three weeks. */
  async function filled(start: number, changed: StockingPlan["change"]): Promise<{ lots: StockingLot[]; left: number[] }> {
    const lots: StockingLot[] = [];
    const left = [...all];
    for (let day = start; left.some((count) => count > 0) && day <= setup.days; day += slotDays) {
      const most = left.reduce((a, b) => a + b, 0);
      const holds = async (animals: number): Promise<boolean> => {
        const trial = { lots: [...lots, ...lotsOf(left, animals, day)], change: changed };
        const courses = await run(trial, day + JUDGED_DAYS, members, seed, false, false);
        return isSurer(keptBy(nitrogen, courses, narrow, lots[0]?.day ?? day, day + JUDGED_DAYS), confidence);
      };
      const can = await largestWhole(most, holds);
      for (const lot of lotsOf(left, can, day)) {
        lots.push(lot);
        left[lot.group] -= lot.count;
      }
      // Without animals the filter does not grow, so a later slot would fail as well.
      if (can === 0 && lots.length === 0 && setup.ask !== null) break;
    }
    return { lots, left };
  }
}

const nothing = (groups: readonly AnimalGroup[], readyDay: number | null, runs: number): StockingPlan => ({
  readyDay,
  change: null,
  lots: [],
  left: groups.map(({ count }) => count),
  searched: { share: 0, no2GPerM3: 0, nh3GPerM3: 0 },
  fresh: { share: 0, no2GPerM3: 0, nh3GPerM3: 0 },
  promised: false,
  putOff: 0,
  bands: { days: [], no2: [], nh3: [] },
  handles: [0, 0],
  leastMedia: null,
  runs,
});

/** The first `count` of the remaining animals, in the order of the list. */
function lotsOf(left: readonly number[], animals: number, day: number): StockingLot[] {
  let wanted = animals;
  return left.flatMap((count, group) => {
    const taken = Math.min(count, wanted);
    wanted -= taken;
    return taken > 0 ? [{ day, group, count: taken }] : [];
  });
}
