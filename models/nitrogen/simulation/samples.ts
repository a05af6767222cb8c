// The output points of a run, taken from the accepted steps of the solver.
import type { AcceptedStep } from "../../../sim/integrators/integrator.ts";
import { type SolidsInventory, solidsNow } from "../operation/pads-and-sediment.ts";
import type { RunState } from "../operation/run-state.ts";
import type { OperatingState } from "../tank/operating-state.ts";

/** One entry per output point. */
export class Samples {
  readonly days: number[] = [];
  readonly states: Float64Array[] = [];
  readonly operating: OperatingState[] = [];
  /** pH of each cell. */
  readonly ph: Float64Array[] = [];
  readonly chloride: number[] = [];
  readonly foodGPerDay: number[] = [];
  readonly solidsInventory: SolidsInventory[] = [];
  private readonly run: RunState;
  private readonly foodNow: () => number;
  private readonly spacing: number;
  private readonly scratch: Float64Array;
  private next = 0;

  constructor(run: RunState, foodNow: () => number, perDay: number) {
    this.run = run;
    this.foodNow = foodNow;
    this.spacing = 1 / perDay;
    this.scratch = new Float64Array(run.y.length);
  }

  /** Records the output points within a step, up to the time of the next event, which is excluded. */
  read(step: AcceptedStep, until: number): void {
    for (; this.next <= step.t1 && this.next < until; this.next += this.spacing) {
      if (this.next < step.t0) continue;
      step.at(this.next, this.scratch);
      this.keep(this.next, this.scratch);
    }
  }

  keep(day: number, state: Readonly<Float64Array>): void {
    const { aquarium, system, operating, solids, chlorideGPerM3 } = this.run;
    const ph = new Float64Array(aquarium.cells.length);
    system.ph(state, ph);
    this.days.push(day);
    this.states.push(Float64Array.from(state));
    this.operating.push(operating);
    this.ph.push(ph);
    this.chloride.push(chlorideGPerM3);
    this.foodGPerDay.push(this.foodNow());
    this.solidsInventory.push(solidsNow(aquarium, { y: state, operating }, solids));
  }
}
