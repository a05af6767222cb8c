// Observation model of test kits: the probability of each reading for a given water, and readings sampled from it.
//
// The keeper compares a colour with printed steps, so a reading is an interval: from halfway to the step below to halfway
// to the step above, on a scale that is linear near zero and logarithmic above. The last step means "this or more". Three
// errors apply: that of the kit, common to all its readings; that of each reading; and occasional gross errors such as the
// wrong tube.
import { normalQuantile, normalShare } from "../../sim/design/distributions.ts";
import { exp, log } from "../../sim/elementary.ts";
import type { ResolvedScenario } from "../build/build.ts";
import type { KitReading } from "../result/result.ts";
import { massPerN, readingsOf, type Species } from "../text/nitrogen-basis.ts";
import { COURSE_POINTS_PER_DAY, type Course, type Curve } from "./course.ts";

/**
 * Standard deviation of one reading in the logarithm: about one step either way (common practice, no published source),
 * plus the model error.
 */
const EYE = 0.3;
/** Standard deviation of a kit in the logarithm: age of the reagents, volume of the tube (modelling assumption). */
const BOTTLE = 0.15;
/** Share of readings without information: wrong tube, wrong line, bad light (modelling assumption). */
const MISREAD = 0.03;
/**
 * Standard deviations of a pH reading, and of an alkalinity reading by drops of 1 dKH [eq/m³] (common practice, no
 * published source).
 */
const PH_SPREAD = 0.3;
const ALKALINITY_SPREAD = 0.25;
/** Readings of one substance within this interval share the model error [d] (modelling assumption). */
const ALIKE_WITHIN_DAYS = 2;

/**
 * Nodes and weights of Gauss-Hermite quadrature for a standard normal variable, five points (Abramowitz & Stegun 1964,
 * table 25.10).
 */
const BOTTLES: readonly (readonly [node: number, weight: number])[] = [
  [-2.8569700138728056, 0.011257411327720689],
  [-1.355626179974266, 0.2220759220056126],
  [0, 0.5333333333333333],
  [1.355626179974266, 0.2220759220056126],
  [2.8569700138728056, 0.011257411327720689],
];

const SPECIES = ["ammonia", "nitrite", "nitrate"] as const;
const CURVE_OF: Readonly<Record<Species, Curve>> = { ammonia: "tan", nitrite: "no2", nitrate: "no3" };

/** One kit. */
export interface KitScale {
  readonly species: Species;
  /**
   * Mass on the scale per mass of nitrogen [g/g]; one value for each possible meaning of the scale, in the order of the
   * set-ups.
   */
  readonly perN: readonly number[];
  readonly steps: readonly number[];
  /** Value above which the colour no longer changes; none by default. */
  readonly saturates?: number;
}

/** Value that the colour shows for a true value on the scale. */
const coloured = ({ saturates }: KitScale, value: number): number =>
  saturates === undefined ? value : (value * saturates) / (value + saturates);

/** @param ways number of meanings of an unknown scale: first as the ion, then as nitrogen */
export const kitScales = ({ kit }: Pick<ResolvedScenario, "kit">, ways: number): readonly KitScale[] =>
  SPECIES.map((species) => {
    const meant = readingsOf(species, kit[species]).map(massPerN);
    return {
      species,
      perN: Array.from({ length: ways }, (_, which) => (which === 0 ? meant[meant.length - 1] : meant[0])),
      steps: kit.steps[species],
    };
  });

/** Perceptual scale of the comparison: linear near zero, logarithmic above. */
const eyed = (value: number, steps: readonly number[]): number => log(value + (steps[1] ?? 1) / 2);

/** Interval from halfway to the step below to halfway to the step above; the reading need not be a step. */
function interval(value: number, steps: readonly number[]): { readonly from: number; readonly to: number } {
  const below = steps.findLast((step) => step < value);
  const above = steps.find((step) => step > value);
  const own = eyed(value, steps);
  return {
    from: below === undefined ? Number.NEGATIVE_INFINITY : (eyed(below, steps) + own) / 2,
    to: above === undefined ? Number.POSITIVE_INFINITY : (own + eyed(above, steps)) / 2,
  };
}

/** Probability of the reading for a true value. */
function chance({ from, to }: { readonly from: number; readonly to: number }, at: number, steps: number): number {
  return (1 - MISREAD) * (normalShare((to - at) / EYE) - normalShare((from - at) / EYE)) + MISREAD / steps;
}

/** One reading with its interval. */
export interface Reading {
  readonly day: number;
  readonly of: Species | "ph" | "alkalinity";
  /** Value as read: mg/L on the scale, pH, or eq/m³. */
  readonly value: number;
  /** Weight of the reading, lower if others of the same substance are close in time. */
  readonly weight: number;
}

/** Readings of a scenario after the day `after` up to the day `until`, one for each kit and day. */
export function readingsBetween(list: readonly KitReading[], after: number, until: number): readonly Reading[] {
  const inTime = list.filter(({ day }) => day > after && day <= until);
  const plain = inTime.flatMap(({ day, ammonia, nitrite, nitrate, ph, alkalinityEqPerM3 }) =>
    (
      [
        ["ammonia", ammonia],
        ["nitrite", nitrite],
        ["nitrate", nitrate],
        ["ph", ph],
        ["alkalinity", alkalinityEqPerM3],
      ] as const
    ).flatMap(([of, value]) => (value === null ? [] : [{ day, of, value }])),
  );
  return plain.map((reading) => {
    const near = plain.reduce(
      (sum, other) =>
        sum + (other.of === reading.of ? Math.max(0, 1 - Math.abs(other.day - reading.day) / ALIKE_WITHIN_DAYS) : 0),
      0,
    );
    return { ...reading, weight: 1 / near };
  });
}

