// Random choices from one source of uniform numbers, so that the same source gives the same scenario.
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

  /** Even on a logarithmic scale where the range spans decades and does not hold zero, else even. */
  spread(low: number, high: number): number {
    if (low > 0) return low * (high / low) ** this.uniform();
    // From zero or below up: decades are drawn from a ten-thousandth of the top.
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
