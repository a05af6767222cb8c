// Dense output of an accepted step of a Rosenbrock method.

import type { AcceptedStep } from "./integrator.ts";
import type { RosenbrockMethod } from "./rosenbrock-method.ts";

/** The accepted step as its observer sees it; the coefficients of the dense output are computed on first use. */
export class RosenbrockStep implements AcceptedStep {
  t0 = 0;
  t1 = 0;
  y0: Float64Array;
  readonly y1: Float64Array;
  private ready = false;
  private readonly method: RosenbrockMethod;
  private readonly stages: readonly Float64Array[];
  private readonly rows: readonly Float64Array[];

  /** @param stages and y1 are the integrator's own arrays (length size each), which it fills before each `accept` */
  constructor(method: RosenbrockMethod, stages: readonly Float64Array[], y1: Float64Array) {
    this.method = method;
    this.stages = stages;
    this.y0 = y1;
    this.y1 = y1;
    this.rows = method.dense.map(() => new Float64Array(y1.length));
  }

  accept(t0: number, t1: number, y0: Float64Array): this {
    this.t0 = t0;
    this.t1 = t1;
    this.y0 = y0;
    this.ready = false;
    return this;
  }

  at(t: number, out: Float64Array): void {
    const { rows, y0, y1 } = this;
    if (!this.ready) this.formRows();
    const s = (t - this.t0) / (this.t1 - this.t0);
    for (let n = 0; n < out.length; n++) {
      let curve = 0;
      for (let m = rows.length - 1; m >= 0; m--) curve = rows[m][n] + s * curve;
      out[n] = (1 - s) * y0[n] + s * (y1[n] + (1 - s) * curve);
    }
  }

  private formRows(): void {
    this.rows.forEach((row, m) => {
      row.fill(0);
      this.method.dense[m].forEach((weight, j) => {
        const stage = this.stages[j];
        for (let n = 0; n < row.length; n++) row[n] += weight * stage[n];
      });
    });
    this.ready = true;
  }
}