/** Value of a curve on a day, by linear interpolation. */
function at(values: Float64Array, day: number): number {
  const x = Math.min(values.length - 1, Math.max(0, day * COURSE_POINTS_PER_DAY));
  const n = Math.min(values.length - 2, Math.floor(x));
  return n < 0 ? values[0] : values[n] + (x - n) * (values[n + 1] - values[n]);
}

const LOG_ROOT_TWO_PI = 0.9189385332046727;

function logNormalDensity(x: number, spread: number): number {
  return log((1 - MISREAD) * exp(-0.5 * (x / spread) * (x / spread) - LOG_ROOT_TWO_PI) + MISREAD * 0.05) - log(spread);
}

/** Probability of a reading under a course without kit error, for residuals. */
export function chanceOf(reading: Reading, { curves }: Course, which: number, scales: readonly KitScale[]): number {
  const scale = scales.find(({ species }) => species === reading.of);
  if (!scale) return exp(plainLog(reading, curves));
  const value = coloured(scale, at(curves[CURVE_OF[scale.species]], reading.day) * scale.perN[which]);
  let sum = 0;
  for (const [node, weight] of BOTTLES)
    sum +=
      weight * chance(interval(reading.value, scale.steps), eyed(value * exp(BOTTLE * node), scale.steps), scale.steps.length);
  return sum;
}

/** pH and alkalinity, which have no colour steps. */
function plainLog({ of, value, day }: Reading, curves: Course["curves"]): number {
  return of === "ph"
    ? logNormalDensity(value - at(curves.ph, day), PH_SPREAD)
    : logNormalDensity(value - at(curves.alk, day), ALKALINITY_SPREAD);
}

/**
 * Log-likelihood of all readings under a course, marginalised over the error of each kit, which its readings share.
 * @param which index of the meaning of an unknown scale
 */
export function logLikelihood(
  readings: readonly Reading[],
  { curves }: Course,
  which: number,
  scales: readonly KitScale[],
): number {
  let sum = 0;
  for (const reading of readings)
    if (reading.of === "ph" || reading.of === "alkalinity") sum += reading.weight * plainLog(reading, curves);
  for (const scale of scales) {
    const { species, perN, steps } = scale;
    const own = readings.filter(({ of }) => of === species);
    if (own.length === 0) continue;
    const values = own.map(({ day }) => coloured(scale, at(curves[CURVE_OF[species]], day) * perN[which]));
    const intervals = own.map(({ value }) => interval(value, steps));
    const logs = BOTTLES.map(([node, weight]) => {
      const factor = exp(BOTTLE * node);
      let part = log(weight);
      for (let n = 0; n < own.length; n++)
        part += own[n].weight * log(chance(intervals[n], eyed(values[n] * factor, steps), steps.length));
      return part;
    });
    const most = Math.max(...logs);
    sum += most + log(logs.reduce((total, value) => total + exp(value - most), 0));
  }
  return sum;
}

/** Errors of a keeper's kits in one tank. */
export interface KitErrors {
  /** Factor of each kit in addition to its usual spread; 1 by default. */
  readonly factor?: Readonly<Partial<Record<Species, number>>>;
}

/**
 * Synthetic readings of a course, sampled from the observation model.
 * @param asked the days, and the kits used on each
 */
export function drawnReadings(
  { curves }: Course,
  which: number,
  scales: readonly KitScale[],
  asked: readonly Pick<Reading, "day" | "of">[],
  random: () => number,
  errors: KitErrors = {},
): readonly Pick<Reading, "day" | "of" | "value">[] {
  const bottles = new Map(
    scales.map(({ species }) => [
      species as Reading["of"],
      exp(BOTTLE * normalQuantile(random())) * (errors.factor?.[species] ?? 1),
    ]),
  );
  return asked.map(({ day, of }) => {
    const noise = normalQuantile(random());
    const slip = random();
    const any = random();
    const scale = scales.find(({ species }) => species === of);
    if (!scale) {
      const value =
        of === "ph" ? at(curves.ph, day) + PH_SPREAD * noise : Math.max(0, at(curves.alk, day) + ALKALINITY_SPREAD * noise);
      return { day, of, value };
    }
    const { species, perN, steps } = scale;
    if (slip < MISREAD) return { day, of, value: steps[Math.floor(any * steps.length)] };
    const colour = coloured(scale, at(curves[CURVE_OF[species]], day) * perN[which]);
    const seen = eyed(colour * bottles.get(species)!, steps) + EYE * noise;
    return {
      day,
      of,
      value: steps.findLast((step, n) => n === 0 || (eyed(step, steps) + eyed(steps[n - 1], steps)) / 2 <= seen)!,
    };
  });
}

/** Description of the kit errors, for the page. */
export const kitWords = `A reading counts as the span half way to the next steps; one look errs by about ${Math.round(100 * (exp(EYE) - 1))} %, a whole kit by ${Math.round(100 * (exp(BOTTLE) - 1))} %, and ${Math.round(100 * MISREAD)} of 100 readings say nothing. The last step means “this or more”.`;
