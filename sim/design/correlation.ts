// Correlated standard normal numbers: a normal copula, whose margins each input keeps for itself (Nelsen 2006, An Introduction to Copulas, 2nd ed.).

export interface Correlation {
  readonly i: number;
  readonly j: number;
  /** Between -1 and 1. */
  readonly value: number;
}

/** Part by which correlations that contradict each other are made smaller, again and again. */
const SMALLER = 0.95;
/** Least variance that the others may leave to an input. */
const LEAST_LEFT = 1e-3;

/**
 * Lower-triangular Cholesky factor of the matrix with ones on the diagonal, `size` x `size`, by rows. Where the correlations cannot all hold at once,
 * because the matrix would not be positive definite, all are made smaller until they can.
 */
export function correlationRoot(size: number, correlations: readonly Correlation[]): Float64Array {
  for (let factor = 1; ; factor *= SMALLER) {
    const root = choleskyRoot(size, correlations, factor);
    if (root) return root;
  }
}

function choleskyRoot(size: number, correlations: readonly Correlation[], factor: number): Float64Array | null {
  const root = new Float64Array(size * size);
  for (let i = 0; i < size; i++) root[i * size + i] = 1;
  for (const { i, j, value } of correlations) root[Math.max(i, j) * size + Math.min(i, j)] = factor * value;
  for (let i = 0; i < size; i++)
    for (let j = 0; j <= i; j++) {
      let sum = root[i * size + j];
      for (let k = 0; k < j; k++) sum -= root[i * size + k] * root[j * size + k];
      if (i === j && sum < LEAST_LEFT) return null;
      root[i * size + j] = i === j ? Math.sqrt(sum) : sum / root[j * size + j];
    }
  return root;
}

/** Correlated numbers from independent ones. */
export function correlated(z: ArrayLike<number>, root: Float64Array): Float64Array {
  const size = z.length;
  return Float64Array.from({ length: size }, (_, i) => {
    let x = 0;
    for (let j = 0; j <= i; j++) x += root[i * size + j] * z[j];
    return x;
  });
}

/** Weighted correlation of two columns; 0 where one of them does not vary. */
export function correlationOf(a: ArrayLike<number>, b: ArrayLike<number>, weights: ArrayLike<number>): number {
  let [meanA, meanB] = [0, 0];
  for (let n = 0; n < weights.length; n++) {
    meanA += weights[n] * a[n];
    meanB += weights[n] * b[n];
  }
  let [aa, bb, ab] = [0, 0, 0];
  for (let n = 0; n < weights.length; n++) {
    const [da, db] = [a[n] - meanA, b[n] - meanB];
    aa += weights[n] * da * da;
    bb += weights[n] * db * db;
    ab += weights[n] * da * db;
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0;
}
