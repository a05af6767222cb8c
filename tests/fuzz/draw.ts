// Random choices from one stream of uniform numbers, so that the same stream gives the same scenario.
import seedrandom from "seedrandom";

/** Uniform numbers in [0, 1). */
export type Uniform = () => number;

export class Draw {
  readonly uniform: Uniform;

  constructor(uniform: Uniform) {
    this.uniform = uniform;
  }

  chance(probability: number): boolean {
    return this.uniform() < probability;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.uniform();
  }

  /** Log-uniform where the range spans decades and does not contain zero, otherwise uniform. */
  spread(low: number, high: number): number {
    if (low > 0) return low * (high / low) ** this.uniform();
    // For a range that begins at or below zero, decades are drawn from a ten-thousandth of its upper end.
    return low === 0 && high > 0 && this.chance(0.9) ? high * 1e-4 ** this.uniform() : this.between(low, high);
  }

  /** Whole number, both ends included. */
  whole(low: number, high: number): number {
    return Math.min(high, Math.floor(this.between(low, high + 1)));
  }

  pick<T>(items: readonly T[]): T {
    const item = items[this.whole(0, items.length - 1)];
    if (item === undefined) throw new Error("nothing to pick from");
    return item;
  }
}

/** The draw of rig `index` of a campaign: the same on every machine. */
export const drawOf = (seed: string, index: number): Draw => new Draw(seedrandom(`${seed}/${index}`));
