// Summary of the members: early, likely and late value of every answer, bands of every curve, sensitivities, effect of the
// readings.

import { correlationOf } from "../../sim/design/correlation.ts";
import { varianceShares } from "../../sim/inference/variance-shares.ts";
import { effectiveMembers, weightedQuantiles } from "../../sim/inference/weights.ts";
import type { InputId } from "../model/uncertain.ts";
import type { Species } from "../text/nitrogen-basis.ts";
import { ANSWERS, type AnswerId, type Course, CURVES, type Curve, courseTimes } from "./course.ts";
import { chanceOf, type KitScale, type Reading } from "./kit.ts";
import type { Question } from "./question.ts";
import type { Members, Update } from "./update.ts";

/** Quantiles of 10, 50 and 90 %; infinity means "not within the run". */
export interface EarlyLikelyLate {
  readonly early: number;
  readonly likely: number;
  readonly late: number;
}
const SHARES = [0.1, 0.5, 0.9] as const;

export interface AnswerRange {
  readonly id: AnswerId;
  readonly before: EarlyLikelyLate;
  readonly after: EarlyLikelyLate;
  /** Share of the members without the event within the run, after the readings. */
  readonly never: number;
  /** Share of the remaining variance explained by each input, largest first; small ones are omitted. */
  readonly why: readonly { readonly input: InputId; readonly share: number }[];
}

export interface CurveBand {
  readonly curve: Curve;
  readonly days: readonly number[];
  readonly before: { readonly early: readonly number[]; readonly likely: readonly number[]; readonly late: readonly number[] };
  readonly after: CurveBand["before"];
}

export interface InputShift {
  readonly id: InputId;
  readonly before: EarlyLikelyLate;
  readonly after: EarlyLikelyLate;
  /**
   * Posterior mean and standard deviation in units of the prior's standard deviation, from the prior mean: 0 and 1 without
   * information.
   */
  readonly mean: number;
  readonly spread: number;
}

/** Two inputs that the readings tie together, although each alone may stay uncertain. */
export interface Tie {
  readonly one: InputId;
  readonly other: InputId;
  /** Correlation of their standard normal numbers. */
  readonly correlation: number;
}

export interface Residual {
  readonly day: number;
  readonly of: Reading["of"];
  /** As read. */
  readonly read: number;
  /** Concentration in the members after the update, on the same scale. */
  readonly expected: EarlyLikelyLate;
  /** Probability of such a reading. */
  readonly chance: number;
  readonly odd: boolean;
}

export interface ForecastSummary {
  readonly members: number;
  readonly failed: number;
  readonly days: number;
  readonly effective: number;
  readonly trust: Update["trust"];
  readonly oddness: number | null;
  readonly readings: number;
  readonly answers: readonly AnswerRange[];
  readonly bands: readonly CurveBand[];
  readonly inputs: readonly InputShift[];
  /** Strongest first; those that so few effective members could show by chance are left out. */
  readonly ties: readonly Tie[];
  readonly residuals: readonly Residual[];
  /** Inputs whose posterior contradicts the prior, strongest first. */
  readonly contradicted: readonly InputId[];
  /** Posterior probabilities of an unknown kit scale as ion and as nitrogen; null if all scales are known. */
  readonly scale: { readonly ion: number; readonly nitrogen: number } | null;
}

/** Smallest correlation that is reported, and how many standard errors of it (one over the root of the effective members) it must exceed. */
const LEAST_TIE = 0.15;
const STANDARD_ERRORS = 2;
/** Smallest reported share of variance. */
const LEAST_SHARE = 0.05;
/** A reading with a lower probability counts as unusual. */
const ODD_READING = 0.04;
/** Shift of the posterior mean, in prior standard deviations, at which an input contradicts its prior. */
const CONTRADICTED = 1.5;

interface UsableMembers {
  readonly courses: readonly Course[];
  readonly points: readonly Float64Array[];
  readonly which: readonly number[];
  readonly weights: Float64Array;
}

/** Members that ran and have a weight. */
function usable({ courses, points, which, weights }: Members): UsableMembers {
  const there = courses.flatMap((course, n) => (course !== null && weights[n] > 0 ? [n] : []));
  return {
    courses: there.map((n) => courses[n]!),
    points: there.map((n) => points[n]),
    which: there.map((n) => which[n]),
    weights: Float64Array.from(there, (n) => weights[n]),
  };
}

function range(values: ArrayLike<number>, weights: ArrayLike<number>): EarlyLikelyLate {
  const [early, likely, late] = weightedQuantiles(values, weights, SHARES);
  return { early, likely, late };
}

const answerOf = ({ courses, weights }: UsableMembers, id: AnswerId): EarlyLikelyLate =>
  range(
    courses.map(({ answers }) => answers[id]),
    weights,
  );

