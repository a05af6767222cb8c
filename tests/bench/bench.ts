// npm run bench [-- --json FILE] [--only WORD]: work-precision comparison of the integrators, in one run on one machine.
// --only runs the cases whose name contains the word, without the scaling and ensemble parts; `--only answer` prints the
// parts of whole answers.

import { writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { NonStiffSolver } from "../../sim/integrators/nonstiff.ts";
import { printAnswers } from "./answer.ts";
import {
  type BenchCase,
  errorAgainst,
  publishedCases,
  referenceCase,
  referenceSolution,
  runCase,
  sampleBuffer,
  stiffSolver,
} from "./cases.ts";
import { compileOutside } from "./outside.ts";
import { leastTime, printRows, type Row, wallAtError } from "./rows.ts";
import { costByCells, costByDays, ensembles, peakHeap } from "./scaling.ts";

const { values: args } = parseArgs({ options: { json: { type: "string" }, only: { type: "string" } } });
const rows: Row[] = [];
const outside = compileOutside();

function ours(bench: BenchCase, reference: Float64Array, relative: number): Row {
  const samples = sampleBuffer(bench);
  const counted = stiffSolver(bench, relative);
  const error = runCase(bench, counted, samples) ? errorAgainst(reference, samples, bench.problem.size) : Number.NaN;
  const solver = stiffSolver(bench, relative);
  const wallMs = leastTime(() => runCase(bench, solver, samples), bench.pulse ? 1000 : 150);
  const { steps, rejected, derivatives } = counted.statistics;
  return { problem: bench.name, method: "stiff", rtol: relative, error, wallMs, steps, rejected, rhs: derivatives };
}

function odex(bench: BenchCase, reference: Float64Array, relative: number, maxDerivatives: number): Row {
  const absolute = bench.absolute.map((value) => value * relative);
  const solver = new NonStiffSolver(bench.problem, { tolerances: { relative, absolute }, maxSteps: 1e7, maxDerivatives });
  const samples = sampleBuffer(bench);
  const start = performance.now();
  const finished = runCase(bench, solver, samples);
  const wallMs = performance.now() - start;
  const { steps, rejected, derivatives } = solver.statistics;
  const error = finished ? errorAgainst(reference, samples, bench.problem.size) : Number.NaN;
  return { problem: bench.name, method: "odex", rtol: relative, error, wallMs, steps, rejected, rhs: derivatives };
}

/** Runs all integrators on one case; prints their rows, then the ratio of CVODE's time to ours at our errors. */
function compare(bench: BenchCase, tolerances: readonly number[], outsideTolerances: readonly number[]): void {
  const reference = referenceSolution(bench);
  const stiff = tolerances.map((relative) => ours(bench, reference, relative));
  const group: Row[] = [...stiff];
  const mild = bench.name === "Pleiades";
  for (const relative of mild ? tolerances : [1e-4]) group.push(odex(bench, reference, relative, bench.pulse ? 2e7 : 3e5));
  const solvers = mild ? (["adams"] as const) : bench.pulse ? (["dense", "sparse"] as const) : (["dense"] as const);
  for (const solver of solvers)
    for (const relative of outsideTolerances) {
      const row = outside.cvode(bench, reference, solver, relative);
      if (row) group.push(row);
    }
  for (const method of ["LSODA", "Radau"] as const) {
    const row = outside.scipy(bench, reference, method, 1e-4);
    if (row) group.push(row);
  }
  printRows(group);
  for (const solver of solvers) {
    const theirs = group.filter((row) => row.method === `CVODE ${solver}`);
    const ratios = stiff.map((row) => {
      const wall = wallAtError(theirs, row.error);
      return `${row.rtol.toExponential(0)}: ${wall === undefined ? "-" : (wall / row.wallMs).toFixed(2)}`;
    });
    if (theirs.length > 0)
      console.log(`  time of CVODE ${solver} / time of ours, at our error, by our rtol:  ${ratios.join("   ")}`);
  }
  console.log();
  rows.push(...group);
}

console.log(`Node ${process.version}\n`);
const decades = [1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9];
for (const bench of [...publishedCases, referenceCase]) {
  if (args.only !== undefined && !bench.name.includes(args.only)) continue;
  compare(bench, bench.pulse ? decades.slice(0, 4) : decades, bench.pulse ? decades : [...decades, 1e-10, 1e-11]);
}
outside.close();
if (args.only === undefined) {
  costByDays();
  costByCells();
  await ensembles();
  peakHeap();
}
if (args.only === undefined || args.only === "answer") printAnswers();
if (args.json) writeFileSync(args.json, `${JSON.stringify(rows, null, 1)}\n`);
