// Diagnosis: runs members for every cause and ranks the causes by their evidence.

import { normalQuantile } from "../../sim/design/distributions.ts";
import { log } from "../../sim/elementary.ts";
import { memberStream } from "../../sim/ensemble/ensemble.ts";
import { latinHypercube } from "../../sim/ensemble/sampling.ts";
import { logMean, normalised, temperature, tempered } from "../../sim/inference/weights.ts";
import { CAUSES, type Cause, type CauseId } from "./causes.ts";
import { type Course, type CoursePoint, type CourseRunner, runCourses } from "./course.ts";
import { chanceOf, type KitScale, logLikelihood, type Reading } from "./kit.ts";
import type { Question } from "./question.ts";

/** Members of one cause. */
export interface CauseMembers {
  readonly cause: Cause;
  readonly points: readonly CoursePoint[];
  readonly courses: readonly (Course | null)[];
}

/** A reading that supports or contradicts a cause, compared with all other causes together. */
export interface ReadingEvidence {
  readonly reading: Reading;
  /** Likelihood ratio of the reading: this cause over the others. */
  readonly times: number;
}

export interface Explanation {
  readonly id: CauseId;
  readonly title: string;
  /** Posterior probability among all causes. */
  readonly share: number;
  readonly forIt: readonly ReadingEvidence[];
  readonly against: readonly ReadingEvidence[];
  readonly test: string | null;
}

export interface Diagnosis {
  /** Best first. */
  readonly explanations: readonly Explanation[];
  /** The one test that distinguishes the first two. */
  readonly test: string;
  /** Power of the likelihood that gives a sufficient effective sample size; 1 = full likelihood. */
  readonly power: number;
}

/** Required effective sample size over all causes together. */
const ENOUGH = 12;
const WITNESSES = 2;
/** Members of less weight are left out of what a cause expects. */
const NEGLIGIBLE = 1e-3;

/** Causes that apply to a scenario. */
export const causesOf = ({ setup }: Question): readonly Cause[] => {
  const base = { setup: setup.nitrogen[0] } as Parameters<Cause["applies"]>[0];
  return CAUSES.filter(({ applies }) => applies(base));
};

/** Points of a cause. All causes use the same inputs, so their results differ by their changes and not by sampling. */
export function pointsOf(question: Question, cause: Cause, members: number, seed: string): readonly CoursePoint[] {
  const inputs = question.inputs.length;
  const ways = question.setup.nitrogen.length;
  const place = latinHypercube(seed, members, inputs + 2);
  return Array.from({ length: members }, (_, n) => {
    const u = place(n, memberStream(seed, n));
    const z = Array.from(question.tied(u.subarray(0, inputs).map(normalQuantile)));
    return { which: n % ways, z, ...(cause.change ? { cause: { id: cause.id, u: [u[inputs], u[inputs + 1]] as const } } : {}) };
  });
}

/**
 * Runs members of every cause. Causes that only change a kit share the runs of the scenario as written.
 * @throws the reason of the signal, or the error of a worker
 */
export async function runCauses(
  question: Question,
  members: number,
  seed: string,
  runner: Omit<CourseRunner, "onProgress">,
  onProgress?: (done: number, of: number) => void,
): Promise<readonly CauseMembers[]> {
  const causes = causesOf(question);
  const running = causes.filter(({ change, id }) => change !== undefined || id === "as written");
  const found = new Map<CauseId, CauseMembers>();
  let done = 0;
  for (const cause of running) {
    const points = pointsOf(question, cause, members, seed);
    const courses = await runCourses({ ...question.setup, handles: false }, points, {
      ...runner,
      onProgress: (n) => onProgress?.(done + n, running.length * members),
    });
    done += members;
    found.set(cause.id, { cause, points, courses });
  }
  const plain = found.get("as written")!;
  return causes.map((cause) => found.get(cause.id) ?? { ...plain, cause });
}

const scalesFor = (cause: Cause, scales: readonly KitScale[]): readonly KitScale[] => cause.kit?.(scales) ?? scales;

/**
 * Ranks causes by their marginal likelihood (the mean over their members, by simple Monte Carlo) times their prior probability.
 * If the effective sample size is too small, the likelihood is tempered for all causes, which makes the result less decisive (a
 * coarsened posterior: Miller & Dunson 2019, J. Am. Stat. Assoc. 114, 1113).
 */
export function diagnosisFrom({ scales }: Question, all: readonly CauseMembers[], readings: readonly Reading[]): Diagnosis {
  const logs = all.map(({ cause, points, courses }) => {
    const own = scalesFor(cause, scales);
    return courses.map((course, n) =>
      course === null ? Number.NEGATIVE_INFINITY : logLikelihood(readings, course, points[n].which, own),
    );
  });
  const common = all.map(({ cause }) => log(cause.beforehand));
  const flat = logs.flat();
  const fixed = logs.flatMap((own, k) => own.map(() => common[k] - log(own.length)));
  const power = temperature(fixed, flat, ENOUGH);
  const shares = normalised(logs.map((own, k) => common[k] + logMean(tempered(new Float64Array(own.length), own, power))));
  // Likelihood of each reading under a cause, from the members that fit best.
  const chances = all.map(({ cause, points, courses }, k) => {
    const weights = normalised(tempered(new Float64Array(logs[k].length), logs[k], power));
    const own = scalesFor(cause, scales);
    return readings.map((reading) =>
      courses.reduce(
        (sum, course, n) =>
          course === null || weights[n] < NEGLIGIBLE ? sum : sum + weights[n] * chanceOf(reading, course, points[n].which, own),
        1e-9,
      ),
    );
  });
  const explanations = all
    .map(({ cause }, k): Explanation & { readonly k: number } => {
      const others = shares.reduce((sum, share, j) => (j === k ? sum : sum + share), 0);
      const times = readings.map((reading, i): ReadingEvidence => {
        const elsewhere =
          others > 1e-12 ? shares.reduce((sum, share, j) => (j === k ? sum : sum + (share * chances[j][i]) / others), 0) : 1;
        return { reading, times: chances[k][i] / elsewhere };
      });
      const sorted = [...times].sort((a, b) => b.times - a.times);
      return {
        k,
        id: cause.id,
        title: cause.title,
        share: shares[k],
        forIt: sorted.slice(0, WITNESSES).filter((witness) => witness.times > 1.5),
        against: sorted
          .reverse()
          .slice(0, WITNESSES)
          .filter((witness) => witness.times < 1 / 1.5),
        test: cause.test,
      };
    })
    .sort((a, b) => b.share - a.share || a.k - b.k);
  const [first, second] = explanations;
  const waiting = "Wait a week and go on measuring every second day.";
  return {
    explanations: explanations.map(({ k: _, ...explanation }) => explanation),
    test: first.test ?? second?.test ?? waiting,
    power,
  };
}
