// One member of a forecast: a run with a sample of the uncertain inputs, its readable values twice a day, and its answers.
// It uses the equations of the likely run with even feeding and a loose tolerance, whose error is far smaller than the
// spread caused by the inputs (`tests/scenarios/forecast`).

import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { freeAmmoniaNGPerM3 } from "../../models/water/ammonia.ts";
import { AMMONIA_PER_N } from "../../models/water/molar-mass.ts";
import type { CreateMember, MemberPool } from "../../sim/ensemble/ensemble.ts";
import { SPENT_ALKALINITY } from "../analysis/series.ts";
import type { NitrogenSetup } from "../model/compile.ts";
import { type BaseCase, type MemberChallengeResult, prepareBaseCase, runSample } from "../model/members.ts";
import { type ChallengeQuestion, CLEARED_NO2, CLEARED_TAN, carriesAt, readiness } from "../model/readiness.ts";
import { sampleAt, type UncertainInput, uncertainInputs } from "../model/uncertain.ts";
import type { Cause, CauseId } from "./causes.ts";

/** Output points per day. */
export const COURSE_POINTS_PER_DAY = 2;
/** Relative tolerance. It shifts the days of landmarks by about a tenth of a day; the inputs shift them by weeks. */
const LEAN_TOLERANCE = 1e-2;

/** Curves of a member: nitrogen [g N/m³], pH, alkalinity [eq/m³]. */
export const CURVES = ["tan", "no2", "no3", "ph", "alk"] as const;
export type Curve = (typeof CURVES)[number];

/** Answers of a member, one number each; infinity means "not within the run". */
export const ANSWERS = [
  "ready day",
  "handles",
  "ammonia peak",
  "ammonia gone",
  "nitrite seen",
  "nitrite peak day",
  "nitrite peak",
  "nitrite gone",
  "highest free ammonia",
  "alkalinity gone",
] as const;
export type AnswerId = (typeof ANSWERS)[number];

/** Means "not within the run" in the numbers that a worker sends. */
const NEVER = Number.POSITIVE_INFINITY;

export interface CourseQuestions {
  readonly proof: MemberChallengeResult;
  /** The challenge test; null where animals are present, and "ready" means that no kit shows ammonia or nitrite any more. */
  readonly ask: ChallengeQuestion | null;
  /** Whether to compute the food that the filter can handle, which takes a third of the time of a run. */
  readonly handles: boolean;
}

export interface CourseSetup extends CourseQuestions {
  /** The set-up of the scenario, and the same with the other meaning of an unknown kit scale. */
  readonly nitrogen: readonly NitrogenSetup[];
  readonly days: number;
  /** Points of this chunk: index of the set-up, and standard normal inputs. */
  readonly points: readonly CoursePoint[];
}

export interface CoursePoint {
  readonly which: number;
  readonly z: readonly number[];
  /** A deviation from the scenario, with its strength and time. */
  readonly cause?: { readonly id: CauseId; readonly u: readonly [strength: number, moment: number] };
  /** A stocking calendar that replaces the arrivals of the scenario. */
  readonly planned?: Planned;
  /** Whether food comes in meals; else it is spread over the day. */
  readonly meals?: boolean;
}

/** A stocking calendar that replaces the arrivals of the scenario, and the number of simulated days. */
export interface Planned {
  readonly lots: readonly { readonly day: number; readonly group: number; readonly count: number }[];
  /** Volume of the tower media relative to the scenario; default 1. */
  readonly mediaShare?: number;
  readonly change: { readonly day: number; readonly share: number } | null;
  readonly days: number;
}

/** The curves and answers of one member. */
export interface Course {
  readonly curves: Readonly<Record<Curve, Float64Array>>;
  readonly answers: Readonly<Record<AnswerId, number>>;
}

export const courseTimes = (days: number): number[] =>
  Array.from({ length: Math.floor(days * COURSE_POINTS_PER_DAY) + 1 }, (_, i) => i / COURSE_POINTS_PER_DAY);

interface Prepared {
  readonly bases: readonly BaseCase[];
  readonly inputs: readonly (readonly UncertainInput[])[];
}

/**
 * Worker's side: the member function. What a chunk shares with the one before it is kept.
 * @param causes gives the causes by name, where points have some
 */
