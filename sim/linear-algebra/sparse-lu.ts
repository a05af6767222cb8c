// Numeric factorisation and solve on a compiled elimination plan. It allocates nothing after construction.

import type { EliminationPlan } from "./elimination.ts";
import type { VectorLoops } from "./vector-loops.ts";

/** Below this fraction of the largest entry in its row, a pivot has lost too many digits. */
const SMALLEST_PIVOT = 1e-10;
const BYTES_PER_OPERATION = 12;

/** Bytes of memory of the vector loops that a `SparseLU` of this plan takes. */
export function sparseLuBytes(plan: EliminationPlan): number {
  const { size, columns, updateTargets } = plan;
  return 8 * (columns.length + size) + BYTES_PER_OPERATION * (updateTargets.length + columns.length - size) + 8;
}

/**
 * LDU factorisation (L and U with unit diagonals) of `shift * I - A`, for matrices A of one sparsity pattern. Factorisation and
 * substitution are lists of multiply-subtract operations, compiled at construction and run by the vector loops.
 */
export class SparseLU {
  /** Length size: the right-hand side before `solve`, the solution after it. */
  readonly vector: Float64Array;
  private readonly plan: EliminationPlan;
  private readonly kernel: VectorLoops;
  private readonly values: Float64Array;
  private readonly inversePivot: Float64Array;
  /** Byte addresses in the list of operations: start of each row's factorisation, of both substitutions, and the end. */
  private readonly rowOperations: Int32Array;
  private readonly forward: number;
  private readonly backward: number;
  private readonly end: number;

  /** @param kernel must have `sparseLuBytes(plan)` bytes left */
  constructor(plan: EliminationPlan, kernel: VectorLoops) {
    const { size, order, rowStart, diagonal, columns, positions, updateTargets } = plan;
    this.plan = plan;
    this.kernel = kernel;
    this.values = kernel.floats(columns.length);
    this.vector = kernel.floats(size);
    this.inversePivot = new Float64Array(size);
    const operations = kernel.integers(3 * (updateTargets.length + columns.length - size));
    const entry = (e: number) => this.values.byteOffset + 8 * e;
    const component = (i: number) => this.vector.byteOffset + 8 * i;
    let at = 0;
    const add = (a: number, b: number, c: number) => {
      operations.set([a, b, c], at);
      at += 3;
    };
    const here = () => operations.byteOffset + 4 * at;

    this.rowOperations = new Int32Array(size + 1);
    const leftEntries: number[] = [];
    const rightEntries: number[] = [];
    const rowOf = new Int32Array(columns.length);
    for (let p = 0, update = 0; p < size; p++) {
      this.rowOperations[p] = here();
      rowOf.fill(order[p], rowStart[p], rowStart[p + 1]);
      for (let left = rowStart[p]; left < diagonal[p]; left++) {
        leftEntries.push(left);
        const pivot = positions[left];
        for (let right = diagonal[pivot] + 1; right < rowStart[pivot + 1]; right++)
          add(entry(updateTargets[update++]), entry(left), entry(right));
      }
      for (let right = diagonal[p] + 1; right < rowStart[p + 1]; right++) rightEntries.push(right);
    }
    this.rowOperations[size] = here();
    // Ordered by column, so that an operation does not wait for the result of the one before it.
    const substitute = (e: number) => add(component(rowOf[e]), entry(e), component(columns[e]));
    this.forward = here();
    for (const e of leftEntries.sort((d, e) => positions[d] - positions[e])) substitute(e);
    this.backward = here();
    for (const e of rightEntries.sort((d, e) => positions[e] - positions[d])) substitute(e);
    this.end = here();
  }

  /**
   * Factorises `shift * I - A`.
   * @param a values of A in pattern order
   * @returns -1, or the component whose diagonal pivot is unusable (zero, not finite, or tiny relative to its row)
   */
  factorise(shift: number, a: Float64Array): number {
    const { size, order, rowStart, diagonal, positions, scatter } = this.plan;
    const { values, inversePivot, kernel, rowOperations } = this;
    values.fill(0);
    for (let e = 0; e < scatter.length; e++) values[scatter[e]] = -a[e];
    for (let p = 0; p < size; p++) values[diagonal[p]] += shift;

    for (let p = 0; p < size; p++) {
      if (rowOperations[p + 1] > rowOperations[p]) kernel.run(rowOperations[p], rowOperations[p + 1]);
      const here = diagonal[p];
      const pivot = values[here];
      const inverse = 1 / pivot;
      let largest = 0;
      for (let e = here + 1; e < rowStart[p + 1]; e++) {
        largest = Math.max(largest, Math.abs(values[e]));
        values[e] *= inverse;
      }
      if (!(Math.abs(pivot) > SMALLEST_PIVOT * largest && Math.abs(pivot) < Number.POSITIVE_INFINITY)) return order[p];
      inversePivot[order[p]] = inverse;
      // Scale the left entries last: the updates of this row needed them unscaled.
      for (let e = rowStart[p]; e < here; e++) values[e] *= inversePivot[order[positions[e]]];
    }
    return -1;
  }

  /** Solves (shift * I - A) x = b in place in `vector`. */
  solve(): void {
    const { vector, inversePivot, kernel } = this;
    kernel.run(this.forward, this.backward);
    for (let i = 0; i < vector.length; i++) vector[i] *= inversePivot[i];
    kernel.run(this.backward, this.end);
  }
}
