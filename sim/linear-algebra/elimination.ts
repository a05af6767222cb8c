// Symbolic factorisation: the elimination order and the fill-in. It runs once per sparsity pattern.

import type { SparsePattern } from "./sparse-pattern.ts";

/**
 * The compiled plan of an LU factorisation with diagonal pivots in a fixed order.
 *
 * Rows are stored in elimination order, each as [entries left of the diagonal | diagonal | entries right of it], where "left"
 * means eliminated earlier. `columns` keeps the original component numbers, so no vector is ever permuted.
 */
export interface EliminationPlan {
  readonly size: number;
  /** Component eliminated at each position, length size. */
  readonly order: Int32Array;
  /** First stored entry of the row at each position, length size + 1. */
  readonly rowStart: Int32Array;
  /** Index of the stored diagonal entry of the row at each position, length size. */
  readonly diagonal: Int32Array;
  /** Component of each stored entry, length rowStart[size]. */
  readonly columns: Int32Array;
  /** Elimination position of each stored entry's column, length rowStart[size]. */
  readonly positions: Int32Array;
  /** Index of the stored entry that each entry of the matrix is copied to, in pattern order. */
  readonly scatter: Int32Array;
  /** The stored entry that each update changes: for each left entry in storage order, for each right entry of its pivot row. */
  readonly updateTargets: Int32Array;
}

/** Plans of the last few patterns: the many short integrations of one run share a pattern. */
const plans = new Map<string, EliminationPlan>();
const MOST_PLANS = 8;

/** The elimination plan of a pattern, cached. @throws Error when the pattern lacks a diagonal entry */
export function planElimination(pattern: SparsePattern): EliminationPlan {
  const key = `${pattern.size};${pattern.rowStart};${pattern.columns}`;
  const plan = plans.get(key) ?? makePlan(pattern);
  plans.delete(key);
  plans.set(key, plan);
  if (plans.size > MOST_PLANS) plans.delete(plans.keys().next().value!);
  return plan;
}

/**
 * Plans the elimination of a square sparse matrix with pivots on the diagonal. The next pivot is always the one that
 * creates the fewest new entries (local minimum fill: Tinney & Walker 1967, Proceedings of the IEEE 55, 1801-1809,
 * their scheme 3).
 * @param pattern must contain every diagonal entry
 * @throws Error when a diagonal entry is missing
 */
function makePlan(pattern: SparsePattern): EliminationPlan {
  const { size } = pattern;
  const { order, rows } = orderByLeastFill(pattern);
  const positionOf = new Int32Array(size);
  for (let p = 0; p < size; p++) positionOf[order[p]] = p;

  const rowStart = new Int32Array(size + 1);
  const diagonal = new Int32Array(size);
  const columns: number[] = [];
  const place = new Map<number, number>();
  for (let p = 0; p < size; p++) {
    const row = [...rows[order[p]]].sort((a, b) => positionOf[a] - positionOf[b]);
    for (const column of row) {
      if (column === order[p]) diagonal[p] = columns.length;
      place.set(order[p] * size + column, columns.length);
      columns.push(column);
    }
    rowStart[p + 1] = columns.length;
  }

  const scatter = new Int32Array(pattern.columns.length);
  for (let i = 0; i < size; i++)
    for (let e = pattern.rowStart[i]; e < pattern.rowStart[i + 1]; e++) scatter[e] = place.get(i * size + pattern.columns[e])!;

  const updateTargets: number[] = [];
  for (let p = 0; p < size; p++)
    for (let left = rowStart[p]; left < diagonal[p]; left++) {
      const pivot = positionOf[columns[left]];
      for (let right = diagonal[pivot] + 1; right < rowStart[pivot + 1]; right++)
        updateTargets.push(place.get(order[p] * size + columns[right])!);
    }

  return {
    size,
    order,
    rowStart,
    diagonal,
    columns: Int32Array.from(columns),
    positions: Int32Array.from(columns, (column) => positionOf[column]),
    scatter,
    updateTargets: Int32Array.from(updateTargets),
  };
}

/** Elimination order, and the columns of L and U, fill-in included, in the row of each component. */
function orderByLeastFill(pattern: SparsePattern): { order: Int32Array; rows: Set<number>[] } {
  const { size } = pattern;
  const rows = Array.from({ length: size }, () => new Set<number>());
  const activeRow = Array.from({ length: size }, () => new Set<number>());
  const activeColumn = Array.from({ length: size }, () => new Set<number>());
  for (let i = 0; i < size; i++) {
    for (let e = pattern.rowStart[i]; e < pattern.rowStart[i + 1]; e++) {
      const j = pattern.columns[e];
      rows[i].add(j);
      if (i === j) continue;
      activeRow[i].add(j);
      activeColumn[j].add(i);
    }
    if (!rows[i].has(i)) throw new Error(`sparsity pattern lacks the diagonal entry of component ${i}`);
  }
  const fillOf = (k: number) => {
    let fill = 0;
    for (const i of activeColumn[k]) for (const j of activeRow[k]) if (!rows[i].has(j)) fill++;
    return fill;
  };

  const order = new Int32Array(size);
  const waiting = new Set<number>(rows.keys());
  const fill = Float64Array.from({ length: size }, (_, k) => fillOf(k));
  for (let p = 0; p < size; p++) {
    const best = cheapest(waiting, fill, (k) => activeRow[k].size * activeColumn[k].size);
    order[p] = best;
    waiting.delete(best);
    const near = new Set([...activeRow[best], ...activeColumn[best]]);
    for (const i of activeColumn[best]) {
      activeRow[i].delete(best);
      for (const j of activeRow[best]) {
        rows[i].add(j);
        if (i === j) continue;
        activeRow[i].add(j);
        activeColumn[j].add(i);
      }
    }
    for (const j of activeRow[best]) activeColumn[j].delete(best);
    // The fill count can change only for neighbours of components whose rows or columns have changed.
    const changed = new Set(near);
    for (const i of near) for (const side of [activeRow[i], activeColumn[i]]) for (const j of side) changed.add(j);
    for (const k of changed) fill[k] = fillOf(k);
  }
  return { order, rows };
}

/** The remaining component with the least fill-in; ties go to the least work, then to the first. */
function cheapest(waiting: ReadonlySet<number>, fill: Float64Array, work: (k: number) => number): number {
  let best = -1;
  let leastWork = 0;
  for (const k of waiting) {
    if (best >= 0 && fill[k] > fill[best]) continue;
    const w = work(k);
    if (best >= 0 && fill[k] === fill[best] && w >= leastWork) continue;
    best = k;
    leastWork = w;
  }
  return best;
}
