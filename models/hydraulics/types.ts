// Results of the hydraulic model as plain, JSON-able data in SI units, for the drawing, the findings and the nitrogen model.
// Elevations `z` are in metres above the inside bottom of the sump. Times are in seconds from the start of the transient.

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
  | "reactor"
  | "sock"
  | "reservoir"
  | "floor"
  | "air";

/** A vessel as the page draws it. */
export interface VesselView {
  readonly id: string;
  readonly name: string;
  readonly kind: VesselKind;
  /** Id of the part of the rig (display, tower, overflow, chamber, nozzle); "" for floor, air, reservoir. */
  readonly partOf: string;
  readonly bottomZ: number;
  /** Elevation at which it spills; null when it cannot spill. */
  readonly rimZ: number | null;
  /** Plan area at the bottom [m²], displacements included. */
  readonly areaM2: number;
}

export interface LinkView {
  readonly id: string;
  /** Plain words, for example "weir of the left overflow". */
  readonly name: string;
  readonly from: string;
  readonly to: string;
}

export interface HydraulicEvent {
  readonly tS: number;
  readonly id: string;
  /** Plain words, for example "siphon-break hole takes air". */
  readonly label: string;
}

/** Samples of a transient, at most 400, extremes included. Every array has the length of `timesS`. */
export interface Trace {
  readonly timesS: readonly number[];
  /** Water elevation [m], by vessel id. */
  readonly levelsZ: Readonly<Record<string, readonly number[]>>;
  readonly volumesM3: Readonly<Record<string, readonly number[]>>;
  /** Flow, positive from -> to [m³/s], by link id. */
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
  /** The pump draws air: the inflow limits its flow, and the level oscillates about the intake. */
  | "hunting"
  /** The time limit was reached; `endingNote` says what was still moving. */
  | "still moving"
  /** The integrator failed; `endingNote` says why. */
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
  /** Time after which every level stays within 1 mm of its last value [s]. */
  readonly settledS: number;
  readonly startVolumesM3: Readonly<Record<string, number>>;
  readonly endVolumesM3: Readonly<Record<string, number>>;
  readonly highestZ: Readonly<Record<string, Extreme>>;
  readonly lowestZ: Readonly<Record<string, Extreme>>;
  readonly spills: readonly Spill[];
  readonly spilledM3: number;
  /**
   * Column-stochastic, in the order of `vessels`: transfer[i][j] is the share of the water initially in vessel j that
   * ends in vessel i; null when not requested.
   */
  readonly transfer: readonly (readonly number[])[] | null;
  /** Largest drift of the total water volume during the run [m³]. */
  readonly waterDriftM3: number;
  readonly statistics: { readonly steps: number; readonly derivatives: number; readonly rejected: number };
}

/** One contribution to the head of the pump. */
export interface HeadPiece {
  readonly name: string;
  readonly headM: number;
  /** Source of the loss coefficient. */
  readonly source: string;
}

export interface WeirReading {
  readonly overflowId: string;
  readonly headM: number;
  readonly flowM3PerS: number;
  /** Head below 30 mm: outside the stated range of thin-plate weir formulas. */
  readonly outsideStatedRange: boolean;
  /** Half-width of the uncertainty of the head [m], which verdicts include. */
  readonly headUncertaintyM: number;
}

export interface DrainReading {
  readonly drainId: string;
  readonly overflowId: string;
  readonly flowM3PerS: number;
  /** Water velocity if the pipe ran full [m/s]. */
  readonly velocityMPerS: number;
  /** Largest flow before its box backs up to the weir crest [m³/s]. */
  readonly capacityM3PerS: number;
  /** Largest flow as a full siphon with a drowned mouth [m³/s]. */
  readonly siphonCapacityM3PerS: number;
  /** Largest vented flow, a third full, by the stack rule [m³/s]. */
  readonly ventedCapacityM3PerS: number;
  /** (capacity - flow) / flow; null when idle. */
  readonly spareShare: number | null;
  readonly runsFull: boolean;
}

export interface SiphonReading {
  readonly overflowId: string;
  readonly primed: boolean;
  readonly velocityMPerS: number;
  /** Below this velocity, bubbles collect at the crown and the siphon loses its prime in time [m/s]. */
  readonly clearingVelocityMPerS: number;
}

/** The system in its steady running state. */
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
  /** Contributions to the head on the path to the nozzle with the highest flow; they sum to the pump's head. */
  readonly headBudget: readonly HeadPiece[];
  /** Gain in flow if each pair of quarter bends were one return bend [m³/s]; null where only a verdict was requested. */
  readonly gainFromReturnBendM3PerS: number | null;
  readonly returnVelocityMPerS: number;
  readonly nozzles: readonly { readonly id: string; readonly flowM3PerS: number; readonly velocityMPerS: number }[];
  readonly weirs: readonly WeirReading[];
  readonly drains: readonly DrainReading[];
  readonly siphons: readonly SiphonReading[];
  readonly systemVolumeM3: number;
  /** Number of system volumes through the return pump per hour. */
  readonly turnoverPerHour: number;
  /** Share of the flow that bypasses the media of each tower. */
  readonly bypassShare: Readonly<Record<string, number>>;
  readonly balanced: boolean;
  readonly warnings: readonly string[];
}

export type VerdictWord = "HOLDS" | "TIGHT" | "FLOODS";

