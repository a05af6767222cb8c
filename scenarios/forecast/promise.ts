// A promise of a plan or of a size: limits that are kept in so many tanks of 100, and how members of a trial keep them.

import { freeAmmoniaNGPerM3 } from "../../models/water/ammonia.ts";
import { AMMONIA_PER_N } from "../../models/water/molar-mass.ts";
import { normalQuantile } from "../../sim/design/distributions.ts";
import { memberStream } from "../../sim/ensemble/ensemble.ts";
import { latinHypercube } from "../../sim/ensemble/sampling.ts";
import { weightedQuantiles } from "../../sim/inference/weights.ts";
import type { NitrogenSetup } from "../model/compile.ts";
import { COURSE_POINTS_PER_DAY, type Course, type CoursePoint } from "./course.ts";
import type { Question } from "./question.ts";

/** What must not be passed while animals are in the water. */
export interface Limits {
  /** Nitrite [g N/m3]. */
  readonly no2GPerM3: number;
  /** Un-ionised ammonia [g NH3/m3]. */
  readonly nh3GPerM3: number;
}

/** How the limits are kept in one trial. */
export interface LimitCheck {
  /** Share of the members that keep all limits. */
  readonly share: number;
  /** Nine tenths of the members stay below. */
  readonly no2GPerM3: number;
  readonly nh3GPerM3: number;
}

/** Members of a search are fed evenly, and the same ones choose the result, so they must stay under this part of the limits. */
const MARGIN = 0.8;
/** Part of the accepted risk that a search, and the check with fresh members, may use up. */
const SURER = 0.5;

export const stricter = <L extends Limits>(limits: L): L => ({
  ...limits,
  no2GPerM3: MARGIN * limits.no2GPerM3,
  nh3GPerM3: MARGIN * limits.nh3GPerM3,
});

/** Share of the members that must keep the limits before `confidence` is promised. */
export const surer = (confidence: number): number => 1 - SURER * (1 - confidence);

/** Whether a trial is as sure as that. */
export const isSurer = ({ share }: LimitCheck, confidence: number): boolean => share >= surer(confidence) - 1e-9;

/** Members of a trial as points, a Latin hypercube over the uncertain inputs. */
export function pointsWith(
  question: Pick<Question, "inputs" | "setup" | "tied">,
  count: number,
  seed: string,
  more: Pick<CoursePoint, "planned" | "meals">,
): CoursePoint[] {
  const ways = question.setup.nitrogen.length;
  const place = latinHypercube(seed, count, question.inputs.length);
  return Array.from({ length: count }, (_, n) => ({
    which: n % ways,
    z: Array.from(question.tied(place(n, memberStream(seed, n)).map(normalQuantile))),
    ...more,
  }));
}

/** Un-ionised ammonia along a course [g NH3/m3]. */
export function freeAmmonia({ curves }: Course, { management }: NitrogenSetup): Float64Array {
  return curves.tan.map(
    (tan, n) => freeAmmoniaNGPerM3(tan, curves.ph[n], management.temperatureC, management.start.salinityGPerKg) * AMMONIA_PER_N,
  );
}

const highestFrom = (values: Float64Array, from: number, until: number): number => {
  let most = 0;
  for (
    let n = Math.ceil(from * COURSE_POINTS_PER_DAY);
    n <= Math.min(values.length - 1, Math.floor(until * COURSE_POINTS_PER_DAY));
    n++
  )
    most = Math.max(most, values[n]);
  return most;
};

/** How members keep the limits from one day to another. A member that could not be run keeps nothing. */
export function keptBy(
  setup: NitrogenSetup,
  courses: readonly (Course | null)[],
  limits: Limits,
  from: number,
  until: number,
): LimitCheck {
  const [no2, nh3] = [[] as number[], [] as number[]];
  let good = 0;
  for (const course of courses) {
    const nitrite = course ? highestFrom(course.curves.no2, from, until) : Number.POSITIVE_INFINITY;
    const ammonia = course ? highestFrom(freeAmmonia(course, setup), from, until) : Number.POSITIVE_INFINITY;
    no2.push(nitrite);
    nh3.push(ammonia);
    if (nitrite <= limits.no2GPerM3 && ammonia <= limits.nh3GPerM3) good++;
  }
  const even = new Float64Array(courses.length).fill(1 / courses.length);
  return {
    share: good / courses.length,
    no2GPerM3: weightedQuantiles(no2, even, [0.9])[0],
    nh3GPerM3: weightedQuantiles(nh3, even, [0.9])[0],
  };
}
