// Sobol' indices: how much of the spread of an outcome each input explains, alone and with its interactions.

import seedrandom from "seedrandom";
import { exp } from "../elementary.ts";
import { sobolPoints } from "./sobol-points.ts";

/**
 * Points for Sobol' indices in Saltelli's arrangement (Saltelli et al. 2010, Computer Physics Communications 181, 259-270): groups of
 * inputs + 2 points each. In every group the first point is a row of matrix A, the second a row of B, and point 2 + i is A with
 * input i taken from B. A and B are the two halves of one Sobol' sequence of twice the dimensions.
 * @returns the point of an index: `inputs` numbers in [0, 1)
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

/** One index with the range that holds it with the asked confidence. */
export interface IndexEstimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface SobolIndices {
  readonly input: number;
  /** Share of the variance that this input explains alone. */
  readonly first: IndexEstimate;
  /** Share that would be left if every other input were known: alone and in all interactions. */
  readonly total: IndexEstimate;
}

/**
 * Takes in groups of Saltelli's arrangement one by one and keeps only sums, so that memory does not grow with the points.
 * Estimators: first order by Saltelli et al. 2010, table 2 (b), total by Jansen 1999 (same table, f). Intervals are percentiles of a
 * bootstrap over groups in which each group counts a Poisson(1) number of times (Hanley & MacGibbon 2006, Comput. Methods Programs
 * Biomed. 83, 57-62), since that can be done in one pass.
 */
export class SobolSums {
  readonly inputs: number;
  private readonly replicates: number;
  private readonly random: () => number;
  /** Replicate 0 counts every group once. Per replicate: weight, sum and square of f(A) and f(B); per input three more sums. */
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

  /** @param outcomes of the inputs + 2 points of one group; a group with an outcome that is not a number is left out */
  add(outcomes: ArrayLike<number>): void {
    const { inputs, width, sums } = this;
    for (let i = 0; i < inputs + 2; i++) if (!Number.isFinite(outcomes[i])) return;
    // Outcomes far from zero would cancel digits: all are taken from the first one.
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

  /** @param confidence of the intervals, such as 0.95 */
  indices(confidence = 0.95): readonly SobolIndices[] {
    return Array.from({ length: this.inputs }, (_, input) => ({
      input,
      // f(B) from the mean, which leaves the estimate what it is and makes it steadier (Owen 2013, ACM Trans. Model. Comput. Simul. 23, 11).
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

/** Chances of 0, 1, 2, ... events where one is expected, added up. */
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
