// Sobol' indices: the share of an outcome's variance that each input explains, alone and with its interactions.

import seedrandom from "seedrandom";
import { exp } from "../elementary.ts";
import { sobolPoints } from "./sobol-points.ts";

/**
 * Points for Sobol' indices in Saltelli's arrangement (Saltelli et al. 2010, Computer Physics Communications 181,
 * 259-270): groups of inputs + 2 points each. In every group the first point is a row of matrix A, the second is the
 * same row of B, and point 2 + i is the row of A with input i taken from B. A and B are the two halves of one Sobol'
 * sequence with twice the dimensions.
 * @param inputs number of inputs, at most half of MOST_SOBOL_DIMENSIONS
 * @returns the function from an index to its point: an array of length `inputs`, each value in [0, 1)
 * @throws RangeError for more inputs than the Sobol' sequence has dimensions for
 */
export function saltelliPoints(inputs: number, seed: string): (index: number) => Float64Array {
  const both = sobolPoints(2 * inputs, seed);
  const size = inputs + 2;
  return (index) => {
    const row = both(Math.floor(index / size));
    const place = index % size;
    if (place === 1) return row.subarray(inputs);
    const point = row.slice(0, inputs);
    if (place > 1) point[place - 2] = row[inputs + place - 2];
    return point;
  };
}

/** One index with its confidence interval. */
export interface IndexEstimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface SobolIndices {
  readonly input: number;
  /** First-order index: share of the variance that this input explains alone. */
  readonly first: IndexEstimate;
  /** Total index: share of the variance that would remain if every other input were known. */
  readonly total: IndexEstimate;
}

/**
 * Accumulates groups of Saltelli's arrangement one at a time and keeps only sums, so memory does not grow with the
 * number of points. Estimators: first order by Saltelli et al. 2010, table 2 (b), total by Jansen 1999 (same table, f).
 * Intervals are percentiles of a bootstrap over groups in which each group has a Poisson(1) weight (Hanley & MacGibbon
 * 2006, Comput. Methods Programs Biomed. 83, 57-62), because that needs one pass only.
 */
export class SobolSums {
  readonly inputs: number;
  private readonly replicates: number;
  private readonly random: () => number;
  /**
   * Row r holds replicate r; replicate 0 weighs every group once. Each row: weight, sum and square of f(A) and f(B),
   * then three sums per input.
   */
  private readonly sums: Float64Array;
  private readonly width: number;
  private pivot: number | null = null;
  groups = 0;

  constructor(inputs: number, seed: string, replicates = 400) {
    this.inputs = inputs;
    this.replicates = replicates;
    this.width = 3 + 3 * inputs;
    this.sums = new Float64Array((replicates + 1) * this.width);
    this.random = seedrandom(`${seed}/bootstrap`);
  }

  /**
   * @param outcomes of the inputs + 2 points of one group, in their order; a group with an outcome that is not finite
   * is left out
   */
  add(outcomes: ArrayLike<number>): void {
    const { inputs, width, sums } = this;
    for (let i = 0; i < inputs + 2; i++) if (!Number.isFinite(outcomes[i])) return;
    // All outcomes are taken relative to the first one, because sums of values far from zero would cancel digits.
    this.pivot ??= outcomes[0];
    const a = outcomes[0] - this.pivot;
    const b = outcomes[1] - this.pivot;
    for (let r = 0; r <= this.replicates; r++) {
      const weight = r === 0 ? 1 : poissonOne(this.random());
      if (weight === 0) continue;
      const at = r * width;
      sums[at] += weight;
      sums[at + 1] += weight * (a + b);
      sums[at + 2] += weight * (a * a + b * b);
      for (let i = 0; i < inputs; i++) {
        const mixed = outcomes[2 + i] - this.pivot;
        sums[at + 3 + 3 * i] += weight * b * (mixed - a);
        sums[at + 4 + 3 * i] += weight * (mixed - a);
        sums[at + 5 + 3 * i] += weight * (a - mixed) * (a - mixed);
      }
    }
    this.groups++;
  }

  /** @param confidence level of the intervals, such as 0.95. @returns one entry per input, in their order */
  indices(confidence = 0.95): readonly SobolIndices[] {
    return Array.from({ length: this.inputs }, (_, input) => ({
      input,
      // f(B) relative to the mean: the estimate keeps its expectation and its variance is smaller (Owen 2013, ACM
      // Trans. Model. Comput. Simul. 23, 11).
      first: this.estimate(
        confidence,
        (at, n, mean) => (this.sums[at + 3 + 3 * input] - mean * this.sums[at + 4 + 3 * input]) / n,
      ),
      total: this.estimate(confidence, (at, n) => this.sums[at + 5 + 3 * input] / (2 * n)),
    }));
  }

  private estimate(confidence: number, part: (at: number, n: number, mean: number) => number): IndexEstimate {
    const shares = Array.from({ length: this.replicates + 1 }, (_, r) => {
      const at = r * this.width;
      const n = this.sums[at];
      const mean = this.sums[at + 1] / (2 * n);
      const variance = this.sums[at + 2] / (2 * n) - mean * mean;
      return part(at, n, mean) / variance;
    });
    const [value, ...others] = shares;
    const sorted = others.filter(Number.isFinite).sort((x, y) => x - y);
    const quantile = (q: number): number => sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? Number.NaN;
    return { value, low: quantile((1 - confidence) / 2), high: quantile((1 + confidence) / 2) };
  }
}

/** Cumulative probabilities of 0, 1, 2, ... events of a Poisson distribution with mean 1. */
const POISSON_ONE = (() => {
  const sums: number[] = [];
  for (let k = 0, chance = exp(-1), sum = 0; k < 12; k++, chance /= k) {
    sum += chance;
    sums.push(sum);
  }
  return sums;
})();

function poissonOne(u: number): number {
  let k = 0;
  while (k < POISSON_ONE.length && u >= POISSON_ONE[k]) k++;
  return k;
}
