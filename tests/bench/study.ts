// node --import tsx tests/bench/study.ts: the compared Rosenbrock methods on the reference problem (see work-precision.md).

import { rodas5p } from "../../sim/integrators/rosenbrock-method.ts";
import { StiffSolver } from "../../sim/integrators/stiff.ts";
import { errorAgainst, referenceCase, referenceSolution, runCase, sampleBuffer } from "./cases.ts";
import { rodas3, rodas4, rodas4p, rodas4p2 } from "./methods.ts";
import { leastTime, printRows, type Row } from "./rows.ts";

const reference = referenceSolution(referenceCase);
const { problem, absolute, name } = referenceCase;
const rows: Row[] = [];
for (const method of [rodas5p, rodas4p2, rodas4p, rodas4, rodas3])
  for (const relative of [1e-3, 1e-4, 1e-5, 1e-6]) {
    const tolerances = { relative, absolute: absolute.map((value) => value * relative) };
    const samples = sampleBuffer(referenceCase);
    const solver = new StiffSolver(problem, { tolerances, method });
    if (!runCase(referenceCase, solver, samples)) throw new Error(`${method.name} did not finish`);
    const { steps, rejected, derivatives } = solver.statistics;
    const error = errorAgainst(reference, samples, problem.size);
    const timed = new StiffSolver(problem, { tolerances, method });
    const wallMs = leastTime(() => runCase(referenceCase, timed, samples), 1000);
    rows.push({ problem: name, method: method.name, rtol: relative, error, wallMs, steps, rejected, rhs: derivatives });
  }
printRows(rows);
