// The stiff one-step integrator: one factorisation and a few back-substitutions per step, without iteration and without history.

import { square } from "../elementary.ts";
import { planElimination } from "../linear-algebra/elimination.ts";
import { SparseLU, sparseLuBytes } from "../linear-algebra/sparse-lu.ts";
import { createVectorLoops, mayCompile, type VectorLoops } from "../linear-algebra/vector-loops.ts";
import { RosenbrockStep } from "./dense-output.ts";
import { emptyStatistics, type Integrator, type Observer, type RunLimits } from "./integrator.ts";
import { type FailureCode, failure, failureOf, type Outcome } from "./outcome.ts";
import type { RunStatistics, StiffProblem, Tolerances } from "./problem.ts";
import { type RosenbrockMethod, rodas5p } from "./rosenbrock-method.ts";
import { absoluteTolerances, firstNegative, firstNotFinite, StepController, weightedError } from "./step-control.ts";

export interface StiffOptions extends RunLimits {
  readonly tolerances: Tolerances;
  readonly method?: RosenbrockMethod;
  readonly maxStep?: number;
  /**
   * Whether the linear algebra may use WebAssembly, which is a little faster and gives the same bits. A page with a
   * strict content policy forbids it and reports the attempt in its console, so by default it is used only outside
   * pages and their workers.
   */
  readonly webAssembly?: boolean;
  /** Components that may not fall below zero by more than their absolute tolerance (1 marks one; `true` marks all). */
  readonly nonNegative?: true | Uint8Array;
}

/** Why a step is rejected before its error is known; it is retried with a smaller step. */
interface Refusal {
  code: FailureCode;
  component: number;
}

/** Weighted stages in the memory of the vector loops, between two byte addresses. */
interface Terms {
  readonly from: number;
  readonly to: number;
  readonly continues: boolean;
}

/** Factor on the first step that the curvature allows; chosen on our own problems, see `firstStep`. */
const FIRST_STEP = 60;
/** Steps below this fraction of |t| do not change t reliably. */
const SMALLEST_STEP = 16 * Number.EPSILON;
/** The reciprocal of a shorter step would overflow. */
const SMALLEST_NUMBER = 1e-300;

/**
 * Rosenbrock integrator for y' = f(t, y) with an exact sparse Jacobian. Construction does the symbolic work and allocates all
 * memory; steps allocate nothing. The state is never clipped, so every linear invariant of f is an invariant of the run: each
 * stage solves a linear system in the same J, and w·f = w·J = 0 implies w·U_i = 0.
 */
export class StiffSolver implements Integrator {
  readonly size: number;
  readonly statistics: RunStatistics = emptyStatistics();
  private readonly problem: StiffProblem;
  private readonly options: StiffOptions;
  private readonly method: RosenbrockMethod;
  private readonly kernel: VectorLoops;
  private readonly lu: SparseLU;
  /** Absolute tolerance of each component, length size, in the component's unit. */
  private readonly absolute: Float64Array;
  private readonly controller: StepController;
  /** f at the start of the step, length size, per unit of time. */
  private readonly slope: Float64Array;
  /** ∂f/∂t at the start of the step, length size. */
  private readonly timeSlope: Float64Array;
  /** State at which the next stage evaluates f, length size. */
  private readonly argument: Float64Array;
  /** U_1 .. U_s of the method, each of length size, in the unit of the state. */
  private readonly stages: Float64Array[];
  /**
   * For each stage, the earlier stages that are added to its argument and to its right-hand side. Where the argument is
   * that of the stage before plus that stage, it is not summed again.
   */
  private readonly argumentTerms: readonly Terms[];
  private readonly rightTerms: readonly Terms[];
  /** State at the end of the step, length size. */
  private readonly next: Float64Array;
  private readonly refusal: Refusal = { code: "step-too-small", component: -1 };
  private readonly step: RosenbrockStep;
  /** Step to try next; 0 requests a new estimate. */
  private nextStep = 0;

