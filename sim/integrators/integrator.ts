// What every integrator offers, so that events, scenarios and tests need not know which one they drive.

import type { Outcome } from "./outcome.ts";
import type { RunStatistics } from "./problem.ts";

/**
 * One accepted step, lent to the observer: valid only during the call, so copy what you keep.
 * Output points are read from here and never alter the steps.
 */
export interface AcceptedStep {
  readonly t0: number;
  readonly t1: number;
  readonly y0: Float64Array;
  readonly y1: Float64Array;
  /** Dense output: the state at t0 <= t <= t1, written into `out`; allocates nothing. */
  at(t: number, out: Float64Array): void;
}

/** Sees each accepted step; answers a time in [t0, t1] to stop there (the state becomes the dense output), or undefined to go on. */
export type Observer = (step: AcceptedStep) => number | undefined;

export interface Integrator {
  readonly size: number;
  /** Counts since construction; the integrator adds to them, the caller may read or zero them. */
  readonly statistics: RunStatistics;
  /**
   * Carries y (in place) from t0 to t1 > t0. On `stopped` and `failed`, y is the state at the outcome's time.
   * The step size found at the end is kept for the next call.
   */
  advance(t0: number, t1: number, y: Float64Array, observer?: Observer): Outcome;
  /** Tells of a discontinuity (dose, switch): the next advance starts from a fresh step estimate. */
  restart(): void;
}

/** Limits that turn an endless run into a failure with a reason. */
export interface RunLimits {
  /** Accepted and rejected steps of one advance; 100 000 when absent. */
  readonly maxSteps?: number;
  /** Derivative evaluations since construction; no limit when absent. */
  readonly maxDerivatives?: number;
  /**
   * Puts a state just reached back within its bounds, in place: called on the end of every accepted step before the observer sees it, and
   * where a run stops inside one. It may move a component by no more than the tolerance, and must keep every linear invariant.
   */
  readonly project?: (y: Float64Array) => void;
  /** Time not to run past, on the caller's clock. */
  readonly deadline?: { readonly now: () => number; readonly at: number };
}

export function emptyStatistics(): RunStatistics {
  return { steps: 0, rejected: 0, derivatives: 0, jacobians: 0, factorisations: 0 };
}
