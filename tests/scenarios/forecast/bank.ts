// Many members of one scenario, run once and shared by all synthetic tanks of a study.

import { readFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { type Course, type CoursePoint, type CourseSetup, runCourses } from "../../../scenarios/forecast/course.ts";
import { type Question, questionOf } from "../../../scenarios/forecast/question.ts";
import type { Members } from "../../../scenarios/forecast/update.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import { nodePool } from "../../../sim/ensemble/node-pool.ts";
import { AdaptiveImportance } from "../../../sim/inference/adaptive-importance.ts";
import { normalised } from "../../../sim/inference/weights.ts";

export function questionIn(path: string): Question {
  const source = readFileSync(new URL(path, import.meta.url), "utf8");
  const loaded = loadScenario(source, path);
  if (!loaded.ok) throw new Error(loaded.errors[0]!.problem);
  return questionOf(loaded.scenario, source, false);
}

export type Pool = ReturnType<typeof nodePool<CourseSetup>>;
export const threads = (): Pool =>
  nodePool<CourseSetup>(new URL("../../../scenarios/forecast/worker.ts", import.meta.url), Math.min(2, availableParallelism()));

const never = new AbortController().signal;

/** Runs points, telling how far it has come. */
export function runAll(
  question: Question,
  points: readonly CoursePoint[],
  pool: Pool,
  what: string,
): Promise<readonly (Course | null)[]> {
  let told = 0;
  return runCourses(question.setup, points, {
    pool,
    signal: never,
    onProgress: (done) => {
      if (done - told < 200 && done < points.length) return;
      told = done;
      console.log(`${what}: ${done} of ${points.length} runs`);
    },
  });
}

/** Members drawn by what is known beforehand. */
export async function membersOf(question: Question, count: number, seed: string, pool: Pool): Promise<Members> {
  const ways = question.setup.nitrogen.length;
  const points = new AdaptiveImportance(question.inputs.length, seed).propose(count);
  const which = points.map((_, n) => n % ways);
  const courses = await runAll(
    question,
    points.map((z, n) => ({ which: which[n]!, z: Array.from(z) })),
    pool,
    seed,
  );
  return { which, points, courses, weights: normalised(courses.map((course) => (course ? 0 : Number.NEGATIVE_INFINITY))) };
}

/** Every second day up to a day, with the three kits that keepers use. */
export const everySecondDay = (until: number, kits = ["ammonia", "nitrite", "nitrate"] as const) =>
  Array.from({ length: Math.floor(until / 2) + 1 }, (_, n) => kits.map((of) => ({ day: 2 * n, of }))).flat();
