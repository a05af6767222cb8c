// Numeric factorisation and solve on a compiled elimination plan. It allocates nothing after construction.

import type { EliminationPlan } from "./elimination.ts";
import type { VectorLoops } from "./vector-loops.ts";

/** Below this fraction of the largest entry in its row, a pivot has lost too many digits. */
const SMALLEST_PIVOT = 1e-10;

/** Bytes of memory of the vector loops that a `SparseLU` of this plan takes. */
export function sparseLuBytes(plan: EliminationPlan): number {
  const { size, columns, updateTargets, scatter } = plan;
  const tables = updateTargets.length + 4 * columns.length + 4 * size + scatter.length + size + 4 * (columns.length + 2 * size);
  return 8 * (columns.length + 2 * size + scatter.length) + 4 * tables + 16 * 9;
}

/**
 * LDU factorisation (L and U with unit diagonals) of `shift * I - A`, for matrices A of one sparsity pattern. Factorisation and
 * substitution are lists of multiply-subtract operations, compiled at construction and run by the vector loops.
 */
export class SparseLU {
  /** Length size: the right-hand side before `solve`, the solution after it. */
  readonly vector: Float64Array;
  /** The values of A in pattern order, to be set before `factorise`. */
  readonly matrix: Float64Array;
  private readonly plan: EliminationPlan;
  private readonly kernel: VectorLoops;
  private readonly values: readonly [from: number, to: number];
  private readonly vectorEnd: number;
  private readonly inverses: number;
  private readonly scatter: readonly [from: number, to: number];
  private readonly diagonals: readonly [from: number, to: number];
  private readonly elimination: readonly [from: number, to: number];
  private readonly forward: readonly [from: number, to: number];
  private readonly backward: readonly [from: number, to: number];

  /** @param kernel must have `sparseLuBytes(plan)` bytes left */
  constructor(plan: EliminationPlan, kernel: VectorLoops) {
    const { size, order, rowStart, diagonal, columns, positions, updateTargets, scatter } = plan;
    this.plan = plan;
    this.kernel = kernel;
    const values = kernel.floats(columns.length);
    this.vector = kernel.floats(size);
    this.matrix = kernel.floats(scatter.length);
    const inverses = kernel.floats(size);
    const entry = (e: number) => values.byteOffset + 8 * e;
    const component = (i: number) => this.vector.byteOffset + 8 * i;
    const inverse = (i: number) => inverses.byteOffset + 8 * i;
    const kept = (list: readonly number[]): readonly [number, number] => {
      const words = kernel.integers(list.length);
      words.set(list);
      return [words.byteOffset, words.byteOffset + 4 * list.length];
    };
    this.values = [entry(0), entry(columns.length)];
    this.vectorEnd = component(size);
    this.inverses = inverse(0);
    this.scatter = kept(Array.from(scatter, entry));
    this.diagonals = kept(Array.from(diagonal, entry));

    // Elimination, row by row. Per row: the number of entries left of the diagonal; for each of them its address, that
    // of the entries right of its pivot, the end of the addresses that they update, the inverse of its pivot, and those
    // addresses; then the diagonal, the end of the row, and the destination of the inverse pivot. A left entry is
    // divided by its pivot last, because the updates of its row need it undivided.
    const leftEntries = diagonal.reduce((sum, d, p) => sum + d - rowStart[p], 0);
    const table = kernel.integers(4 * (leftEntries + size) + updateTargets.length);
    let at = 0;
    for (let p = 0, update = 0; p < size; p++) {
      table[at++] = diagonal[p] - rowStart[p];
      for (let left = rowStart[p]; left < diagonal[p]; left++) {
        const pivot = positions[left];
        const rights = rowStart[pivot + 1] - diagonal[pivot] - 1;
        table[at++] = entry(left);
        table[at++] = entry(diagonal[pivot] + 1);
        table[at] = table.byteOffset + 4 * (at + 2 + rights);
        at++;
        table[at++] = inverse(order[pivot]);
        for (let right = 0; right < rights; right++) table[at++] = entry(updateTargets[update++]);
      }
      table[at++] = entry(diagonal[p]);
      table[at++] = entry(rowStart[p + 1]);
      table[at++] = inverse(order[p]);
    }
    this.elimination = [table.byteOffset, table.byteOffset + 4 * at];

    // Substitution, column by column: the component, the end of its entries, and for each entry the component that it
    // changes and its address.
    const lefts: number[][] = Array.from({ length: size }, () => []);
    const rights: number[][] = Array.from({ length: size }, () => []);
    const rowOf = new Int32Array(columns.length);
    for (let p = 0; p < size; p++) {
      rowOf.fill(order[p], rowStart[p], rowStart[p + 1]);
      for (let e = rowStart[p]; e < diagonal[p]; e++) lefts[positions[e]].push(e);
      for (let e = diagonal[p] + 1; e < rowStart[p + 1]; e++) rights[positions[e]].push(e);
    }
    const substitution = (entries: readonly number[][], eliminated: readonly number[]): readonly [number, number] => {
      const used = eliminated.filter((p) => entries[p].length > 0);
      const list = kernel.integers(used.reduce((sum, p) => sum + 2 + 2 * entries[p].length, 0));
      let next = 0;
      for (const p of used) {
        list[next] = component(order[p]);
        list[next + 1] = list.byteOffset + 4 * (next + 2 + 2 * entries[p].length);
        next += 2;
        for (const e of entries[p]) {
          list[next++] = component(rowOf[e]);
          list[next++] = entry(e);
        }
      }
      return [list.byteOffset, list.byteOffset + 4 * next];
    };
    const upwards = Array.from({ length: size }, (_, p) => p);
    this.forward = substitution(lefts, upwards);
    this.backward = substitution(rights, [...upwards].reverse());
  }

  /**
   * Factorises `shift * I - A`, with A in `matrix`.
   * @returns -1, or the component whose diagonal pivot is unusable (zero, not finite, or tiny relative to its row)
   */
  factorise(shift: number): number {
    const { kernel, values, scatter, matrix, diagonals, elimination } = this;
    kernel.assemble(values[0], values[1], scatter[0], scatter[1], matrix.byteOffset, diagonals[0], diagonals[1], shift);
    const row = kernel.factorise(elimination[0], elimination[1], SMALLEST_PIVOT);
    return row < 0 ? -1 : this.plan.order[row];
  }

  /** Solves (shift * I - A) x = b in place in `vector`. */
  solve(): void {
    const { kernel, vector, forward, backward } = this;
    kernel.solve(forward[0], forward[1], vector.byteOffset, this.vectorEnd, this.inverses, backward[0], backward[1]);
  }
}
