// Finds the largest value that passes a test, with few trials, because each trial is a simulation.
import { exp, log } from "../../../sim/elementary.ts";

/** Bisection ends at 3 % of the value, or at a thousandth of the largest. */
const WIDTH = 0.03;
const LEAST_SHARE = 1e-3;
/** First value of the search, as a share of the largest (no result depends on it). */
const FIRST_GUESS = 1 / 16;
/** Close to the largest number below one. */
const BELOW = 1 - 1e-12;

/** The interval in which bisection of [0, most] ends when values up to `root` pass; from `most` on when that passes too. */
function halvedTo(root: number, most: number): readonly [low: number, high: number] {
  if (root >= most) return [most, Number.POSITIVE_INFINITY];
  let low = 0;
  let high = most;
  while (high - low > WIDTH * high && high > LEAST_SHARE * most) {
    const middle = 0.5 * (low + high);
    if (middle <= root) low = middle;
    else high = middle;
  }
  return [low, high];
}

/**
 * Largest value up to `most` for which `excess` is below 1, to 3 % (0 when less than a thousandth of `most`); `excess`
 * must cross 1 once. The result is that of bisection. Linear interpolation in logarithms predicts where bisection ends,
 * and only the two ends of that interval are evaluated.
 */
export function largest(most: number, excess: (value: number) => number): number {
  let holds = { at: 0, excess: 0 };
  let fails = { at: Number.POSITIVE_INFINITY, excess: Number.POSITIVE_INFINITY };
  let guess = most * FIRST_GUESS;
  for (;;) {
    const [low, high] = halvedTo(guess, most);
    const next = low > holds.at ? low : high < fails.at ? high : null;
    if (next === null) return low;
    const found = { at: next, excess: excess(next) };
    if (found.excess < 1) holds = found;
    else fails = found;
    guess = Math.max(holds.at, Math.min(crossing(holds, fails, most), fails.at * BELOW));
  }
}

/** Where a straight line through the logarithms of two trials crosses 1. */
function crossing(holds: Tried, fails: Tried, most: number): number {
  if (fails.at === Number.POSITIVE_INFINITY) return Math.min(most, holds.at / Math.max(holds.excess, 1e-3));
  if (holds.at === 0) return Number.isFinite(fails.excess) ? fails.at / Math.max(fails.excess, 1.1) : fails.at / 4;
  if (!(holds.excess > 0 && Number.isFinite(fails.excess))) return Math.sqrt(holds.at * fails.at);
  const [low, high] = [log(holds.excess), log(fails.excess)];
  return exp(log(holds.at) + (low / (low - high)) * (log(fails.at) - log(holds.at)));
}

interface Tried {
  readonly at: number;
  readonly excess: number;
}