function bandOf({ courses, weights }: UsableMembers, curve: Curve, points: number): CurveBand["before"] {
  const [early, likely, late] = [new Array<number>(points), new Array<number>(points), new Array<number>(points)];
  const column = new Float64Array(courses.length);
  for (let n = 0; n < points; n++) {
    courses.forEach(({ curves }, m) => {
      column[m] = curves[curve][n];
    });
    [early[n], likely[n], late[n]] = weightedQuantiles(column, weights, SHARES);
  }
  return { early, likely, late };
}

function shiftOf(question: Question, before: UsableMembers, after: UsableMembers, i: number): InputShift {
  const { id } = question.inputs[i];
  const column = ({ points }: UsableMembers): number[] => points.map((z) => z[i]);
  const z = column(after);
  const mean = z.reduce((sum, value, n) => sum + after.weights[n] * value, 0);
  const variance = z.reduce((sum, value, n) => sum + after.weights[n] * (value - mean) * (value - mean), 0);
  return { id, before: range(column(before), before.weights), after: range(z, after.weights), mean, spread: Math.sqrt(variance) };
}

function tiesOf(question: Question, { points, weights }: UsableMembers): Tie[] {
  const columns = question.inputs.map((_, i) => points.map((z) => z[i]));
  const least = Math.max(LEAST_TIE, STANDARD_ERRORS / Math.sqrt(effectiveMembers(weights)));
  return question.inputs
    .flatMap(({ id }, i) =>
      question.inputs.slice(0, i).map((other, j): Tie => {
        return { one: other.id, other: id, correlation: correlationOf(columns[j], columns[i], weights) };
      }),
    )
    .filter(({ correlation }) => Math.abs(correlation) > least)
    .sort((a, b) => Math.abs(b.correlation) - Math.abs(a.correlation));
}

/** Compares a reading with the value of its curve in every member, on the scale of the kit. */
function residualOf(reading: Reading, { courses, which, weights }: UsableMembers, scales: readonly KitScale[]): Residual {
  const scale = scales.find(({ species }) => species === (reading.of as Species));
  const curve: Curve = reading.of === "ph" ? "ph" : reading.of === "alkalinity" ? "alk" : CURVE_OF[reading.of];
  const values = courses.map(({ curves }, n) => {
    const at = Math.min(curves[curve].length - 1, Math.round(reading.day * 2));
    return curves[curve][at] * (scale ? scale.perN[which[n]] : 1);
  });
  const chance = courses.reduce((sum, course, n) => sum + weights[n] * chanceOf(reading, course, which[n], scales), 0);
  const steps = scale?.steps.length ?? 20;
  return {
    day: reading.day,
    of: reading.of,
    read: reading.value,
    expected: range(values, weights),
    chance,
    odd: chance < Math.min(ODD_READING, 0.5 / steps),
  };
}

const CURVE_OF: Readonly<Record<Species, Curve>> = { ammonia: "tan", nitrite: "no2", nitrate: "no3" };

export function summaryOf(
  question: Question,
  { before: first, after: last, readings, effective, trust, oddness }: Update,
): ForecastSummary {
  const { setup, inputs, scales } = question;
  const [before, after] = [usable(first), usable(last)];
  const times = courseTimes(setup.days);
  const shifts = inputs.map((_, i) => shiftOf(question, before, after, i));
  const answers = ANSWERS.filter((id) => setup.handles || id !== "handles").map((id): AnswerRange => {
    const values = after.courses.map((course) => course.answers[id]);
    const { shares } = varianceShares(after.points, values, after.weights);
    return {
      id,
      before: answerOf(before, id),
      after: answerOf(after, id),
      never: values.reduce((sum, value, n) => sum + (Number.isFinite(value) ? 0 : after.weights[n]), 0),
      why: shares
        .map((share, i) => ({ input: inputs[i].id, share }))
        .filter(({ share }) => share >= LEAST_SHARE)
        .sort((a, b) => b.share - a.share),
    };
  });
  const ion = after.which.reduce((sum, which, n) => sum + (which === 0 ? after.weights[n] : 0), 0);
  return {
    members: last.courses.length,
    failed: last.courses.filter((course) => course === null).length,
    days: setup.days,
    effective: readings.length === 0 ? effectiveMembers(before.weights) : effective,
    trust,
    oddness,
    readings: readings.length,
    answers,
    bands: CURVES.map((curve) => ({
      curve,
      days: times,
      before: bandOf(before, curve, times.length),
      after: bandOf(after, curve, times.length),
    })),
    inputs: shifts,
    ties: readings.length === 0 ? [] : tiesOf(question, after),
    residuals: readings.map((reading) => residualOf(reading, after, scales)),
    contradicted: shifts
      .filter(({ mean }) => readings.length > 0 && Math.abs(mean) > CONTRADICTED)
      .sort((a, b) => Math.abs(b.mean) - Math.abs(a.mean))
      .map(({ id }) => id),
    scale: setup.nitrogen.length > 1 ? { ion, nitrogen: 1 - ion } : null,
  };
}
