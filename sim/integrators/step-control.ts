// Step-size control: the error norm and the controller.

import { pow } from "../elementary.ts";
import type { Tolerances } from "./problem.ts";

/** Aim below the tolerance, so that most steps are accepted. */
const SAFETY = 0.9;
/** The step size changes by no more than these factors from one step to the next. */
const LEAST_FACTOR = 0.2;
const MOST_FACTOR = 6;

/**
 * The absolute tolerance of each component, length `size`.
 * @throws Error when the number of tolerances is wrong or one is not positive
 */
export function absoluteTolerances(tolerances: Tolerances, size: number): Float64Array {
  const { absolute, relative } = tolerances;
  const each = typeof absolute === "number" ? new Float64Array(size).fill(absolute) : Float64Array.from(absolute);
  if (each.length !== size) throw new Error(`${each.length} absolute tolerances for ${size} components`);
  if (!(relative > 0) || !each.every((value) => value > 0)) throw new Error("tolerances must be positive");
  return each;
}

/**
 * Root mean square of error_i / (absolute_i + relative max(|y0_i|, |y1_i|)): 1 is the limit of acceptance
 * (Hairer, Nørsett & Wanner, Solving Ordinary Differential Equations I, 2nd ed. 1993, eq. II.4.11).
 */
export function weightedError(
  error: Float64Array,
  y0: Float64Array,
  y1: Float64Array,
  absolute: Float64Array,
  relative: number,
): number {
  let sum = 0;
  for (let i = 0; i < error.length; i++) {
    const ratio = error[i] / (absolute[i] + relative * Math.max(Math.abs(y0[i]), Math.abs(y1[i])));
    sum += ratio * ratio;
  }
  return Math.sqrt(sum / error.length);
}

/**
 * Step-size factors from the errors of this step and of the last accepted one (predictive PI control: Gustafsson 1994, ACM
 * Transactions on Mathematical Software 20, 496-517; Hairer & Wanner 1996, eq. IV.8.21).
 */
export class StepController {
  private readonly exponent: number;
  private lastError = 0;
  private lastStep = 0;
  private justRejected = false;

  /** @param errorOrder order of the error estimate: embedded order + 1 */
  constructor(errorOrder: number) {
    this.exponent = 1 / errorOrder;
  }

  restart(): void {
    this.lastError = 0;
    this.justRejected = false;
  }

  /** Factor for the next step after a step that was accepted with this error. */
  accepted(step: number, error: number): number {
    let factor = SAFETY * pow(error, -this.exponent);
    if (this.lastError > 0) {
      const trend = (step / this.lastStep) * pow(this.lastError / error, this.exponent);
      factor *= Math.min(1, trend);
    }
    factor = Math.min(MOST_FACTOR, Math.max(LEAST_FACTOR, factor));
    if (this.justRejected) factor = Math.min(1, factor);
    this.justRejected = false;
    this.lastError = Math.max(error, 0.01);
    this.lastStep = step;
    return factor;
  }

  /** Factor for the next step after a step that was rejected with this error (infinite where the step could not be computed). */
  rejected(error: number): number {
    this.justRejected = true;
    // A first step that is too long meets fast transients, where the error hardly depends on the step. Shorten it strongly, once.
    if (this.lastError === 0) return LEAST_FACTOR;
    return error < Number.POSITIVE_INFINITY ? Math.max(LEAST_FACTOR, SAFETY * pow(error, -this.exponent)) : LEAST_FACTOR;
  }
}

/** Index of a marked component that the step carries below minus its absolute tolerance and further down than before; or -1. */
export function firstNegative(
  y0: Float64Array,
  y1: Float64Array,
  absolute: Float64Array,
  marked: true | Uint8Array | undefined,
): number {
  if (marked === undefined) return -1;
  for (let n = 0; n < y1.length; n++) if (y1[n] < -absolute[n] && y1[n] < y0[n] && (marked === true || marked[n] === 1)) return n;
  return -1;
}

/** Index of a component that is not finite, or -1. */
export function firstNotFinite(y: Float64Array): number {
  for (let n = 0; n < y.length; n++) if (!Number.isFinite(y[n])) return n;
  return -1;
}
