// An aquarium at one moment of a run.
import type { SolidsState } from "../reactor/solids.ts";
import type { OperatingState } from "./operating-state.ts";

/** A state vector and how the aquarium was operated then: all that a question about its bacteria or its water needs. */
export interface Moment {
  readonly y: Float64Array;
  readonly operating: OperatingState;
}

/** All that another run can begin with. */
export interface Snapshot extends Moment {
  readonly day: number;
  readonly chlorideGPerM3: number;
  readonly solids: SolidsState;
}
