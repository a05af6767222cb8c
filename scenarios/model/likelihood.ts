// Uncertainty of the answers: the range of nine tenths of the ensemble members, corrected to the meals of the likely run.
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import type { EnsembleResult } from "../../sim/ensemble/ensemble.ts";
import { highestIn, lowestAlkalinity } from "./incidents.ts";
import { bandDays, type MemberQuestions, NEVER_DAY } from "./members.ts";

export type Range = readonly [low: number, high: number];

export interface Spread {
  /** Runs in the ensemble. */
  readonly members: number;
  /** Earliest and latest day of readiness; null for an end that is not within the run. */
  readonly ready: readonly [early: number | null, late: number | null];
  /** Ammonia that the filter can process per day [g N]. */
  readonly carries: Range;
  /** Lowest alkalinity of the run [eq/m³]. */
  readonly lowestAlkalinity: Range;
  /** Highest readings in each window, in the order of the questions. */
  readonly highest: readonly { readonly tan: Range; readonly no2: Range }[];
}

/** With fewer members, a range of nine tenths has no meaning. */
const FEWEST_MEMBERS = 5;
const LOW = 0.05;
const HIGH = 0.95;
/** Below this concentration a ratio of readings has no meaning [g N/m³]. */
const READABLE = 0.005;

/** Ratio of a reading with meals to the same with even feeding, as members have it; 1 where both are close to zero. */
export const mealFactor = (likely: number, even: number): number => (likely > READABLE && even > READABLE ? likely / even : 1);

/** The range extended to the likely value, which is itself a plausible run. */
export const including = ([low, high]: Range, likely: number): Range => [Math.min(low, likely), Math.max(high, likely)];

/**
 * @param likely the likely run, with meals
 * @param even the same run with even feeding, as the members have it
 * @param answers results of the likely run: day of readiness (null when not within the run) and capacity
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
    lowestAlkalinity: including(rangeAt(2 + 2 * questions.windows.length), lowestAlkalinity(likely)),
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
