// The common interface of all integrators, so that events, scenarios and tests do not depend on a particular one.

import type { Outcome } from "./outcome.ts";
import type { RunStatistics } from "./problem.ts";

/**
 * One accepted step. It is valid only during the observer's call, so copy what you keep.
 * Output points are interpolated from it and never change the steps.
 */
export interface AcceptedStep {
  readonly t0: number;
  readonly t1: number;
  readonly y0: Float64Array;
  readonly y1: Float64Array;
  /** Dense output: writes the state at t0 <= t <= t1 into `out` (length size); allocates nothing. */
  at(t: number, out: Float64Array): void;
}

/**
 * Receives each accepted step. Returns a time in [t0, t1] to stop there (the state becomes the dense output), or
 * undefined to continue.
 */
export type Observer = (step: AcceptedStep) => number | undefined;

export interface Integrator {
  readonly size: number;
  /** Counts since construction; the integrator increments them, the caller may read or reset them. */
  readonly statistics: RunStatistics;
  /**
   * Integrates y (length size, in place) from t0 to t1 > t0. On `stopped` and `failed`, y is the state at the outcome's time.
   * The final step size is kept for the next call.
   */
  advance(t0: number, t1: number, y: Float64Array, observer?: Observer): Outcome;
  /** Announces a discontinuity (dose, switch): the next advance starts with a new step-size estimate. */
  restart(): void;
}

/** Limits that turn an endless run into a failure with a reason. */
export interface RunLimits {
  /** Largest number of accepted and rejected steps of one advance; default 100 000. */
  readonly maxSteps?: number;
  /** Largest number of derivative evaluations since construction; default unlimited. */
  readonly maxDerivatives?: number;
  /**
   * Projects a state back onto its bounds, in place. It is called on the end of every accepted step before the observer
   * sees it, and where a run stops inside a step. It may move a component by no more than the tolerance, and must
   * preserve every linear invariant.
   */
  readonly project?: (y: Float64Array) => void;
  /** Time limit on the caller's clock. */
  readonly deadline?: { readonly now: () => number; readonly at: number };
}

export function emptyStatistics(): RunStatistics {
  return { steps: 0, rejected: 0, derivatives: 0, jacobians: 0, factorisations: 0 };
}
