// Quantiles of many runs at many output points, in memory that does not grow with the number of runs.

/**
 * Mantissa bits kept: the relative width of a bin is 2^-8, so a quantile is known within 0.2 % (the technique of
 * high-dynamic-range histograms).
 */
const KEPT_BITS = 8;
const SHIFT = 20 - KEPT_BITS;

const float = new Float64Array(1);
const words = new Uint32Array(float.buffer);
/** Which 32-bit half of a float64 holds sign, exponent and leading mantissa bits. */
const HIGH = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1 ? 1 : 0;

/**
 * The bin of a finite value: the leading bits of its float64, with the sign of the value, so that bins are in the order
 * of the values. Truncating bits needs no logarithm, so every machine gives the same bin.
 */
function binOf(value: number): number {
  float[0] = Math.abs(value);
  const bin = words[HIGH] >>> SHIFT;
  return value < 0 ? -bin : bin;
}

/** Edge of a bin that is closer to zero. */
function edgeOf(bin: number): number {
  words[HIGH] = Math.abs(bin) << SHIFT;
  words[1 - HIGH] = 0;
  return bin < 0 ? -float[0] : float[0];
}

/**
 * Counts of values in relative bins, for each output point. Addition is exact integer counting, so neither the order of the runs
 * nor their distribution over workers changes a bit of any quantile.
 */
export class QuantileSketch {
  readonly points: number;
  /** Number of runs added. */
  count = 0;
  private readonly bins: Map<number, number>[];
  private readonly least: Float64Array;
  private readonly most: Float64Array;

  constructor(points: number) {
    this.points = points;
    this.bins = Array.from({ length: points }, () => new Map<number, number>());
    this.least = new Float64Array(points).fill(Number.POSITIVE_INFINITY);
    this.most = new Float64Array(points).fill(Number.NEGATIVE_INFINITY);
  }

  /**
   * Adds one run.
   * @param values length `points`
   * @throws Error when the length is wrong or a value is not finite; failed runs must not be added
   */
  add(values: Float64Array): void {
    if (values.length !== this.points) throw new Error(`${values.length} values for ${this.points} output points`);
    for (let i = 0; i < values.length; i++) {
      const value = values[i];
      if (!Number.isFinite(value)) throw new Error(`value at output point ${i} is not finite`);
      const bin = binOf(value);
      this.bins[i].set(bin, (this.bins[i].get(bin) ?? 0) + 1);
      if (value < this.least[i]) this.least[i] = value;
      if (value > this.most[i]) this.most[i] = value;
    }
    this.count++;
  }

  /**
   * The p-quantile at every point (0 minimum, 0.5 median, 1 maximum), accurate to one bin: interpolated in the bin that
   * contains rank p (count - 1), and never outside the range of the values. NaN when nothing has been added.
   */
  quantile(p: number): Float64Array {
    const out = new Float64Array(this.points).fill(Number.NaN);
    if (this.count === 0) return out;
    const rank = p * (this.count - 1);
    for (let i = 0; i < this.points; i++) {
      const ordered = [...this.bins[i].entries()].sort((a, b) => a[0] - b[0]);
      let below = 0;
      for (const [bin, count] of ordered) {
        if (rank < below + count) {
          const inner = edgeOf(bin);
          const outer = bin < 0 ? edgeOf(bin - 1) : edgeOf(bin + 1);
          const [low, high] = bin < 0 ? [outer, inner] : [inner, outer];
          const value = low + ((rank - below + 0.5) / count) * (high - low);
          out[i] = Math.min(this.most[i], Math.max(this.least[i], value));
          break;
        }
        below += count;
      }
      if (p >= 1) out[i] = this.most[i];
      if (p <= 0) out[i] = this.least[i];
    }
    return out;
  }

  /** Number of bins in use over all points; memory is proportional to it. */
  get size(): number {
    return this.bins.reduce((sum, bins) => sum + bins.size, 0);
  }
}