  constructor(problem: StiffProblem, options: StiffOptions) {
    this.problem = problem;
    this.options = options;
    this.size = problem.size;
    this.method = options.method ?? rodas5p;
    const plan = planElimination(problem.pattern);
    const stageCount = this.method.a.length;
    const bytes = sparseLuBytes(plan) + 8 * (problem.size + 1) * (stageCount + 2) + 16 * stageCount * stageCount;
    this.kernel = createVectorLoops(bytes, options.webAssembly ?? mayCompile());
    this.lu = new SparseLU(plan, this.kernel);
    this.absolute = absoluteTolerances(options.tolerances, problem.size);
    this.controller = new StepController(this.method.embeddedOrder + 1);
    const vector = () => new Float64Array(problem.size);
    this.slope = vector();
    this.timeSlope = vector();
    this.argument = this.kernel.floats(problem.size);
    this.stages = this.method.a.map(() => this.kernel.floats(problem.size));
    const { a, c } = this.method;
    this.argumentTerms = a.map((row, i) => {
      const continues = i > 0 && row[i - 1] === 1 && row.every((w, j) => j === i - 1 || w === a[i - 1][j]);
      return { ...this.terms(continues ? row.map((_, j) => (j === i - 1 ? 1 : 0)) : row), continues };
    });
    this.rightTerms = c.map((row) => ({ ...this.terms(row), continues: false }));
    this.next = vector();
    this.step = new RosenbrockStep(this.method, this.stages, this.next);
  }

  /** Stores a list of weighted stages in the memory of the vector loops. */
  private terms(weights: readonly number[]): Pick<Terms, "from" | "to"> {
    const used = weights.flatMap((weight, j) => (weight === 0 ? [] : [{ weight, stage: this.stages[j] }]));
    const list = this.kernel.floats(2 * used.length);
    const words = new Int32Array(list.buffer, list.byteOffset, 2 * list.length);
    used.forEach(({ weight, stage }, n) => {
      list[2 * n] = weight;
      words[4 * n + 2] = stage.byteOffset;
    });
    return { from: list.byteOffset, to: list.byteOffset + list.byteLength };
  }

  restart(): void {
    this.nextStep = 0;
    this.controller.restart();
  }

  advance(t0: number, t1: number, y: Float64Array, observer?: Observer): Outcome {
    const { options, statistics } = this;
    const bad = this.checkInput(t0, t1, y);
    if (bad) return bad;
    // Times that differ only by rounding are equal.
    if (t1 - t0 <= SMALLEST_STEP * Math.abs(t1)) return { status: "finished", t: t1 };
    const maxSteps = options.maxSteps ?? 100_000;
    const maxStep = options.maxStep ?? Number.POSITIVE_INFINITY;
    let t = t0;
    let tries = 0;
    let fresh = true;
    while (t < t1) {
      if (fresh) {
        const trouble = this.linearise(t, y);
        if (trouble >= 0) return failureOf(this.problem, t, "not-finite", trouble);
        if (this.nextStep === 0) this.nextStep = this.firstStep(t1 - t, y);
        fresh = false;
      }
      const wanted = Math.min(this.nextStep, maxStep);
      const rest = t1 - t;
      const last = wanted >= rest * 0.9999;
      const h = last ? rest : wanted * 2 > rest ? rest / 2 : wanted;
      if (!last && (h <= SMALLEST_STEP * Math.abs(t) || h < SMALLEST_NUMBER))
        return failureOf(this.problem, t, this.refusal.code, this.refusal.component);
      if (++tries > maxSteps) return failure(t, "too-many-steps", `gave up after ${maxSteps} steps`);
      if (statistics.derivatives > (options.maxDerivatives ?? Number.POSITIVE_INFINITY))
        return failure(t, "too-many-derivatives", `gave up after ${statistics.derivatives} evaluations`);
      if (options.deadline && options.deadline.now() > options.deadline.at)
        return failure(t, "out-of-time", "the time allowed for the run is used up");

      const error = this.tryStep(t, y, h);
      if (error > 1) {
        statistics.rejected++;
        this.nextStep = h * this.controller.rejected(error);
        continue;
      }
      statistics.steps++;
      const grown = h * this.controller.accepted(h, Math.max(error, 1e-10));
      this.nextStep = h < wanted ? Math.max(wanted, grown) : grown;
      const reached = last ? t1 : t + h;
      options.project?.(this.next);
      const stop = observer?.(this.step.accept(t, reached, y));
      if (stop !== undefined && stop <= reached) {
        this.step.at(stop, this.argument);
        options.project?.(this.argument);
        y.set(this.argument);
        return { status: "stopped", t: stop };
      }
      t = reached;
      y.set(this.next);
      fresh = true;
    }
    return { status: "finished", t: t1 };
  }

