// One-dimensional searches whose test is a set of simulations: it is a step, so only halving applies, and few trials count.

/**
 * Smallest value between `low` and `high` that holds, to the ratio `near`, by halving the logarithm. Larger is taken to be better.
 * @param high is known to hold
 * @param low positive; returned when it holds
 */
export async function smallestThatHolds(
  low: number,
  high: number,
  near: number,
  holds: (value: number) => Promise<boolean>,
): Promise<number> {
  if (await holds(low)) return low;
  let [fails, does] = [low, high];
  while (does > near * fails) {
    const middle = Math.sqrt(fails * does);
    if (await holds(middle)) does = middle;
    else fails = middle;
  }
  return does;
}

/** Largest whole number up to `most` that holds, by halving; 0 when none does. More is taken to be worse. */
export async function largestWhole(most: number, holds: (n: number) => Promise<boolean>): Promise<number> {
  if (await holds(most)) return most;
  let [low, high] = [0, most];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (await holds(middle)) low = middle;
    else high = middle;
  }
  return low;
}
