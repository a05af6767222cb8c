// From what is known beforehand to what is known after readings: members, their weights, and whether the readings fit at all.

import { memberStream } from "../../sim/ensemble/ensemble.ts";
import { AdaptiveImportance } from "../../sim/inference/adaptive-importance.ts";
import { effectiveMembers, logMean, normalised, resampled } from "../../sim/inference/weights.ts";
import { type Course, type CourseRunner, type CourseSetup, runCourses } from "./course.ts";
import { drawnReadings, logLikelihood, type Reading } from "./kit.ts";
import type { Question } from "./question.ts";

export interface Members {
  readonly which: readonly number[];
  /** Standard normal inputs. */
  readonly points: readonly Float64Array[];
  /** Null for a member that could not be run. */
  readonly courses: readonly (Course | null)[];
  /** Adding up to one; none for a member that could not be run. */
  readonly weights: Float64Array;
}

export interface UpdateSettings extends Omit<CourseRunner, "onProgress"> {
  /** Start of the random numbers. */
  readonly seed: string;
  /** Members drawn by what is known beforehand. */
  readonly members: number;
  /** Members of each later wave, and how many waves at most. */
  readonly waveMembers: number;
  readonly waves: number;
  readonly onProgress?: (done: number, of: number) => void;
}

/** At this many members of equal weight no further wave is run. */
const ENOUGH = 80;
/** Under this many nothing is claimed. */
const LEAST = 12;
/** Under this chance of readings as odd as these, they do not fit. */
const ODD = 0.02;

export interface Update {
  readonly before: Members;
  readonly after: Members;
  readonly readings: readonly Reading[];
  /** Members of equal weight that the members after the readings are worth. */
  readonly effective: number;
  readonly logEvidence: number;
  /** How often readings drawn from the members after the update are as unlikely as these, or more so; null without readings. */
  readonly oddness: number | null;
  /** May the answer be claimed? `thin`: too few members count. `misfit`: readings like these hardly ever come. */
  readonly trust: "claimed" | "thin" | "misfit";
}

/** Members alternate between the ways an unknown scale may be meant. */
const asPoints = (points: readonly Float64Array[], ways: number): CourseSetup["points"] =>
  points.map((z, n) => ({ which: n % ways, z: Array.from(z) }));

/**
 * Runs members until enough of them count. With no readings they all count alike and one wave is enough.
 * @throws the reason of the signal, or what broke a worker
 */
export async function update(question: Question, readings: readonly Reading[], settings: UpdateSettings): Promise<Update> {
  const { setup, inputs, scales } = question;
  const ways = setup.nitrogen.length;
  const waves = readings.length === 0 ? 0 : settings.waves;
  const sampler = new AdaptiveImportance(inputs.length, settings.seed);
  const which: number[] = [];
  const courses: (Course | null)[] = [];
  let all = settings.members + waves * settings.waveMembers;
  const wave = async (members: number): Promise<void> => {
    const points = sampler.propose(members);
    const named = asPoints(points, ways);
    const done = courses.length;
    const { onProgress } = settings;
    const run = await runCourses(setup, named, { ...settings, onProgress: (n) => onProgress?.(done + n, all) });
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
    points: [...sampler.members],
    courses: [...courses],
    weights: normalised(courses.map((course) => (course === null ? Number.NEGATIVE_INFINITY : 0))),
  };
  for (let n = 0; n < waves && sampler.effective() < ENOUGH; n++) await wave(settings.waveMembers);
  all = courses.length;
  settings.onProgress?.(all, all);
  const after: Members = { which, points: sampler.members, courses, weights: sampler.weights() };
  return judged(question, before, after, sampler.logEvidence(), readings, settings.seed);
}

/**
 * The update by members that were run before, without any further wave: what many forecasts of one scenario share.
 * @param before drawn by what is known beforehand
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

/** Readings drawn for the check. */
const REPLICATES = 200;

/**
 * Posterior predictive check (Gelman, Meng & Stern 1996, Statistica Sinica 6, 733): readings are drawn from members after the update, and judged by
 * the same likelihood as the real ones.
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
