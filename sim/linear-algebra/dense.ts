// A small dense linear solve, in place. The hydraulic networks have about twenty unknowns.

/**
 * Solves A X = B by Gaussian elimination with partial pivoting. It overwrites A with its factors and B with X.
 * @param a size x size, row by row
 * @param b size x columns, row by row
 * @throws Error when A is singular to working precision
 */
export function solveDense(a: Float64Array, b: Float64Array, size: number, columns: number): void {
  for (let k = 0; k < size; k++) {
    let pivot = k;
    for (let i = k + 1; i < size; i++) if (Math.abs(a[i * size + k]) > Math.abs(a[pivot * size + k])) pivot = i;
    if (!(Math.abs(a[pivot * size + k]) > 1e-300)) throw new Error("the balance of the network is singular");
    if (pivot !== k) {
      swapRows(a, k, pivot, size);
      swapRows(b, k, pivot, columns);
    }
    for (let i = k + 1; i < size; i++) {
      const factor = a[i * size + k] / a[k * size + k];
      if (factor === 0) continue;
      for (let j = k + 1; j < size; j++) a[i * size + j] -= factor * a[k * size + j];
      for (let j = 0; j < columns; j++) b[i * columns + j] -= factor * b[k * columns + j];
    }
  }
  for (let k = size - 1; k >= 0; k--)
    for (let j = 0; j < columns; j++) {
      let sum = b[k * columns + j];
      for (let i = k + 1; i < size; i++) sum -= a[k * size + i] * b[i * columns + j];
      b[k * columns + j] = sum / a[k * size + k];
    }
}

function swapRows(m: Float64Array, i: number, k: number, width: number): void {
  for (let j = 0; j < width; j++) {
    const kept = m[i * width + j];
    m[i * width + j] = m[k * width + j];
    m[k * width + j] = kept;
  }
}
