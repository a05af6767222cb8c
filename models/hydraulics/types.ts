// What the hydraulic model hands out: plain, JSON-able data in SI units, for the drawing, the findings and the nitrogen model.
// Elevations `z` are metres above the inside bottom of the sump. Times are seconds from the start of the transient.

export type VesselKind =
  | "display"
  | "cup"
  | "box"
  | "drain pipe"
  | "return pipe"
  | "prefilter"
  | "tray"
  | "media"
  | "chamber"
  | "reservoir"
  | "floor"
  | "air";

/** A body of water as the page may draw it. */
export interface VesselView {
  readonly id: string;
  readonly name: string;
  readonly kind: VesselKind;
  /** The part of the rig it belongs to: display id, tower id, overflow id, chamber id, nozzle id; "" for floor, air, reservoir. */
  readonly partOf: string;
  readonly bottomZ: number;
  /** Where it spills; null when it cannot spill. */
  readonly rimZ: number | null;
  /** Plan area at the bottom [m2]; displacements are not taken off. */
  readonly areaM2: number;
}

export interface LinkView {
  readonly id: string;
  /** Plain words: "weir of the left overflow". */
  readonly name: string;
  readonly from: string;
  readonly to: string;
}

export interface HydraulicEvent {
  readonly tS: number;
  readonly id: string;
  /** Plain words: "siphon-break hole takes air". */
  readonly label: string;
}

/** Samples of a transient, at most 400, extremes kept. Every array is as long as `timesS`. */
export interface Trace {
  readonly timesS: readonly number[];
  /** Water elevation by vessel id [m]. */
  readonly levelsZ: Readonly<Record<string, readonly number[]>>;
  readonly volumesM3: Readonly<Record<string, readonly number[]>>;
  /** Flow by link id, positive from -> to [m3/s]. */
  readonly flowsM3PerS: Readonly<Record<string, readonly number[]>>;
}

export interface Extreme {
  readonly z: number;
  readonly tS: number;
}

/** Water that went over a rim or out of a hole onto the floor. */
export interface Spill {
  readonly vesselId: string;
  readonly volumeM3: number;
  readonly firstS: number;
  readonly lastS: number;
}

export type Ending =
  /** No flow anywhere. */
  | "at rest"
  /** Flows constant, levels constant. */
  | "steady"
  /** The pump draws air: flow limited by what reaches it, level hunting about the intake. */
  | "hunting"
  /** The time allowed ran out; `endingNote` says what was still moving. */
  | "still moving"
  /** The integrator gave up; `endingNote` says why. */
  | "failed";

export interface Transient {
  readonly kind: "power cut" | "restart" | "fault while running" | "flicker" | "slow";
  readonly vessels: readonly VesselView[];
  readonly links: readonly LinkView[];
  readonly durationS: number;
  readonly trace: Trace;
  readonly events: readonly HydraulicEvent[];
  readonly ending: Ending;
  readonly endingNote: string;
  /** When every level had come within 1 mm of its last value [s]. */
  readonly settledS: number;
  readonly startVolumesM3: Readonly<Record<string, number>>;
  readonly endVolumesM3: Readonly<Record<string, number>>;
  readonly highestZ: Readonly<Record<string, Extreme>>;
  readonly lowestZ: Readonly<Record<string, Extreme>>;
  readonly spills: readonly Spill[];
  readonly spilledM3: number;
  /** Column-stochastic: transfer[i][j] is the share of the water first in vessel j that ends in vessel i, in the order of `vessels`; null when not asked for. */
  readonly transfer: readonly (readonly number[])[] | null;
  /** Largest drift of the total water during the run [m3]. */
  readonly waterDriftM3: number;
  readonly statistics: { readonly steps: number; readonly derivatives: number; readonly rejected: number };
}

/** One piece of the head that the pump works against. */
export interface HeadPiece {
  readonly name: string;
  readonly headM: number;
  /** Source of the loss figure. */
  readonly source: string;
}

export interface WeirReading {
  readonly overflowId: string;
  readonly headM: number;
  readonly flowM3PerS: number;
  /** Head below 30 mm: outside the stated range of thin-plate weir formulas. */
  readonly outsideStatedRange: boolean;
  /** Half-width of the band on the head [m] that verdicts must allow for. */
  readonly headUncertaintyM: number;
}

