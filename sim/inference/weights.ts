// Weighted members: normalised weights from logarithms, effective sample size, quantiles, resampling.
import { exp, log } from "../elementary.ts";

/** Weights with a sum of one, from their logarithms; minus infinity is a weight of zero. If all are zero, all stay zero. */
export function normalised(logWeights: ArrayLike<number>): Float64Array {
  const out = new Float64Array(logWeights.length);
  const most = highest(logWeights);
  if (most === Number.NEGATIVE_INFINITY) return out;
  let sum = 0;
  for (let i = 0; i < out.length; i++) {
    out[i] = exp(logWeights[i] - most);
    sum += out[i];
  }
  for (let i = 0; i < out.length; i++) out[i] /= sum;
  return out;
}

/**
 * Logarithm of the mean of numbers given by their logarithms. For the weights of an importance sample it is the log
 * evidence.
 */
export function logMean(logValues: ArrayLike<number>): number {
  const most = highest(logValues);
  if (most === Number.NEGATIVE_INFINITY) return most;
  let sum = 0;
  for (let i = 0; i < logValues.length; i++) sum += exp(logValues[i] - most);
  return most + log(sum / logValues.length);
}

function highest(values: ArrayLike<number>): number {
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) if (values[i] > most) most = values[i];
  return most;
}

/**
 * Effective sample size of weights with a sum of one (Kong, Liu & Wong 1994, J. Am. Stat. Assoc. 89, 278): 1 / sum of
 * squares.
 */
export function effectiveMembers(weights: ArrayLike<number>): number {
  let squares = 0;
  for (let i = 0; i < weights.length; i++) squares += weights[i] * weights[i];
  return squares > 0 ? 1 / squares : 0;
}

/**
 * Largest power of the likelihood between 0 and 1 that leaves an effective sample size of at least `wanted` (tempering, Del
 * Moral, Doucet & Jasra 2006, J. R. Stat. Soc. B 68, 411), to a thousandth.
 * @param fixed logarithms of the part of the weights that is not tempered
 * @param logLikelihoods in the order of `fixed`; minus infinity for an impossible member
 */
export function temperature(fixed: ArrayLike<number>, logLikelihoods: ArrayLike<number>, wanted: number): number {
  const worth = (power: number): number => effectiveMembers(normalised(tempered(fixed, logLikelihoods, power)));
  if (worth(1) >= wanted) return 1;
  let [low, high] = [0, 1];
  while (high - low > 1e-3 * high && high > 1e-6) {
    const middle = 0.5 * (low + high);
    if (worth(middle) >= wanted) low = middle;
    else high = middle;
  }
  return low;
}

/** Logarithms of weights with the likelihood raised to a power; a likelihood of zero stays zero. */
export const tempered = (fixed: ArrayLike<number>, logLikelihoods: ArrayLike<number>, power: number): Float64Array =>
  Float64Array.from(fixed, (value, i) =>
    logLikelihoods[i] === Number.NEGATIVE_INFINITY ? Number.NEGATIVE_INFINITY : value + power * logLikelihoods[i],
  );

/**
 * Quantiles of weighted values. The cumulative weight rises linearly from the middle of one member to the middle of the next
 * (for equal weights: the plotting positions of Hazen).
 * @param values one for each member; infinity means "never"
 * @param shares probabilities in ascending order
 * @returns one value for each share; NaN if all weights are zero
 */
export function weightedQuantiles(values: ArrayLike<number>, weights: ArrayLike<number>, shares: readonly number[]): number[] {
  const order = Array.from({ length: values.length }, (_, i) => i)
    .filter((i) => weights[i] > 0)
    .sort((a, b) => values[a] - values[b] || a - b);
  if (order.length === 0) return shares.map(() => Number.NaN);
  const out: number[] = [];
  let below = 0;
  let n = 0;
  let [x0, p0] = [values[order[0]], 0];
  for (const share of shares) {
    while (n < order.length && below + weights[order[n]] / 2 < share) {
      [x0, p0] = [values[order[n]], below + weights[order[n]] / 2];
      below += weights[order[n]];
      n++;
    }
    if (n === 0) out.push(values[order[0]]);
    else if (n === order.length) out.push(values[order[n - 1]]);
    else {
      const [x1, p1] = [values[order[n]], below + weights[order[n]] / 2];
      // Rounding must not carry the value beyond the member that ends the stretch.
      out.push(x0 === x1 || !Number.isFinite(x1) ? x1 : Math.min(x1, x0 + ((x1 - x0) * (share - p0)) / (p1 - p0)));
    }
  }
  return out;
}

/**
 * Indices of members drawn in proportion to their weights, each within one of its expected count (systematic resampling,
 * Carpenter et al. 1999).
 * @param offset in [0, 1), the random offset of the draws
 */
export function resampled(weights: ArrayLike<number>, count: number, offset: number): number[] {
  const drawn: number[] = [];
  let sum = 0;
  let i = -1;
  for (let n = 0; n < count; n++) {
    const at = (n + offset) / count;
    while (i < weights.length - 1 && (i < 0 || sum <= at)) sum += weights[++i];
    drawn.push(i);
  }
  return drawn;
}
