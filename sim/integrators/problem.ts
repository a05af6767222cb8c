// The contract between a model and the integrators. Numbers only: nothing here knows what a component means.

import type { SparsePattern } from "../linear-algebra/sparse-pattern.ts";

/** y' = f(t, y) with an exact Jacobian on a fixed pattern. All methods write into their last argument and allocate nothing. */
export interface StiffProblem {
  readonly size: number;
  readonly pattern: SparsePattern;
  derivative(t: number, y: Float64Array, out: Float64Array): void;
  /** ∂f/∂y, one value per pattern entry, in pattern order. */
  jacobian(t: number, y: Float64Array, values: Float64Array): void;
  /** ∂f/∂t; absent means autonomous (leaving it out where f depends on t costs the order). */
  timeDerivative?(t: number, y: Float64Array, out: Float64Array): void;
  /** Name of a component, for failure messages. */
  componentName?(index: number): string;
}

/** Error weights: component i is controlled to absolute[i] + relative * |y_i|. */
export interface Tolerances {
  readonly relative: number;
  readonly absolute: Float64Array | number;
}

/** What every run reports. */
export interface RunStatistics {
  steps: number;
  rejected: number;
  derivatives: number;
  jacobians: number;
  factorisations: number;
}