export interface DrainReading {
  readonly drainId: string;
  readonly overflowId: string;
  readonly flowM3PerS: number;
  /** Water velocity if the pipe ran full [m/s]. */
  readonly velocityMPerS: number;
  /** Most it passes before its box backs up to the weir crest [m3/s]. */
  readonly capacityM3PerS: number;
  /** Most it passes as a full siphon, its mouth drowned [m3/s]. */
  readonly siphonCapacityM3PerS: number;
  /** Most it passes vented, third full, by the stack rule [m3/s]. */
  readonly ventedCapacityM3PerS: number;
  /** (capacity - flow) / flow; null when idle. */
  readonly spareShare: number | null;
  readonly runsFull: boolean;
}

export interface SiphonReading {
  readonly overflowId: string;
  readonly primed: boolean;
  readonly velocityMPerS: number;
  /** Below this, bubbles gather at the crown and the prime is lost in time [m/s]. */
  readonly clearingVelocityMPerS: number;
}

/** The system running in balance. */
export interface RunningState {
  readonly vessels: readonly VesselView[];
  readonly links: readonly LinkView[];
  readonly levelsZ: Readonly<Record<string, number>>;
  readonly volumesM3: Readonly<Record<string, number>>;
  readonly flowsM3PerS: Readonly<Record<string, number>>;
  readonly pump: {
    readonly flowM3PerS: number;
    readonly headM: number;
    readonly drawsAir: boolean;
    readonly shutOffHeadM: number;
  };
  /** Pieces of the head on the way to the highest-flow nozzle; they sum to the pump's head. */
  readonly headBudget: readonly HeadPiece[];
  /** Flow gained if each pair of quarter bends were one return bend [m3/s]; null where only a verdict was asked for. */
  readonly gainFromReturnBendM3PerS: number | null;
  readonly returnVelocityMPerS: number;
  readonly nozzles: readonly { readonly id: string; readonly flowM3PerS: number; readonly velocityMPerS: number }[];
  readonly weirs: readonly WeirReading[];
  readonly drains: readonly DrainReading[];
  readonly siphons: readonly SiphonReading[];
  readonly systemVolumeM3: number;
  /** System volumes through the return pump per hour. */
  readonly turnoverPerHour: number;
  /** Share of the flow that spills past the media of each tower. */
  readonly bypassShare: Readonly<Record<string, number>>;
  readonly balanced: boolean;
  readonly warnings: readonly string[];
}

export type VerdictWord = "HOLDS" | "TIGHT" | "FLOODS";

export interface Verdict {
  readonly word: VerdictWord;
  /** Smallest distance from any level to its rim, over the whole story [m]; negative never: a spill counts as 0. */
  readonly marginM: number;
  /** How much less it may be because a weir runs at a head where no formula is stated to hold [m]. */
  readonly marginUncertaintyM: number;
  /** Vessel with that smallest distance. */
  readonly marginVesselId: string;
  /** Spare volume below the rim over the volume that arrived there [share]; null when nothing arrived. */
  readonly spareShare: number | null;
  readonly floorM3: number;
  /** Vessel that let go of most of it; null when none. */
  readonly spillVesselId: string | null;
  /** Seconds from the start of the stage to the first drop over a rim; null when none. */
  readonly firstSpillS: number | null;
  readonly spillStage: "running" | "power cut" | "restart" | null;
  /** A check valve that sealed would make it better; the verdict is that of the valve leaking. */
  readonly onlyIfValveSeals: boolean;
  /** Conditions that are no flood but not acceptable either: "pump draws air", "display stands high". */
  readonly warnings: readonly string[];
}

/** Running -> (fault takes hold) -> power cut -> rest -> restart -> steady. */
export interface OutageRun {
  readonly faults: readonly FaultId[];
  readonly running: RunningState;
  /** What happens between the fault and the cut; null when nothing moves. */
  readonly faultWhileRunning: Transient | null;
  readonly cut: Transient;
  readonly restart: Transient | null;
  readonly verdict: Verdict;
}

export type FaultId =
  | "break hole blocked"
  | "check valve leaks"
  | "outlet blocked"
  | "overfilled"
  | "nozzle knocked down"
  | "drain half blocked"
  | "drain blocked"
  | "standpipe lost"
  | "box seam leaks"
  | "siphon lost prime"
  | "hose off"
  | "reservoir dumped"
  | "evaporated"
  | "prefilter blinded"
  | "tray clogged"
  | "weir matted"
  | "pump does not restart"
  | "valve left closed"
  | "bulkhead drips";

export interface Fault {
  readonly id: FaultId;
  /** "snail or salt in the siphon-break hole". */
  readonly name: string;
  readonly changes: string;
  /** 1 rare, 2 happens, 3 expect it. */
  readonly ordinary: 1 | 2 | 3;
}

