// One measurement of the benchmarks, and the comparison and printing of measurements.

export interface Row {
  readonly problem: string;
  readonly method: string;
  readonly rtol: number;
  /** Largest error of the sampled states; NaN when the run failed. */
  readonly error: number;
  readonly wallMs: number;
  readonly steps: number;
  readonly rejected: number;
  readonly rhs: number;
}

/**
 * Wall time at which a method reaches an error, by linear interpolation between its rows in log-log scale; undefined outside
 * the range of its errors.
 */
export function wallAtError(rows: readonly Row[], error: number): number | undefined {
  const points = rows
    .filter((row) => row.error > 0)
    .map((row) => [Math.log(row.error), Math.log(row.wallMs)] as const)
    .sort((a, b) => a[0] - b[0]);
  const wanted = Math.log(error);
  for (let k = 1; k < points.length; k++) {
    const [[e0, w0], [e1, w1]] = [points[k - 1], points[k]];
    if (wanted >= e0 && wanted <= e1) return Math.exp(w0 + ((w1 - w0) * (wanted - e0)) / (e1 - e0 || 1));
  }
  return undefined;
}

/** Shortest wall time of repeated runs [ms], after a warm-up; stops after `budgetMs`. */
export function leastTime(run: () => void, budgetMs: number): number {
  const begun = performance.now();
  let best = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 5 || (k < 400 && performance.now() - begun < budgetMs); k++) {
    const start = performance.now();
    run();
    best = Math.min(best, performance.now() - start);
  }
  return best;
}

export function printRows(rows: readonly Row[]): void {
  const head = ["problem", "method", "rtol", "error", "wall ms", "steps", "rejected", "rhs"];
  const lines = rows.map((row) => [
    row.problem,
    row.method,
    row.rtol.toExponential(0),
    Number.isFinite(row.error) ? row.error.toExponential(1) : "gave up",
    row.wallMs.toFixed(row.wallMs < 10 ? 3 : 1),
    `${row.steps}`,
    `${row.rejected}`,
    `${row.rhs}`,
  ]);
  const widths = head.map((title, i) => Math.max(title.length, ...lines.map((line) => line[i].length)));
  for (const line of [head, ...lines])
    console.log(line.map((cell, i) => (i < 2 ? cell.padEnd(widths[i]) : cell.padStart(widths[i]))).join("  "));
}
