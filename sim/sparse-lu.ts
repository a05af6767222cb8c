// Numeric factorisation and solve on a compiled elimination plan; allocates nothing after construction.

import { type EliminationPlan, planElimination } from "./elimination.ts";
import { type MultiplySubtract, multiplySubtract } from "./multiply-subtract.ts";
import type { SparsePattern } from "./problem.ts";

/** A pivot smaller than this part of its row's largest entry has lost too many digits to be divided by. */
const SMALLEST_PIVOT = 1e-10;

/**
 * Factors L D U (unit triangles) of `shift * I - A`, for matrices A of one sparsity pattern. Everything lies in one memory: the
 * stored entries, a vector for substitution, and the lists of multiply-subtract operations that factorisation and the two
 * substitutions consist of.
 */
export class SparseLU {
  readonly plan: EliminationPlan;
  private readonly loop: MultiplySubtract;
  private readonly values: Float64Array;
  private readonly vector: Float64Array;
  private readonly inversePivot: Float64Array;
  /** Byte addresses where each row's factorisation begins, and the two substitutions. */
  private readonly rowOps: Int32Array;
  private readonly forward: number;
  private readonly backward: number;
  private readonly end: number;

  /** @param webAssembly see `multiplySubtract` */
  constructor(pattern: SparsePattern, webAssembly: boolean) {
    this.plan = planElimination(pattern);
    const { size, order, rowStart, diagonal, columns, positions, updateTargets } = this.plan;
    const entries = columns.length;
    const offDiagonal = entries - size;
    const firstOp = 8 * (entries + size);
    const bytes = firstOp + 12 * (updateTargets.length + offDiagonal);
    this.loop = multiplySubtract(bytes, webAssembly);
    this.values = new Float64Array(this.loop.buffer, 0, entries);
    this.vector = new Float64Array(this.loop.buffer, 8 * entries, size);
    this.inversePivot = new Float64Array(size);
    const ops = new Int32Array(this.loop.buffer, firstOp, 3 * (updateTargets.length + offDiagonal));
    let at = 0;
    const add = (a: number, b: number, c: number) => {
      ops.set([8 * a, 8 * b, 8 * c], at);
      at += 3;
    };
    const here = () => firstOp + 4 * at;

    this.rowOps = new Int32Array(size + 1);
    let update = 0;
    for (let p = 0; p < size; p++) {
      this.rowOps[p] = here();
      for (let left = rowStart[p]; left < diagonal[p]; left++) {
        const pivot = positions[left];
        for (let right = diagonal[pivot] + 1; right < rowStart[pivot + 1]; right++) add(updateTargets[update++], left, right);
      }
    }
    this.rowOps[size] = here();
    this.forward = here();
    for (let p = 0; p < size; p++)
      for (let e = rowStart[p]; e < diagonal[p]; e++) add(entries + order[p], e, entries + columns[e]);
    this.backward = here();
    for (let p = size - 1; p >= 0; p--)
      for (let e = diagonal[p] + 1; e < rowStart[p + 1]; e++) add(entries + order[p], e, entries + columns[e]);
    this.end = here();
  }

  /**
   * Factorises `shift * I - A`, A given by its values in pattern order.
   * @returns -1, or the component whose diagonal pivot is unusable (zero, not finite or tiny beside its row)
   */
  factorise(shift: number, a: Float64Array): number {
    const { size, order, rowStart, diagonal, positions, scatter } = this.plan;
    const { values, inversePivot, loop, rowOps } = this;
    values.fill(0);
    for (let e = 0; e < scatter.length; e++) values[scatter[e]] = -a[e];
    for (let p = 0; p < size; p++) values[diagonal[p]] += shift;

    for (let p = 0; p < size; p++) {
      const here = diagonal[p];
      if (rowOps[p + 1] > rowOps[p]) loop.run(rowOps[p], rowOps[p + 1]);
      const pivot = values[here];
      const inverse = 1 / pivot;
      let largest = 0;
      for (let e = here + 1; e < rowStart[p + 1]; e++) {
        largest = Math.max(largest, Math.abs(values[e]));
        values[e] *= inverse;
      }
      if (!(Math.abs(pivot) > SMALLEST_PIVOT * largest && Math.abs(pivot) < Number.POSITIVE_INFINITY)) return order[p];
      inversePivot[order[p]] = inverse;
      // Left entries were needed undivided by the updates of their own row only.
      for (let e = rowStart[p]; e < here; e++) values[e] *= inversePivot[order[positions[e]]];
    }
    return -1;
  }

  /** Solves in place: b becomes x with (shift * I - A) x = b. */
  solve(b: Float64Array): void {
    const { vector, inversePivot, loop } = this;
    vector.set(b);
    loop.run(this.forward, this.backward);
    for (let i = 0; i < vector.length; i++) vector[i] *= inversePivot[i];
    loop.run(this.backward, this.end);
    b.set(vector);
  }
}
