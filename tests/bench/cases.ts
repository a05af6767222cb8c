// The benchmark cases in a common form: start, pulses, sampled states, and the error against a tight reference solution.

import type { Integrator } from "../../sim/integrators/integrator.ts";
import type { StiffProblem } from "../../sim/integrators/problem.ts";
import { StiffSolver } from "../../sim/integrators/stiff.ts";
import { publishedProblems } from "../sim/integrators/problems.ts";
import { days, feed, feedEvery, referenceProblem } from "./reference-problem.ts";

export interface BenchCase {
  readonly name: string;
  /** Name in the C harness: that of a problem, or the number of cells. */
  readonly key: string;
  readonly problem: StiffProblem;
  readonly start: Float64Array;
  /** Absolute tolerances at relative tolerance 1. */
  readonly absolute: Float64Array;
  readonly segments: number;
  readonly segment: number;
  readonly pulse?: { readonly component: number; readonly size: number };
  /** Number of evenly spaced sampled states in each segment, its end included. */
  readonly samples: number;
}

export const publishedCases: readonly BenchCase[] = publishedProblems.map((problem) => ({
  name: problem.name,
  key: problem.name,
  problem,
  start: Float64Array.from(problem.start),
  absolute: Float64Array.from(problem.scale, (scale) => 1e-3 * scale),
  segments: 1,
  segment: problem.end,
  samples: 1,
}));

export function aquariumCase(cells: number, runDays: number): BenchCase {
  const problem = referenceProblem(cells, 1);
  return {
    name: `aquarium, ${problem.size} states, ${runDays} d`,
    key: `${cells}`,
    problem,
    start: problem.start,
    absolute: problem.absolute.map((value) => value / 1e-4),
    segments: Math.round(runDays / feedEvery),
    segment: feedEvery,
    pulse: { component: problem.gut, size: feed },
    samples: 2,
  };
}

export const referenceCase = aquariumCase(4, days);

export function stiffSolver(bench: BenchCase, relative: number): StiffSolver {
  const absolute = bench.absolute.map((value) => value * relative);
  return new StiffSolver(bench.problem, { tolerances: { relative, absolute }, maxSteps: 1e7 });
}

/** Runs a case from its start; `samples`, if given, receives every sampled state. @returns whether it reached the end */
export function runCase(bench: BenchCase, integrator: Integrator, samples?: Float64Array): boolean {
  const { segments, segment, pulse } = bench;
  const size = bench.problem.size;
  const y = Float64Array.from(bench.start);
  const inside = new Float64Array(size);
  for (let k = 0; k < segments; k++) {
    const [from, to] = [k * segment, (k + 1) * segment];
    if (pulse) y[pulse.component] += pulse.size;
    integrator.restart();
    let next = 1;
    const outcome = integrator.advance(from, to, y, (step) => {
      for (; next < bench.samples; next++) {
        const t = from + (next * segment) / bench.samples;
        if (t > step.t1) break;
        step.at(t, inside);
        samples?.set(inside, (k * bench.samples + next - 1) * size);
      }
      return undefined;
    });
    if (outcome.status !== "finished") return false;
    samples?.set(y, ((k + 1) * bench.samples - 1) * size);
  }
  return true;
}

export function sampleBuffer(bench: BenchCase): Float64Array {
  return new Float64Array(bench.segments * bench.samples * bench.problem.size);
}

/** Largest error of any component at any sample, relative to the largest value of that component in the reference. */
export function errorAgainst(reference: Float64Array, samples: Float64Array, size: number): number {
  const peak = new Float64Array(size);
  reference.forEach((value, i) => {
    peak[i % size] = Math.max(peak[i % size], Math.abs(value));
  });
  let worst = 0;
  for (let i = 0; i < reference.length; i++) worst = Math.max(worst, Math.abs(samples[i] - reference[i]) / peak[i % size]);
  return worst;
}

/** The reference solution: our integrator at the tightest tolerance that rounding allows. */
export function referenceSolution(bench: BenchCase): Float64Array {
  const samples = sampleBuffer(bench);
  if (!runCase(bench, stiffSolver(bench, bench.pulse ? 1e-11 : 1e-13), samples))
    throw new Error(`no reference for ${bench.name}`);
  return samples;
}
