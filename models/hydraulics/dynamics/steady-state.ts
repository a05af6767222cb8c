// Solves the steady state directly, without integrating in time.

import { solveDense } from "../../../sim/linear-algebra/dense.ts";
import type { SparsePattern } from "../../../sim/linear-algebra/sparse-pattern.ts";
import { StiffHydraulics } from "./jacobian.ts";
import type { HydraulicSystem } from "./system.ts";

export interface SteadyState {
  readonly volumesM3: Float64Array;
  /** Largest remaining rate of change [m³/s]. */
  readonly residualM3PerS: number;
  readonly settled: boolean;
}

const ENOUGH_M3_PER_S = 1e-10;
const LONGEST_STEP_S = 1e7;
/**
 * Largest change of level of a vessel of at least 0.02 m² in one step [m]; smaller vessels are limited as if they had
 * that plan area.
 */
const LARGEST_MOVE_M = 0.03;
const LEAST_PLAN_M2 = 0.02;

/**
 * Solves the steady state of a network by pseudo-transient continuation: linearly implicit Euler steps whose length
 * grows as the rates decay (Kelley & Keyes 1998, SIAM J. Numer. Anal. 35:508). Each step conserves water, except in
 * held vessels, which keep their volume and supply or absorb what the others need.
 * @param volumes initial volume of each vessel [m³]; not changed
 * @param held indices of vessels held at their volume
 */
export function solveSteadyState(system: HydraulicSystem, volumes: Float64Array, held: readonly number[] = []): SteadyState {
  const n = system.size;
  const y = Float64Array.from(volumes);
  const trial = new Float64Array(n);
  const rate = new Float64Array(n);
  const moved = new Float64Array(n);
  const matrix = new Float64Array(n * n);
  const jacobian = new Float64Array(n * n);
  const step = new Float64Array(n);
  const stiff = new StiffHydraulics(system);
  const values = new Float64Array(stiff.pattern.columns.length);
  const areas = system.network.vessels.map((vessel) => vessel.areaM2);
  const balance = (state: Float64Array, out: Float64Array): number => {
    system.derivative(0, state, out);
    for (const vessel of held) out[vessel] = 0;
    let largest = 0;
    for (let i = 0; i < n; i++) largest = Math.max(largest, Math.abs(out[i]));
    return largest;
  };
  let residual = balance(y, rate);
  let dt = 0.5;
  for (let k = 0; k < 300 && residual > ENOUGH_M3_PER_S; k++) {
    stiff.jacobian(0, y, values);
    spread(stiff.pattern, values, held, jacobian);
    let next = Number.POSITIVE_INFINITY;
    for (let tries = 0; tries < 40; tries++) {
      for (let i = 0; i < n * n; i++) matrix[i] = -dt * jacobian[i];
      for (let i = 0; i < n; i++) {
        matrix[i * n + i] += 1;
        step[i] = dt * rate[i];
      }
      solveDense(matrix, step, n, 1);
      let allowed = true;
      for (let i = 0; i < n; i++) {
        trial[i] = y[i] + step[i];
        if (trial[i] < -1e-9 || Math.abs(step[i]) > LARGEST_MOVE_M * Math.max(areas[i], LEAST_PLAN_M2)) allowed = false;
      }
      next = allowed ? balance(trial, moved) : Number.POSITIVE_INFINITY;
      if (allowed && (next < 2 * residual || dt < 0.05)) break;
      dt /= 4;
      if (dt < 1e-4) break;
    }
    if (!(next < Number.POSITIVE_INFINITY)) break;
    y.set(trial);
    rate.set(moved);
    dt = Math.min(LONGEST_STEP_S, dt * Math.min(8, Math.max(1.5, residual / Math.max(next, 1e-300))));
    residual = next;
  }
  if (held.length === 0) system.keepAboveFloors(y);
  residual = balance(y, rate);
  return { volumesM3: y, residualM3PerS: residual, settled: residual <= 1e-8 };
}

/** Sparse values as a dense matrix, with the rows of held vessels zero. */
function spread(
  { size, rowStart, columns }: SparsePattern,
  values: Float64Array,
  held: readonly number[],
  dense: Float64Array,
): void {
  dense.fill(0);
  for (let i = 0; i < size; i++) {
    if (held.includes(i)) continue;
    for (let k = rowStart[i]; k < rowStart[i + 1]; k++) dense[i * size + columns[k]] = values[k];
  }
}