export interface FaultCell {
  readonly faults: readonly FaultId[];
  readonly verdict: Verdict;
  readonly restEndZ: Readonly<Record<string, number>>;
}

export interface FaultMatrix {
  readonly faults: readonly Fault[];
  /** No fault. */
  readonly plain: FaultCell;
  readonly singles: readonly FaultCell[];
  readonly pairs: readonly FaultCell[];
  /** Most water on the floor, then smallest margin, among pairs of faults with ordinary >= 2. */
  readonly worstOrdinaryPair: FaultCell | null;
  /** True when the rig has a check valve: every cell was also run with it leaking and the worse one kept. */
  readonly checkValveDistrusted: boolean;
}

/** A drain that closes at full flow: another drain carries the water, the pump runs dry with the floor dry, or the display spills. */
export interface BlockedDrain {
  readonly outcome: "carried" | "runs dry" | "spills";
  readonly floorM3: number;
  readonly firstSpillS: number | null;
}

export interface Fuse extends BlockedDrain {
  readonly display: string;
  /** Water the pump can move before it draws air [m3]. */
  readonly aboveIntakeM3: number;
  /** Room in the display up to its rim [m3]. */
  readonly headroomM3: number;
}

/** What a siphon-break hole does when it takes air in a power cut. */
export interface BreakHole {
  readonly nozzle: string;
  readonly display: string;
  readonly diameterM: number;
  readonly count: number;
  /** Share of air in the siphon with the holes wide open, all of it carried along. */
  readonly airShare: number;
  /** Speed of the water running back when the hole is bared, in the pipe it falls through [m/s], and that from which it sweeps air down. */
  readonly velocityMPerS: number;
  readonly clearingVelocityMPerS: number;
  /** Diameter, for as many holes, with which it breaks at the bad end too [m]. */
  readonly wantedDiameterM: number;
  /** breaks: at both ends of what the air may do; may not break: at the good end only. */
  readonly outcome: "breaks" | "may not break" | "does not break";
  /** The same cut if it does; null where that is what was told, or where it does not. */
  readonly ifItBreaks: { readonly verdict: Verdict; readonly downM3: number } | null;
}

/** Marks for the glass of the return chamber, heights above the sump bottom [m]. */
export interface FillMarks {
  readonly runningNowM: number;
  /** Highest running level with 25 mm to spare after a cut, break holes trusted; null when no level does. */
  readonly maxTrustedM: number | null;
  readonly maxUntrustedM: number | null;
  /** Lowest running level at which the pump does not draw air, running and at restart; null where it never runs steadily. */
  readonly minM: number | null;
  /** Level in the return chamber after a cut, from the level now. */
  readonly offM: number;
  /** For each display: what comes of its main drain closing while the pump runs on. */
  readonly fuses: readonly Fuse[];
  readonly display: readonly { readonly id: string; readonly runZ: number; readonly stopZ: number; readonly rimZ: number }[];
}

export interface Remedy {
  readonly id: string;
  /** "run the sump at 218 mm or lower". The number is also in `value`. */
  readonly what: string;
  readonly value: number | null;
  readonly unit: "m" | "m2" | "m3" | "";
  /** 1 easiest. */
  readonly ease: number;
  readonly holds: boolean;
  readonly verdict: Verdict;
}

export interface SizingCheck {
  readonly id: string;
  readonly rule: string;
  readonly evidence: "common practice" | "published";
  readonly have: number;
  readonly want: number;
  readonly unit: string;
  readonly met: boolean;
  readonly note: string;
}

export interface FitAndLoad {
  readonly fit: readonly { readonly part: string; readonly fits: boolean; readonly spareM: number; readonly note: string }[];
  readonly masses: readonly { readonly part: string; readonly kg: number }[];
  readonly wetMassKg: number;
  readonly footprintM2: number | null;
  readonly pressureKPa: number | null;
  readonly pressureLbPerFt2: number | null;
  readonly advice: string;
}

/** Days, quasi-steady: the running balance is solved anew as water evaporates and is topped up. */
export interface SlowDrift {
  readonly daysD: readonly number[];
  readonly returnLevelM: readonly number[];
  readonly displayZ: Readonly<Record<string, readonly number[]>>;
  readonly reservoirM3: readonly number[];
  readonly salinityGPerKg: readonly number[];
  readonly evaporatedM3: readonly number[];
  /** Days until the pump draws air, and until the reservoir is empty; null when not within the span. */
  readonly pumpDrawsAirD: number | null;
  readonly reservoirEmptyD: number | null;
  readonly evaporationM3PerS: number;
}
