// The non-stiff integrator: `odex` behind the common interface, with its silent failures reported.

import { Solver } from "#odex";
import { square } from "../elementary.ts";
import { type AcceptedStep, emptyStatistics, type Integrator, type Observer, type RunLimits } from "./integrator.ts";
import { type FailureCode, failure, failureOf, type Outcome } from "./outcome.ts";
import type { RunStatistics, StiffProblem, Tolerances } from "./problem.ts";
import { absoluteTolerances, firstNegative, firstNotFinite } from "./step-control.ts";

/** The part of a problem that an explicit method needs. */
export type OdeProblem = Pick<StiffProblem, "size" | "derivative" | "componentName">;

export interface NonStiffOptions extends RunLimits {
  readonly tolerances: Tolerances;
  readonly maxStep?: number;
  /** Components that may not fall below zero by more than their absolute tolerance (1 marks one; `true` marks all). */
  readonly nonNegative?: true | Uint8Array;
}

/** `odex` never starts with a shorter step than this; a shorter first step needs an end only twice as far away. */
const SHORTEST_FIRST_STEP = 1e-4;
const SMALLEST_STEP = 16 * Number.EPSILON;

/** Leaves `odex` from inside its derivative; it is always caught in this file. */
class Interruption extends Error {
  readonly code: FailureCode;
  readonly t: number;
  readonly component: number;
  constructor(code: FailureCode, t: number, component: number) {
    super(code);
    this.code = code;
    this.t = t;
    this.component = component;
  }
}

/**
 * Extrapolation integrator (Gragg-Bulirsch-Stoer with order control: Hairer, Nørsett & Wanner, Solving Ordinary Differential
 * Equations I, 2nd ed. 1993, section II.9, their code ODEX) for non-stiff systems, and the independent check of the stiff one.
 *
 * `odex` accepts a step full of NaN, reports the requested end whether it reached it or not, and turns typed arrays into
 * NaN. This class therefore checks every derivative and every step, takes the time from accepted steps, and passes only
 * plain arrays. A step to an invalid state (not finite, negative) is undone and retried with a shorter step.
 */
export class NonStiffSolver implements Integrator {
  readonly size: number;
  readonly statistics: RunStatistics = emptyStatistics();
  private readonly problem: OdeProblem;
  private readonly options: NonStiffOptions;
  private readonly absolute: Float64Array;
  private readonly argument: Float64Array;
  private readonly slope: Float64Array;
  private readonly step: ExtrapolationStep;
  private nextStep = 0;

  constructor(problem: OdeProblem, options: NonStiffOptions) {
    this.problem = problem;
    this.options = options;
    this.size = problem.size;
    this.absolute = absoluteTolerances(options.tolerances, problem.size);
    this.argument = new Float64Array(problem.size);
    this.slope = new Float64Array(problem.size);
    this.step = new ExtrapolationStep(problem.size);
  }

  restart(): void {
    this.nextStep = 0;
  }

  advance(t0: number, t1: number, y: Float64Array, observer?: Observer): Outcome {
    if (!(Number.isFinite(t0) && Number.isFinite(t1) && t1 >= t0))
      return failure(t0, "bad-input", `cannot run from ${t0} to ${t1}`);
    if (y.length !== this.size) return failure(t0, "bad-input", `state of ${y.length} components given, ${this.size} needed`);
    const component = firstNotFinite(y);
    if (component >= 0) return failureOf(this.problem, t0, "not-finite", component);

    let t = t0;
    const maxSteps = this.options.maxSteps ?? 100_000;
    const before = this.statistics.steps + this.statistics.rejected;
    while (t < t1) {
      const used = this.statistics.steps + this.statistics.rejected - before;
      if (used >= maxSteps) return failure(t, "too-many-steps", `gave up after ${maxSteps} steps`);
      const leg = this.runLeg(t, t1, y, maxSteps - used, observer);
      t = leg.t;
      if (leg.stopped) return { status: "stopped", t };
      if (!leg.trouble) continue;
      const { code, component } = leg.trouble;
      if (code === "not-finite" || code === "negative") {
        this.statistics.rejected++;
        this.nextStep = Math.max(leg.trouble.t - t, 0) / 10;
        if (this.nextStep > SMALLEST_STEP * Math.abs(t) && this.nextStep > 1e-300) continue;
      }
      return failureOf(this.problem, t, code, component);
    }
    return { status: "finished", t: t1 };
  }