export const createCourse = (
  causes: (id: CauseId) => Cause = (id) => {
    throw new Error(`no causes are known here, not even ${id}`);
  },
): CreateMember<CourseSetup> => {
  let key = "";
  let prepared: Prepared | null = null;
  return (setup) => {
    const now = JSON.stringify(setup.nitrogen);
    if (prepared === null || now !== key) {
      prepared = { bases: setup.nitrogen.map((one) => prepareBaseCase(one)), inputs: setup.nitrogen.map(uncertainInputs) };
      key = now;
    }
    const { bases, inputs } = prepared;
    return (index) => {
      const { which, z, cause, planned, meals } = setup.points[index];
      const change = cause && causes(cause.id).change;
      const changed = change ? change(bases[which], cause.u) : bases[which];
      const base = planned ? withPlan(changed, planned) : changed;
      const run = leanRun(base, change ? uncertainInputs(base.setup) : inputs[which], z, setup.proof, meals);
      if (run.outcome.status !== "finished")
        return { failure: run.outcome.status === "failed" ? run.outcome.message : run.outcome.status };
      return packed(courseOf(run, setup), setup.days);
    };
  };
};

/** A set-up with another stocking calendar. Doses end on the day before the first animals arrive. */
function withPlan(base: BaseCase, { lots, change, days, mediaShare = 1 }: Planned): BaseCase {
  const { management } = base.setup;
  const first = Math.min(Number.POSITIVE_INFINITY, ...lots.map(({ day }) => day));
  const kept = management.events.filter(
    (event) =>
      !(event.kind === "dose" && (event.substance === "ammonia" || event.substance === "ammonium") && event.day > first - 1),
  );
  const events: (typeof kept)[number][] = change
    ? [
        ...kept,
        {
          day: change.day,
          label: "water change before the animals",
          kind: "water change" as const,
          share: change.share,
          tap: management.tap,
        },
      ].sort((a, b) => a.day - b.day)
    : kept;
  const groups = lots.map(({ day, group: g, count }, n) => {
    const group = management.groups[g];
    return {
      ...group,
      id: `${group.id} ${n}`,
      count,
      foodGPerDay: (group.foodGPerDay * count) / group.count,
      arrivesDay: day,
      leavesDay: null,
    };
  });
  const { rig } = base.setup;
  const towers = rig.towers.map((tower) => ({ ...tower, mediaDepthM: tower.mediaDepthM * mediaShare }));
  return { ...base, setup: { ...base.setup, rig: { ...rig, towers }, management: { ...management, days, events, groups } } };
}

/** Runs one member. */
export const leanRun = (
  base: BaseCase,
  inputs: readonly UncertainInput[],
  z: ArrayLike<number>,
  proof: MemberChallengeResult,
  meals = false,
): Run =>
  runSample(
    base,
    sampleAt(base.setup, inputs, z),
    { outputsPerDay: COURSE_POINTS_PER_DAY, relative: LEAN_TOLERANCE, proof },
    { evenFeeding: !meals },
  );

/** First appearance, peak, and first disappearance of a substance. */
interface Landmarks {
  readonly seen: number;
  readonly peakDay: number;
  readonly peak: number;
  readonly gone: number;
}

/** @param shows smallest concentration that a kit shows [g N/m³] */
export function landmarks(days: readonly number[], values: ArrayLike<number>, shows: number): Landmarks {
  let seen = NEVER;
  let [peakDay, peak] = [days[0], values[0]];
  for (let n = 0; n < days.length; n++) {
    if (values[n] > peak) [peakDay, peak] = [days[n], values[n]];
    if (values[n] >= shows) seen = Math.min(seen, days[n]);
    else if (seen < NEVER) return { seen, peakDay, peak, gone: days[n] };
  }
  return { seen, peakDay, peak, gone: seen < NEVER ? NEVER : 0 };
}