export interface Verdict {
  readonly word: VerdictWord;
  /** Smallest distance from any level to its rim during the whole run [m]; a spill counts as 0. */
  readonly marginM: number;
  /** Possible reduction of the margin because a weir runs at a head outside the range of every formula [m]. */
  readonly marginUncertaintyM: number;
  /** Id of the vessel with that smallest distance. */
  readonly marginVesselId: string;
  /** Spare volume below the rim relative to the volume that arrived there; null when none arrived. */
  readonly spareShare: number | null;
  readonly floorM3: number;
  /** Id of the vessel that spilled most; null when none. */
  readonly spillVesselId: string | null;
  /** Time from the start of the stage to the first drop over a rim [s]; null when there is none. */
  readonly firstSpillS: number | null;
  readonly spillStage: "running" | "power cut" | "restart" | null;
  /** A sealing check valve would improve it; the verdict is that with a leaking valve. */
  readonly onlyIfValveSeals: boolean;
  /** Conditions that are not a flood but not acceptable either: "pump draws air", "display stands high". */
  readonly warnings: readonly string[];
}

/** Running -> (fault begins) -> outage -> rest -> restart -> steady. */
export interface OutageRun {
  readonly faults: readonly FaultId[];
  readonly running: RunningState;
  /** Transient between the fault and the outage; null when nothing moves. */
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
  | "main pump stands"
  | "other pump stands"
  | "reactor outlet blocked"
  | "reactor lid leaks"
  | "box seam leaks"
  | "siphon lost prime"
  | "hose off"
  | "reservoir dumped"
  | "evaporated"
  | "prefilter blinded"
  | "sock blinded"
  | "tray clogged"
  | "weir matted"
  | "pump does not restart"
  | "valve left closed"
  | "bulkhead drips";

export interface Fault {
  readonly id: FaultId;
  /** For example "snail or salt in the siphon-break hole". */
  readonly name: string;
  readonly changes: string;
  /** 1 rare, 2 possible, 3 expected. */
  readonly ordinary: 1 | 2 | 3;
}

export interface FaultCell {
  readonly faults: readonly FaultId[];
  readonly verdict: Verdict;
  readonly restEndZ: Readonly<Record<string, number>>;
}

export interface FaultMatrix {
  readonly faults: readonly Fault[];
  /** Without a fault. */
  readonly plain: FaultCell;
  readonly singles: readonly FaultCell[];
  readonly pairs: readonly FaultCell[];
  /** The pair, among faults with ordinary >= 2, with most water on the floor, then with the smallest margin. */
  readonly worstOrdinaryPair: FaultCell | null;
  /** True when the rig has a check valve: every cell also ran with it leaking, and the worse result was kept. */
  readonly checkValveDistrusted: boolean;
}

/**
 * A drain that closes at full flow: another drain takes the water, the pump runs dry while the floor stays dry, or the
 * display spills.
 */
export interface BlockedDrain {
  readonly outcome: "carried" | "runs dry" | "spills";
  readonly floorM3: number;
  readonly firstSpillS: number | null;
}

export interface Fuse extends BlockedDrain {
  readonly display: string;
  /** Water that the pump can move before it draws air [m³]. */
  readonly aboveIntakeM3: number;
  /** Free volume of the display up to its rim [m³]. */
  readonly headroomM3: number;
}

/** Effect of a siphon-break hole that takes air during an outage. */
export interface BreakHole {
  readonly nozzle: string;
  readonly display: string;
  readonly diameterM: number;
  readonly count: number;
  /** Volume share of air in the siphon with the holes fully open, if all of it is carried along. */
  readonly airShare: number;
  /**
   * Velocity of the reverse flow when the hole is uncovered, in the falling pipe [m/s], and the velocity from which it
   * carries air down.
   */
  readonly velocityMPerS: number;
  readonly clearingVelocityMPerS: number;
  /** Diameter, for the same number of holes, with which the siphon breaks in the unfavourable case too [m]. */
  readonly wantedDiameterM: number;
  /** breaks: in both limiting cases of the air's behaviour; may not break: in the favourable case only. */
  readonly outcome: "breaks" | "may not break" | "does not break";
  /** The same outage if it breaks; null where that is the reported case, or where it does not break. */
  readonly ifItBreaks: { readonly verdict: Verdict; readonly downM3: number } | null;
}

/** Fill levels of the return chamber, as heights above the sump bottom [m]. */
export interface FillMarks {
  readonly runningNowM: number;
  /** Highest running level that leaves 25 mm after an outage, with working break holes; null when no level does. */
  readonly maxTrustedM: number | null;
  readonly maxUntrustedM: number | null;
  /** Lowest running level at which the pump does not draw air, running and at restart; null where it never runs steadily. */
  readonly minM: number | null;
  /** Level in the return chamber after an outage that begins at the present level. */
  readonly offM: number;
  /** For each display, what happens when its main drain closes while the pump runs. */
  readonly fuses: readonly Fuse[];
  readonly display: readonly { readonly id: string; readonly runZ: number; readonly stopZ: number; readonly rimZ: number }[];
}

export interface Remedy {
  readonly id: string;
  /** For example "run the return chamber no higher than {value}"; "{value}" stands for the new value. */
  readonly what: string;
  readonly value: number | null;
  readonly unit: "m" | "m2" | "m3" | "";
  /** Rank by ease, 1 = easiest. */
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

/** Quasi-steady simulation over days: the steady running state is solved again as water evaporates and is topped up. */
export interface SlowDrift {
  readonly daysD: readonly number[];
  readonly returnLevelM: readonly number[];
  readonly displayZ: Readonly<Record<string, readonly number[]>>;
  readonly reservoirM3: readonly number[];
  readonly salinityGPerKg: readonly number[];
  readonly evaporatedM3: readonly number[];
  /** Days until the pump draws air, and until the reservoir is empty; null when beyond the simulated time. */
  readonly pumpDrawsAirD: number | null;
  readonly reservoirEmptyD: number | null;
  readonly evaporationM3PerS: number;
}
