// The output points of a run, read from the steps the solver takes anyway.
import type { AcceptedStep } from "../../../sim/integrators/integrator.ts";
import { type SolidsInventory, solidsNow } from "./pads-and-sediment.ts";
import type { RunState } from "./run-state.ts";

/** What is kept at each output point: state, pH and temperature of each cell, chloride, the food given at the time, and what lies where. */
export class Samples {
  readonly days: number[] = [];
  readonly states: Float64Array[] = [];
  readonly ph: Float64Array[] = [];
  readonly temperatures: (readonly number[])[] = [];
  readonly chloride: number[] = [];
  readonly foodGPerDay: number[] = [];
  readonly solidsInventory: SolidsInventory[] = [];
  private readonly runState: RunState;
  private readonly foodNow: () => number;
  private readonly spacing: number;
  private readonly scratch: Float64Array;
  private next = 0;

  constructor(runState: RunState, foodNow: () => number, perDay: number) {
    this.runState = runState;
    this.foodNow = foodNow;
    this.spacing = 1 / perDay;
    this.scratch = new Float64Array(runState.y.length);
  }

  /** Keeps the output points that lie in a step, up to but without the time at which something is done next. */
  read(step: AcceptedStep, until: number): void {
    for (; this.next <= step.t1 && this.next < until; this.next += this.spacing) {
      if (this.next < step.t0) continue;
      step.at(this.next, this.scratch);
      this.keep(this.next, this.scratch);
    }
  }

  keep(day: number, state: Float64Array): void {
    const { aquarium, operating, chlorideGPerM3 } = this.runState;
    const ph = new Float64Array(aquarium.cells.length);
    aquarium.system.ph(state, ph);
    this.days.push(day);
    this.states.push(Float64Array.from(state));
    this.ph.push(ph);
    this.temperatures.push([...operating.temperatureC]);
    this.chloride.push(chlorideGPerM3);
    this.foodGPerDay.push(this.foodNow());
    this.solidsInventory.push(solidsNow(aquarium, operating, state));
  }
}
