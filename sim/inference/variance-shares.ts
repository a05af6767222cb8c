// Sensitivity of an answer: the share of its variance explained by each input, from the members of an existing ensemble.
import { normalQuantile } from "../design/distributions.ts";
import { effectiveMembers } from "./weights.ts";

/**
 * First-order shares of the variance of an outcome, from given points (Strong, Oakley & Brennan 2014, Med. Decis. Making 34,
 * 311, with a regression as the smoother). The normal scores of the outcome are regressed on a constant, z and z² - 1 of every
 * input (the first Hermite polynomials, which are orthogonal for standard normal inputs). The share of an input is the variance
 * of its two terms. Normal scores limit the influence of "never" and of long tails. The variance that two terms explain by
 * chance is subtracted (as in the adjusted R², Ezekiel 1930).
 * @param points standard normal inputs of each member
 * @param outcomes one for each member; infinity means "never"
 * @param weights one for each member, with a sum of one; equal by default
 * @returns the share of each input, and the rest: interactions and chance
 */
export function varianceShares(
  points: readonly Float64Array[],
  outcomes: readonly number[],
  weights?: ArrayLike<number>,
): { readonly shares: readonly number[]; readonly rest: number } {
  const inputs = points[0]?.length ?? 0;
  const count = points.length;
  const scores = normalScores(outcomes);
  const w = weights ?? new Float64Array(count).fill(1 / count);
  let mean = 0;
  for (let n = 0; n < count; n++) mean += w[n] * scores[n];
  let variance = 0;
  for (let n = 0; n < count; n++) variance += w[n] * (scores[n] - mean) * (scores[n] - mean);
  if (!(variance > 1e-12)) return { shares: new Array<number>(inputs).fill(0), rest: 0 };
  const worth = effectiveMembers(w);
  // With few members, use only the first term of each input.
  const width = worth > MEMBERS_FOR_EACH_TERM * 2 * inputs ? 2 * inputs : inputs;
  const terms = points.map((z) =>
    Float64Array.from({ length: width }, (_, k) => (k < inputs ? z[k] : (z[k - inputs] * z[k - inputs] - 1) / Math.SQRT2)),
  );
  const centre = new Float64Array(width);
  terms.forEach((row, n) => {
    for (let k = 0; k < width; k++) centre[k] += w[n] * row[k];
  });
  const normal = new Float64Array(width * width);
  const right = new Float64Array(width);
  terms.forEach((row, n) => {
    for (let i = 0; i < width; i++) {
      const a = row[i] - centre[i];
      right[i] += w[n] * a * (scores[n] - mean);
      for (let j = 0; j <= i; j++) normal[i * width + j] += w[n] * a * (row[j] - centre[j]);
    }
  });
  // Keeps the system non-singular when members repeat.
  for (let i = 0; i < width; i++) normal[i * width + i] += RIDGE;
  const slopes = solved(normal, right, width);
  let explained = 0;
  const carried = Array.from({ length: inputs }, (_, i) => {
    let [sum, squares] = [0, 0];
    for (let n = 0; n < count; n++) {
      let part = slopes[i] * (terms[n][i] - centre[i]);
      if (width > inputs) part += slopes[inputs + i] * (terms[n][inputs + i] - centre[inputs + i]);
      sum += w[n] * part;
      squares += w[n] * part * part;
    }
    const share = (squares - sum * sum) / variance;
    explained += share;
    return share;
  });
  const byChance = ((width / inputs) * Math.max(0, 1 - explained)) / Math.max(1, worth - width - 1);
  const shares = carried.map((share) => Math.max(0, share - byChance));
  const sum = shares.reduce((a, b) => a + b, 0);
  // Chance correlation between inputs can raise the sum above one.
  return sum > 1 ? { shares: shares.map((share) => share / sum), rest: 0 } : { shares, rest: 1 - sum };
}

const MEMBERS_FOR_EACH_TERM = 2;
const RIDGE = 1e-6;

/** Normal scores of ranks, with the mean rank for ties (Blom 1958). */
function normalScores(outcomes: readonly number[]): Float64Array {
  const order = outcomes.map((_, i) => i).sort((a, b) => outcomes[a] - outcomes[b] || a - b);
  const scores = new Float64Array(outcomes.length);
  for (let from = 0; from < order.length; ) {
    let to = from + 1;
    while (to < order.length && outcomes[order[to]] === outcomes[order[from]]) to++;
    const rank = (from + 1 + to) / 2;
    for (let i = from; i < to; i++) scores[order[i]] = normalQuantile((rank - 0.375) / (outcomes.length + 0.25));
    from = to;
  }
  return scores;
}

/** Solves a symmetric positive definite system given by its lower triangle (Cholesky); overwrites `a` and `b`. */
function solved(a: Float64Array, b: Float64Array, n: number): Float64Array {
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j];
      for (let k = 0; k < j; k++) sum -= a[i * n + k] * a[j * n + k];
      a[i * n + j] = i === j ? Math.sqrt(sum) : sum / a[j * n + j];
    }
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) b[i] -= a[i * n + k] * b[k];
    b[i] /= a[i * n + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) b[i] -= a[k * n + i] * b[k];
    b[i] /= a[i * n + i];
  }
  return b;
}
