// Numeric factorisation and solve on a compiled elimination plan; allocates nothing after construction.

import { type EliminationPlan, planElimination } from "./elimination.ts";
import type { SparsePattern } from "./problem.ts";

/** A pivot smaller than this part of its row's largest entry has lost too many digits to be divided by. */
const SMALLEST_PIVOT = 1e-10;

/** LU factors of `shift * I - A` for matrices A of one sparsity pattern. */
export class SparseLU {
  readonly plan: EliminationPlan;
  private readonly values: Float64Array;
  private readonly inversePivot: Float64Array;

  constructor(pattern: SparsePattern) {
    this.plan = planElimination(pattern);
    this.values = new Float64Array(this.plan.columns.length);
    this.inversePivot = new Float64Array(this.plan.size);
  }

  /**
   * Factorises `shift * I - A`, A given by its values in pattern order.
   * @returns -1, or the component whose diagonal pivot is unusable (zero, not finite or tiny beside its row)
   */
  factorise(shift: number, a: Float64Array): number {
    const { size, order, rowStart, diagonal, positions, scatter, updateTargets } = this.plan;
    const { values, inversePivot } = this;
    values.fill(0);
    for (let e = 0; e < scatter.length; e++) values[scatter[e]] = -a[e];
    for (let p = 0; p < size; p++) values[diagonal[p]] += shift;

    let update = 0;
    for (let p = 0; p < size; p++) {
      const here = diagonal[p];
      for (let left = rowStart[p]; left < here; left++) {
        const pivot = positions[left];
        const factor = values[left] * inversePivot[pivot];
        values[left] = factor;
        const end = rowStart[pivot + 1];
        for (let right = diagonal[pivot] + 1; right < end; right++) values[updateTargets[update++]] -= factor * values[right];
      }
      const pivotValue = values[here];
      let largest = 0;
      for (let right = here + 1; right < rowStart[p + 1]; right++) largest = Math.max(largest, Math.abs(values[right]));
      if (!(Math.abs(pivotValue) > SMALLEST_PIVOT * largest && Math.abs(pivotValue) < Number.POSITIVE_INFINITY)) return order[p];
      inversePivot[p] = 1 / pivotValue;
    }
    return -1;
  }

  /** Solves in place: b becomes x with (shift * I - A) x = b. */
  solve(b: Float64Array): void {
    const { size, order, rowStart, diagonal, columns } = this.plan;
    const { values, inversePivot } = this;
    for (let p = 0; p < size; p++) {
      const end = diagonal[p];
      let sum = b[order[p]];
      for (let e = rowStart[p]; e < end; e++) sum -= values[e] * b[columns[e]];
      b[order[p]] = sum;
    }
    for (let p = size - 1; p >= 0; p--) {
      const end = rowStart[p + 1];
      let sum = b[order[p]];
      for (let e = diagonal[p] + 1; e < end; e++) sum -= values[e] * b[columns[e]];
      b[order[p]] = sum * inversePivot[p];
    }
  }
}
