// An aquarium at one moment.
import type { Upkeep } from "./operating-state.ts";

/** What a run can go on from. */
export interface Snapshot {
  readonly day: number;
  readonly y: Float64Array;
  readonly upkeep: Upkeep;
  readonly chlorideGPerM3: number;
}
