// External integrators on the same problems: CVODE in C and SciPy, where this machine has them.

import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type BenchCase, errorAgainst } from "./cases.ts";
import type { Row } from "./rows.ts";

const here = (file: string) => fileURLToPath(new URL(file, import.meta.url));
const sundials = [
  "cvode",
  "nvecserial",
  "sunmatrixdense",
  "sunmatrixsparse",
  "sunlinsoldense",
  "sunlinsolklu",
  "sunnonlinsolfixedpoint",
];

export interface Outside {
  /** Runs a case; undefined where a requirement is missing on this machine. */
  cvode(bench: BenchCase, reference: Float64Array, solver: "dense" | "sparse" | "adams", relative: number): Row | undefined;
  scipy(bench: BenchCase, reference: Float64Array, method: "LSODA" | "Radau", relative: number): Row | undefined;
  close(): void;
}

/** Compiles reference.c and published.c, with harness.c against CVODE and as a library for SciPy. Reports what is missing. */
export function compileOutside(): Outside {
  const folder = mkdtempSync(join(tmpdir(), "bench-"));
  const attempt = (what: string, program: string, args: readonly string[]) => {
    try {
      execFileSync(program, args, { stdio: ["ignore", "ignore", "pipe"] });
      return true;
    } catch {
      console.log(`(${what} not available: ${program} failed)`);
      return false;
    }
  };
  const common = ["-O3", "-march=native", here("reference.c"), here("published.c")];
  const [harness, library] = [join(folder, "harness"), join(folder, "problems.so")];
  const libraries = sundials.map((name) => `-lsundials_${name}`);
  const hasCvode = attempt("CVODE", "cc", [
    ...common,
    here("harness.c"),
    "-I/usr/include/suitesparse",
    "-o",
    harness,
    ...libraries,
    "-lm",
  ]);
  const hasLibrary = attempt("the problems as a library", "cc", [...common, "-shared", "-fPIC", "-o", library, "-lm"]);
  const hasScipy = hasLibrary && attempt("SciPy", "python3", ["-c", "import scipy.integrate"]);

  const row = (
    bench: BenchCase,
    reference: Float64Array,
    method: string,
    relative: number,
    program: string,
    args: string[],
  ): Row => {
    const file = join(folder, "samples");
    const known = { problem: bench.name, method, rtol: relative };
    try {
      const counts = JSON.parse(
        execFileSync(program, [...args, file], { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] }),
      );
      const bytes = readFileSync(file);
      const samples = new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
      return { ...known, error: errorAgainst(reference, samples, bench.problem.size), ...counts };
    } catch {
      return { ...known, error: Number.NaN, wallMs: Number.NaN, steps: 0, rejected: 0, rhs: 0 };
    }
  };
  return {
    cvode: (bench, reference, solver, relative) =>
      hasCvode
        ? row(bench, reference, `CVODE ${solver}`, relative, harness, [
            bench.key,
            solver,
            `${relative}`,
            bench.pulse ? "4" : "200",
          ])
        : undefined,
    scipy: (bench, reference, method, relative) =>
      hasScipy
        ? row(bench, reference, `SciPy ${method}`, relative, "python3", [
            here("scipy-bench.py"),
            library,
            bench.key,
            method,
            `${relative}`,
          ])
        : undefined,
    close: () => rmSync(folder, { recursive: true }),
  };
}
