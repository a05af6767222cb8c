// State of an aquarium at one time of a run.
import type { SolidsState } from "../reactor/solids.ts";
import type { OperatingState } from "./operating-state.ts";

/** A state vector with its operating state: sufficient for queries about bacteria or water. */
export interface SampledState {
  readonly y: Float64Array;
  readonly operating: OperatingState;
}

/** Everything that another run needs to continue. */
export interface Snapshot extends SampledState {
  readonly day: number;
  readonly chlorideGPerM3: number;
  readonly solids: SolidsState;
}
