// Bayesian update of the inputs by readings: members, their weights, and whether the readings fit.

import { memberStream } from "../../sim/ensemble/ensemble.ts";
import { AdaptiveImportance } from "../../sim/inference/adaptive-importance.ts";
import { effectiveMembers, logMean, normalised, resampled } from "../../sim/inference/weights.ts";
import { type Course, type CourseRunner, type CourseSetup, runCourses } from "./course.ts";
import { drawnReadings, logLikelihood, type Reading } from "./kit.ts";
import type { Question } from "./question.ts";

export interface Members {
  readonly which: readonly number[];
  /** Standard normal inputs, tied together as the scenario says. */
  readonly points: readonly Float64Array[];
  /** One for each point; null if the member failed. */
  readonly courses: readonly (Course | null)[];
  /** Weights with a sum of one; zero for a member that failed. */
  readonly weights: Float64Array;
}

export interface UpdateSettings extends Omit<CourseRunner, "onProgress"> {
  /** Seed of the random numbers. */
  readonly seed: string;
  /** Members drawn from the prior. */
  readonly members: number;
  /** Members of each later wave, and largest number of such waves. */
  readonly waveMembers: number;
  readonly waves: number;
  /** Effective sample size at which no further wave is needed. */
  readonly enough: number;
  readonly onProgress?: (done: number, of: number) => void;
}

/** Effective sample size below which the result is not trusted. */
const LEAST = 12;
/** Posterior predictive p-value below which the readings do not fit. */
const ODD = 0.02;

export interface Update {
  readonly before: Members;
  readonly after: Members;
  readonly readings: readonly Reading[];
  /** Effective sample size after the readings. */
  readonly effective: number;
  readonly logEvidence: number;
  /** Posterior predictive p-value: share of sampled readings at most as likely as the real ones; null without readings. */
  readonly oddness: number | null;
  /**
   * Whether the answer is reliable. `thin`: the effective sample size is too small. `misfit`: the model hardly ever gives
   * such readings.
   */
  readonly trust: "claimed" | "thin" | "misfit";
}

/** Members alternate between the meanings of an unknown scale. */
const asPoints = (points: readonly Float64Array[], ways: number): CourseSetup["points"] =>
  points.map((z, n) => ({ which: n % ways, z: Array.from(z) }));

/**
 * Runs waves of members until the effective sample size suffices. Without readings all weights are equal and one wave is enough.
 * @throws the reason of the signal, or the error of a worker
 */
export async function update(question: Question, readings: readonly Reading[], settings: UpdateSettings): Promise<Update> {
  const { setup, inputs, scales } = question;
  const ways = setup.nitrogen.length;
  const waves = readings.length === 0 ? 0 : settings.waves;
  const sampler = new AdaptiveImportance(inputs.length, settings.seed);
  const which: number[] = [];
  const tied: Float64Array[] = [];
  const courses: (Course | null)[] = [];
  let all = settings.members + waves * settings.waveMembers;
  const wave = async (members: number): Promise<void> => {
    const points = sampler.propose(members);
    const own = points.map((z) => Float64Array.from(question.tied(z)));
    const named = asPoints(own, ways);
    const done = courses.length;
    const { onProgress } = settings;
    const run = await runCourses(setup, named, { ...settings, onProgress: (n) => onProgress?.(done + n, all) });
    tied.push(...own);
    which.push(...named.map((point) => point.which));
    courses.push(...run);
    sampler.add(
      points,
      run.map((course, n) =>
        course === null ? Number.NEGATIVE_INFINITY : logLikelihood(readings, course, named[n].which, scales),
      ),
    );
  };
  await wave(settings.members);
  const before: Members = {
    which: [...which],
    points: [...tied],
    courses: [...courses],
    weights: normalised(courses.map((course) => (course === null ? Number.NEGATIVE_INFINITY : 0))),
  };
  for (let n = 0; n < waves && sampler.effective() < settings.enough; n++) await wave(settings.waveMembers);
  all = courses.length;
  settings.onProgress?.(all, all);
  const after: Members = { which, points: tied, courses, weights: sampler.weights() };
  return judged(question, before, after, sampler.logEvidence(), readings, settings.seed);
}

/**
 * Update from existing members without a further wave, for several forecasts of one scenario.
 * @param before members drawn from the prior
 */
export function reweighted(question: Question, before: Members, readings: readonly Reading[], seed: string): Update {
  const logs = before.courses.map((course, n) =>
    course === null ? Number.NEGATIVE_INFINITY : logLikelihood(readings, course, before.which[n], question.scales),
  );
  return judged(question, before, { ...before, weights: normalised(logs) }, logMean(logs), readings, seed);
}

function judged(
  question: Question,
  before: Members,
  after: Members,
  logEvidence: number,
  readings: readonly Reading[],
  seed: string,
): Update {
  const effective = effectiveMembers(after.weights);
  const oddness = readings.length === 0 ? null : oddnessOf(question, after, readings, seed);
  const trust = readings.length > 0 && oddness !== null && oddness < ODD ? "misfit" : effective < LEAST ? "thin" : "claimed";
  return { before, after, readings, effective, logEvidence, oddness, trust };
}

/** Number of sampled sets of readings for the check. */
const REPLICATES = 200;

/**
 * Posterior predictive check (Gelman, Meng & Stern 1996, Statistica Sinica 6, 733): samples readings from the posterior members
 * and evaluates them with the same likelihood as the real ones.
 */
function oddnessOf(
  { scales }: Question,
  { which, courses, weights }: Members,
  readings: readonly Reading[],
  seed: string,
): number {
  let odder = 0;
  let drawn = 0;
  resampled(weights, REPLICATES, 0.5).forEach((n, r) => {
    const course = courses[n];
    if (!course) return;
    const made = drawnReadings(course, which[n], scales, readings, memberStream(`${seed}/check`, r));
    const own = logLikelihood(readings, course, which[n], scales);
    const other = logLikelihood(
      readings.map((reading, i) => ({ ...reading, value: made[i].value })),
      course,
      which[n],
      scales,
    );
    drawn++;
    if (other <= own) odder++;
  });
  return drawn === 0 ? 0 : odder / drawn;
}
