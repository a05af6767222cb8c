// How far the answers may lie from the likely ones: nine tenths of the members, on the footing of the likely run.
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import type { EnsembleResult } from "../../sim/ensemble/ensemble.ts";
import { highestIn } from "./incidents.ts";
import { bandDays, type MemberQuestions, NEVER_DAY } from "./members.ts";

export type Range = readonly [low: number, high: number];

export interface Spread {
  /** Runs in the ensemble. */
  readonly members: number;
  /** Days on which it is ready; null at the end that is not within the run. */
  readonly ready: readonly [early: number | null, late: number | null];
  /** Ammonia it can handle a day [g N]. */
  readonly carries: Range;
  /** Highest readings of each window, in the order of the questions. */
  readonly highest: readonly { readonly tan: Range; readonly no2: Range }[];
}

/** Fewer members than this say nothing about nine of ten. */
const FEWEST_MEMBERS = 5;
const LOW = 0.05;
const HIGH = 0.95;
/** Below this a ratio of readings says nothing [g N/m3]. */
const READABLE = 0.005;

/** How meals lift a reading over the even feeding of the members; 1 where there is next to nothing. */
export const mealFactor = (likely: number, even: number): number => (likely > READABLE && even > READABLE ? likely / even : 1);

/** A range that holds the likely value: no plausible run is left out of its own band. */
export const including = ([low, high]: Range, likely: number): Range => [Math.min(low, likely), Math.max(high, likely)];

/**
 * @param likely the likely run, with meals; `even` the same fed evenly, as the members are
 * @param answers the likely answers: day ready (null when not within the run) and what it can handle
 */
export function spreadOf(
  ensemble: EnsembleResult | null,
  likely: Run,
  even: Run,
  questions: MemberQuestions,
  answers: { readonly readyDay: number | null; readonly carries: number },
): Spread | null {
  if (!ensemble || ensemble.sketch.count < FEWEST_MEMBERS) return null;
  const first = 3 * bandDays(likely.aquarium.management.days).length;
  const [low, high] = [ensemble.sketch.quantile(LOW), ensemble.sketch.quantile(HIGH)];
  const rangeAt = (n: number): Range => [low[first + n], high[first + n]];
  const [early, late] = including(rangeAt(0), answers.readyDay ?? NEVER_DAY);
  const within = (day: number): number | null => (day > likely.aquarium.management.days + 1 ? null : day);
  return {
    members: ensemble.sketch.count,
    ready: questions.ask === null ? [answers.readyDay, answers.readyDay] : [within(early), within(late)],
    carries: including(rangeAt(1), answers.carries),
    highest: questions.windows.map(([from, until], w) => {
      const of = (substance: "tan" | "no2", n: number): Range => {
        const now = highestIn(likely, substance, from, until).value;
        const factor = mealFactor(now, highestIn(even, substance, from, until).value);
        const [a, b] = rangeAt(2 + 2 * w + n);
        return including([a * factor, b * factor], now);
      };
      return { tan: of("tan", 0), no2: of("no2", 1) };
    }),
  };
}