export function courseOf(run: Run, { ask, handles }: CourseQuestions): Course {
  const { layout, displayCells } = run.aquarium;
  const c = displayCells[0];
  const { days } = run;
  const inWater = (substance: "tan" | "no2" | "no3" | "alk"): Float64Array => {
    const i = layout.cellIndex(c, substance);
    return Float64Array.from(run.states, (y) => Math.max(0, y[i]));
  };
  const curves = {
    tan: inWater("tan"),
    no2: inWater("no2"),
    no3: inWater("no3"),
    ph: Float64Array.from(run.ph, (ph) => ph[c]),
    alk: inWater("alk"),
  };
  const [ammonia, nitrite] = [landmarks(days, curves.tan, CLEARED_TAN), landmarks(days, curves.no2, CLEARED_NO2)];
  let readyDay = clearSince(days, curves);
  let index = days.length - 1;
  if (ask !== null) {
    // No filter passes the test while the water still contains nitrite.
    const found = Number.isFinite(nitrite.gone)
      ? readiness(run, ask, true, Math.max(0, Math.floor(nitrite.gone) - 2))
      : { day: null, index };
    readyDay = found.day ?? NEVER;
    index = found.index;
  }
  let free = 0;
  for (let n = 0; n < days.length; n++) {
    const { temperatureC, salinityGPerKg } = run.operating[n];
    free = Math.max(free, freeAmmoniaNGPerM3(curves.tan[n], curves.ph[n], temperatureC[c], salinityGPerKg) * AMMONIA_PER_N);
  }
  const spent = curves.alk.findIndex((value) => value < SPENT_ALKALINITY);
  return {
    curves,
    answers: {
      "ready day": readyDay,
      handles: handles ? carriesAt(run, index) : 0,
      "ammonia peak": ammonia.peak,
      "ammonia gone": ammonia.gone,
      "nitrite seen": nitrite.seen,
      "nitrite peak day": nitrite.peakDay,
      "nitrite peak": nitrite.peak,
      "nitrite gone": nitrite.gone,
      "highest free ammonia": free,
      "alkalinity gone": spent < 0 ? NEVER : days[spent],
    },
  };
}

/** First day after which neither ammonia nor nitrite can be read until the end. */
function clearSince(days: readonly number[], { tan, no2 }: { readonly tan: Float64Array; readonly no2: Float64Array }): number {
  for (let n = days.length - 1; n >= 0; n--)
    if (tan[n] >= CLEARED_TAN || no2[n] >= CLEARED_NO2) return n === days.length - 1 ? NEVER : days[n + 1];
  return 0;
}

/** Curves at the common times, then the answers. Infinity is sent as -1, because a worker may only send finite numbers. */
function packed({ curves, answers }: Course, days: number): Float64Array {
  const times = courseTimes(days).length;
  const out = new Float64Array(CURVES.length * times + ANSWERS.length);
  CURVES.forEach((curve, k) => {
    const values = curves[curve];
    for (let n = 0; n < times; n++) out[k * times + n] = values[Math.min(n, values.length - 1)];
  });
  ANSWERS.forEach((id, k) => {
    out[CURVES.length * times + k] = Number.isFinite(answers[id]) ? answers[id] : -1;
  });
  return out;
}

function unpacked(values: Float64Array, days: number): Course {
  const times = courseTimes(days).length;
  return {
    curves: Object.fromEntries(CURVES.map((curve, k) => [curve, values.subarray(k * times, (k + 1) * times)])) as Record<
      Curve,
      Float64Array
    >,
    answers: Object.fromEntries(
      ANSWERS.map((id, k) => {
        const value = values[CURVES.length * times + k];
        return [id, value < 0 ? NEVER : value];
      }),
    ) as Record<AnswerId, number>,
  };
}

/** Members per chunk: small enough for smooth progress and for all cores to end together. */
const CHUNK = 5;

export interface CourseRunner {
  readonly pool: MemberPool<CourseSetup>;
  readonly signal: AbortSignal;
  /** Called with the number of members done and the total of this call. */
  readonly onProgress?: (done: number) => void;
}

/**
 * Runs members on the pool.
 * @returns one course for each point; null for a member that failed
 * @throws the reason of the signal, or the error of a worker
 */
export async function runCourses(
  setup: Omit<CourseSetup, "points">,
  points: CourseSetup["points"],
  { pool, signal, onProgress }: CourseRunner,
): Promise<readonly (Course | null)[]> {
  const results: (Course | null)[] = points.map(() => null);
  let begun = 0;
  let done = 0;
  const work = async (): Promise<void> => {
    while (begun < points.length) {
      const from = begun;
      begun = Math.min(points.length, from + CHUNK);
      const own = points.slice(from, begun);
      signal.throwIfAborted();
      const members = await pool.run({ setup: { ...setup, points: own }, seed: "", from: 0, to: own.length }, signal);
      members.forEach((member, n) => {
        results[from + n] = "failure" in member ? null : unpacked(member, setup.days);
      });
      done += own.length;
      onProgress?.(done);
    }
  };
  await Promise.all(Array.from({ length: pool.size }, work));
  return results;
}
