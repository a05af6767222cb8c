// The interface between a model and the integrators. Numbers only: nothing here depends on the meaning of a component.

import type { SparsePattern } from "../linear-algebra/sparse-pattern.ts";

/** y' = f(t, y) with an exact Jacobian on a fixed pattern. All methods write into their last argument and allocate nothing. */
export interface StiffProblem {
  readonly size: number;
  readonly pattern: SparsePattern;
  derivative(t: number, y: Float64Array, out: Float64Array): void;
  /** ∂f/∂y: writes one value per pattern entry, in pattern order. */
  jacobian(t: number, y: Float64Array, values: Float64Array): void;
  /** ∂f/∂t, length size; absent means autonomous (omitting it where f depends on t reduces the order). */
  timeDerivative?(t: number, y: Float64Array, out: Float64Array): void;
  /** Name of a component, for failure messages. */
  componentName?(index: number): string;
}

/**
 * Error weights: component i is controlled to absolute[i] + relative * |y_i|, within each step. What a tolerance gives in the end depends on
 * the method and the problem: halve it and compare. For the tank models here, 1e-4 leaves errors of about 2e-4 of the largest value after
 * 90 days, 1e-3 about ten times as much for two thirds of the work (`tests/bench/work-precision.md`). Choose `absolute` as the amount of a
 * component that no longer matters.
 */
export interface Tolerances {
  /** Dimensionless. */
  readonly relative: number;
  /** One value for all components, or one for each (length `size`), in the unit of the component. */
  readonly absolute: Float64Array | number;
}

/** Counts that every run reports. */
export interface RunStatistics {
  steps: number;
  rejected: number;
  derivatives: number;
  jacobians: number;
  factorisations: number;
}
