// An aquarium at one moment.
import type { OperatingState } from "./operating-state.ts";

/** What a run can go on from. */
export interface Snapshot {
  readonly day: number;
  readonly y: Float64Array;
  readonly operating: OperatingState;
  readonly chlorideGPerM3: number;
}