  private checkInput(t0: number, t1: number, y: Float64Array): Outcome | undefined {
    if (!(Number.isFinite(t0) && Number.isFinite(t1) && t1 >= t0))
      return failure(t0, "bad-input", `cannot run from ${t0} to ${t1}`);
    if (y.length !== this.size) return failure(t0, "bad-input", `state of ${y.length} components given, ${this.size} needed`);
    const component = firstNotFinite(y);
    return component < 0 ? undefined : failureOf(this.problem, t0, "not-finite", component);
  }

  /** Slope, Jacobian and time derivative at the start of a step. @returns -1, or the index of a component that is not finite */
  private linearise(t: number, y: Float64Array): number {
    const { problem, statistics, slope } = this;
    problem.derivative(t, y, slope);
    problem.jacobian(t, y, this.lu.matrix);
    problem.timeDerivative?.(t, y, this.timeSlope);
    statistics.derivatives++;
    statistics.jacobians++;
    return firstNotFinite(slope);
  }

  /**
   * Tries one step of size h; the result is in `next`.
   * @returns weighted error, or infinity where the step is unusable (see `refusal`)
   */
  private tryStep(t: number, y: Float64Array, h: number): number {
    const { problem, method, stages, argument, lu, statistics, size } = this;
    const right = lu.vector;
    const timed = problem.timeDerivative !== undefined;
    statistics.factorisations++;
    const pivot = lu.factorise(1 / (h * method.gamma));
    if (pivot >= 0) return this.refuse("step-too-small", pivot);
    right.set(this.slope);
    for (let i = 0; i < stages.length; i++) {
      if (i > 0) {
        if (!this.argumentTerms[i].continues) argument.set(y);
        this.combine(argument, this.argumentTerms[i], 1);
        problem.derivative(t + method.alpha[i] * h, argument, right);
        statistics.derivatives++;
        this.combine(right, this.rightTerms[i], 1 / h);
      }
      if (timed) {
        const weight = h * method.timeWeights[i];
        if (weight !== 0) for (let n = 0; n < size; n++) right[n] += weight * this.timeSlope[n];
      }
      lu.solve();
      stages[i].set(right);
    }
    const last = stages[stages.length - 1];
    const { next } = this;
    for (let n = 0; n < size; n++) next[n] = argument[n] + last[n];
    const error = weightedError(last, y, next, this.absolute, this.options.tolerances.relative);
    if (!(error < Number.POSITIVE_INFINITY)) return this.refuse("not-finite", firstNotFinite(next));
    if (error > 1) {
      this.refuse("step-too-small", -1);
      return error;
    }
    const negative = firstNegative(y, next, this.absolute, this.options.nonNegative);
    return negative >= 0 ? this.refuse("negative", negative) : error;
  }

  /** out += scale * sum of weighted stages; `out` must be in the memory of the vector loops. */
  private combine(out: Float64Array, { from, to }: Terms, scale: number): void {
    this.kernel.combine(out.byteOffset, out.byteOffset + out.byteLength, from, to, scale);
  }

  private refuse(code: FailureCode, component: number): number {
    this.refusal.code = code;
    this.refusal.component = component;
    return Number.POSITIVE_INFINITY;
  }

  /**
   * First step from the slope and, exact through the Jacobian, from the curvature of the solution: FIRST_STEP times the
   * step at which the curvature term h² |y''| / 2 equals the tolerance, limited to the step in which the state would
   * change by a hundred tolerances. After Hairer, Nørsett & Wanner 1993, section II.4. The factor is our own choice: a
   * method of order five allows a longer step than Euler's, and a step that is too long costs one rejection.
   */
  private firstStep(span: number, y: Float64Array): number {
    const { slope, timeSlope, absolute, size } = this;
    const jacobian = this.lu.matrix;
    const { rowStart, columns } = this.problem.pattern;
    const { relative } = this.options.tolerances;
    let first = 0;
    let second = 0;
    for (let i = 0; i < size; i++) {
      let curve = timeSlope[i];
      for (let e = rowStart[i]; e < rowStart[i + 1]; e++) curve += jacobian[e] * slope[columns[e]];
      const weight = absolute[i] + relative * Math.abs(y[i]);
      first += square(slope[i] / weight);
      second += square(curve / weight);
    }
    const byCurvature = FIRST_STEP * Math.sqrt((2 * Math.sqrt(size)) / Math.sqrt(second));
    const bySlope = (100 * Math.sqrt(size)) / Math.sqrt(first);
    const step = Math.min(span, byCurvature, bySlope);
    return step > 0 ? step : span * 1e-6;
  }
}