  /** One call of `odex`: integrates y as far as it gets. */
  private runLeg(t0: number, t1: number, y: Float64Array, maxSteps: number, observer: Observer | undefined) {
    const { statistics, options, step } = this;
    if (this.nextStep === 0) {
      const component = this.evaluate(t0, y, this.slope);
      if (component >= 0) return { t: t0, stopped: false, trouble: new Interruption("not-finite", t0, component) };
      this.nextStep = this.firstStep(t1 - t0, y);
    }
    const first = Math.min(this.nextStep, options.maxStep ?? Number.POSITIVE_INFINITY);
    const short = first < SHORTEST_FIRST_STEP && 2 * first < t1 - t0;
    const end = short ? t0 + 2 * first : t1;

    const solver = new Solver(this.size);
    solver.absoluteTolerance = Array.from(this.absolute);
    solver.relativeTolerance = options.tolerances.relative;
    solver.initialStepSize = first;
    if (options.maxStep !== undefined) solver.maxStepSize = options.maxStep;
    solver.maxSteps = maxSteps + 1;
    solver.denseOutput = observer !== undefined;

    const leg: { t: number; stopped: boolean; trouble?: Interruption } = { t: t0, stopped: false };
    let longest = 0;
    let tries = 0;
    const derivative = (t: number, state: number[]): number[] => {
      if (++tries > 1000 * maxSteps) throw new Interruption("too-many-steps", t, -1);
      this.argument.set(state);
      const component = this.evaluate(t, this.argument, this.slope);
      if (component >= 0) throw new Interruption("not-finite", t, component);
      if (statistics.derivatives > (options.maxDerivatives ?? Number.POSITIVE_INFINITY))
        throw new Interruption("too-many-derivatives", t, -1);
      if (options.deadline && options.deadline.now() > options.deadline.at) throw new Interruption("out-of-time", t, -1);
      return Array.from(this.slope);
    };
    try {
      const result = solver.solve(derivative, t0, Array.from(y), end, (count, from, to, state, dense) => {
        if (count === 1) return true;
        step.load(from, to, y, state, dense);
        options.project?.(step.y1);
        const negative = firstNegative(y, step.y1, this.absolute, options.nonNegative);
        if (negative >= 0) throw new Interruption("negative", to, negative);
        statistics.steps++;
        longest = to < end ? to - from : Math.max(longest, to - from);
        const stop = observer?.(step);
        if (stop !== undefined && stop <= to) {
          step.at(stop, this.argument);
          options.project?.(this.argument);
          y.set(this.argument);
          leg.t = stop;
          leg.stopped = true;
          return false;
        }
        y.set(step.y1);
        leg.t = to;
        return true;
      });
      statistics.rejected += Math.max(0, result.nStep - result.nAccept);
      if (!leg.stopped) {
        if (result.outcome !== 0) leg.trouble = new Interruption("too-many-steps", leg.t, -1);
        else if (end - leg.t <= SMALLEST_STEP * Math.max(Math.abs(end), end - t0)) leg.t = end;
      }
      if (longest > 0) this.nextStep = short ? 4 * first : longest;
    } catch (cause) {
      if (!(cause instanceof Interruption)) throw cause;
      leg.trouble = cause;
    }
    return leg;
  }

  /** @returns -1, or the index of a component whose slope is not finite */
  private evaluate(t: number, y: Float64Array, slope: Float64Array): number {
    this.problem.derivative(t, y, slope);
    this.statistics.derivatives++;
    return firstNotFinite(slope);
  }

  /** A hundredth of the time in which the state would change by its own size (Hairer, Nørsett & Wanner 1993, section II.4). */
  private firstStep(span: number, y: Float64Array): number {
    let size = 0;
    let speed = 0;
    for (let n = 0; n < this.size; n++) {
      const weight = this.absolute[n] + this.options.tolerances.relative * Math.abs(y[n]);
      size += square(y[n] / weight);
      speed += square(this.slope[n] / weight);
    }
    if (speed === 0) return span / 100;
    return Math.min(span, size > 0 ? 0.01 * Math.sqrt(size / speed) : 1 / Math.sqrt(speed / this.size));
  }
}

/** A step of `odex` as the observer sees it. */
class ExtrapolationStep implements AcceptedStep {
  t0 = 0;
  t1 = 0;
  y0: Float64Array;
  readonly y1: Float64Array;
  private dense: ((component: number, t: number) => number) | undefined;

  constructor(size: number) {
    this.y0 = new Float64Array(size);
    this.y1 = new Float64Array(size);
  }

  load(t0: number, t1: number, y0: Float64Array, y1: readonly number[], dense: typeof this.dense): void {
    this.t0 = t0;
    this.t1 = t1;
    this.y0 = y0;
    this.y1.set(y1);
    this.dense = dense;
  }

  at(t: number, out: Float64Array): void {
    for (let n = 0; n < out.length; n++) out[n] = t === this.t1 || !this.dense ? this.y1[n] : this.dense(n, t);
  }
}
