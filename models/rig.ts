// What is built, as a builder would draw it. Plain data in SI units, without behaviour and independent of the file
// format. Elevations named `...Z` are in metres above the inside bottom of the sump; heights named `...M` are above the
// part's own bottom.

export interface Fittings {
  /** Quarter bends in the run, by count. */
  readonly bends90: number;
  readonly bends45: number;
  /** One-piece return bends of 180 degrees. */
  readonly bends180: number;
  readonly tees: number;
  readonly unions: number;
  /** Any further loss coefficients, summed. */
  readonly extraK: number;
}

/** An object that displaces water in a vessel between two heights (rock, a pump, a box inside the tank). */
export interface Displacement {
  readonly fromM: number;
  readonly toM: number;
  readonly areaM2: number;
}

export interface OverflowBox {
  readonly planAreaM2: number;
  /** Inside depth of the box from its floor to its rim [m]. */
  readonly depthM: number;
  /** Elevation of the box floor. */
  readonly floorZ: number;
  /** Whether it stands in the water of the tank. */
  readonly inside: boolean;
  /** Box level that the installer sets while running, by throttling a full-siphon drain; null = determined by the drain. */
  readonly runningLevelM: number | null;
}

/** Tubes that siphon water from the display over the glass into a box outside. */
export interface SiphonTubes {
  readonly count: number;
  readonly boreM: number;
  readonly lengthM: number;
  readonly crownZ: number;
  /** Elevations of the inlet end in the display-side cup and of the outlet end in the outer box. */
  readonly inletZ: number;
  readonly outletZ: number;
  /** Whether both ends stay submerged when the pump stops, so that the siphon restarts by itself. */
  readonly startsPrimed: boolean;
}

export type DrainKind = "open" | "throttled siphon" | "dry emergency";

export interface Drain {
  readonly id: string;
  /**
   * open: water and air together; throttled siphon: runs full, valve set for the flow; dry emergency: idle until the level
   * rises.
   */
  readonly kind: DrainKind;
  readonly boreM: number;
  /** Height of the pipe inlet above the floor of the vessel it drains. */
  readonly inletM: number;
  readonly lengthM: number;
  readonly roughnessM: number;
  readonly fittings: Fittings;
  /** Open share of the bore, 1 = clear. */
  readonly openShare: number;
  /** Destination: a tower id or a sump chamber id. */
  readonly to: string;
  readonly outletZ: number;
}

export interface Overflow {
  readonly id: string;
  /**
   * drilled: weir cut into the glass or an internal box; hang-on: box outside, fed by siphon tubes; standpipe: no box, the
   * drains are pipes in the tank and their mouths are the overflow edge.
   */
  readonly kind: "drilled" | "hang-on" | "standpipe";
  /** Elevation of the weir crest, or of the mouth of the standpipe. */
  readonly crestZ: number;
  readonly weirLengthM: number;
  /** Share of the weir length that is open between the teeth (1 = no teeth). */
  readonly openShare: number;
  readonly box: OverflowBox;
  readonly siphon: SiphonTubes | null;
  readonly drains: readonly Drain[];
  /**
   * A seam of the box that lets water of the tank into it, or a bulkhead of the box that lets its water out; null = tight.
   */
  readonly leak: { readonly areaM2: number; readonly z: number; readonly to: "box" | "floor" } | null;
}

export interface Display {
  readonly id: string;
  readonly name: string;
  /** Inner plan dimensions. */
  readonly lengthM: number;
  readonly widthM: number;
  /** Inner height, bottom to rim. */
  readonly heightM: number;
  readonly glassM: number;
  readonly wallMaterial: "glass" | "acrylic";
  readonly bottomZ: number;
  readonly displacements: readonly Displacement[];
  readonly lid: "open" | "covered";
  readonly overflows: readonly Overflow[];
}

export type Distribution = "drip plate" | "fixed spray" | "rotating arm" | "one-sided";

export interface Prefilter {
  /** Grade of the pad by the particle size it retains: coarse foam, floss or fine felt. */
  readonly grade: "coarse" | "medium" | "fine";
  readonly areaM2: number;
  readonly thicknessM: number;
  /** Share of the pad that is clogged at the start, 0-1. */
  readonly blindedShare: number;
  /** Destination of water that bypasses a clogged pad. */
  readonly spillsTo: "media" | "past the media" | "floor";
}

export interface TowerTray {
  readonly depthM: number;
  readonly holes: number;
  readonly holeDiameterM: number;
  /** Where the tray overflows when its holes clog. */
  readonly spillsTo: "past the media" | "floor";
}

export interface Tower {
  readonly id: string;
  readonly lengthM: number;
  readonly widthM: number;
  /** Depth of the media above the grate. */
  readonly mediaDepthM: number;
  /** Elevation of the grate. */
  readonly grateZ: number;
  readonly media: {
    readonly kind: string;
    readonly specificSurfaceM2PerM3: number;
    readonly voidShare: number;
    /** Nominal size of a piece, for packing correlations. */
    readonly pieceM: number;
  };
  readonly distribution: Distribution;
  /** Wetted share of the media, 0-1, if the user measured or assumes it; null = computed from distribution and flow. */
  readonly wettedShare: number | null;
  /** Speed and number of arms of a rotating distributor. */
  readonly arm: { readonly turnsPerMinute: number; readonly arms: number } | null;
  readonly prefilter: Prefilter | null;
  readonly tray: TowerTray;
  /** open to the air, or a lid with the air exchange of TOWER_OPENINGS. */
  readonly lid: "open" | "vented" | "sealed";
  /** Forced air through a vented tower [m3/s]; 0 = natural draught. */
  readonly airFlowM3PerS: number;
  /** Sump chamber into which it drains. */
  readonly drainsTo: string;
}

export type ChamberRole = "inlet" | "settling" | "media" | "heater" | "return";

export interface Chamber {
  readonly id: string;
  readonly role: ChamberRole;
  readonly lengthM: number;
  readonly displacements: readonly Displacement[];
  /** Media submerged in this chamber. */
  readonly submergedMedia: {
    readonly kind: string;
    readonly volumeM3: number;
    readonly specificSurfaceM2PerM3: number;
    readonly voidShare: number;
  } | null;
  /** Filter socks or a fleece roller through which the drains into this chamber run. */
  readonly sock: FilterSock | null;
}

/** Filter socks side by side, or the box of a fleece roller. Elevations are those of the sump. */
export interface FilterSock {
  readonly kind: "sock" | "fleece roller";
  readonly count: number;
  readonly diameterM: number;
  readonly bottomZ: number;
  /** Edge over which it runs when it is clogged. */
  readonly rimZ: number;
  readonly grade: Prefilter["grade"];
  /** Share that is clogged, 0-1. */
  readonly blindedShare: number;
  readonly spillsTo: "chamber" | "floor";
}

/** A further tank that a full pipe joins to a chamber of the sump. */
export interface JoinedTank {
  readonly id: string;
  readonly lengthM: number;
  readonly widthM: number;
  readonly heightM: number;
  readonly glassM: number;
  readonly wallMaterial: "glass" | "acrylic";
  readonly bottomZ: number;
  /** Id of the chamber. */
  readonly to: string;
  readonly pipe: { readonly count: number; readonly boreM: number; readonly lengthM: number; readonly z: number };
}

/** A plate between chambers i and i + 1. over: water passes over the top; under: through the gap below; both: either way. */
export interface Baffle {
  readonly kind: "over" | "under" | "over and under";
  /** Top edge above the sump bottom. */
  readonly topM: number;
  /** Clear gap below, for under. */
  readonly gapM: number;
}

export interface Sump {
  readonly lengthM: number;
  readonly widthM: number;
  readonly heightM: number;
  readonly glassM: number;
  readonly wallMaterial: "glass" | "acrylic";
  /** In flow order; the last one is the return chamber. */
  readonly chambers: readonly Chamber[];
  /** One fewer than the chambers. */
  readonly baffles: readonly Baffle[];
  readonly joined: readonly JoinedTank[];
  /** Level in the return chamber while running, as set by the user. */
  readonly runningLevelM: number;
}

export interface Nozzle {
  readonly id: string;
  readonly display: string;
  readonly boreM: number;
  /** Elevation of the lowest opening through which air can enter or water can leave. */
  readonly tipZ: number;
  readonly jet: "plain" | "fanned";
  /** Siphon-break hole in the pipe of this nozzle; null = none. */
  readonly breakHole: { readonly diameterM: number; readonly z: number; readonly count: number } | null;
  /** Free share of its opening; 0 = blocked: neither water nor air passes. */
  readonly openShare: number;
  /** The pipe from a tee of the riser to the nozzle; null = a rising leg of its own from the pump. */
  readonly branch: NozzleBranch | null;
}

export interface NozzleBranch {
  /** Elevation of the tee. */
  readonly teeZ: number;
  readonly boreM: number;
  readonly lengthM: number;
  /** Open share of the branch's own valve; 0 = shut. */
  readonly valveOpenShare: number;
}

export interface ReturnLine {
  /** "" for the main one. */
  readonly name: string;
  /** How long its pump runs on when the power fails [s]; 0 = it stops with the others. */
  readonly backupS: number;
  /** Name of the electric circuit that it is plugged into. */
  readonly circuit: string;
  readonly pump: {
    /** Head against flow, from shut-off to free flow: points [flow m³/s, head m] in ascending order of flow. */
    readonly curve: readonly (readonly [number, number])[];
    /** True when the curve was estimated from the label. */
    readonly guessed: boolean;
    readonly powerW: number;
    /** Level in the return chamber below which the pump draws air. */
    readonly intakeM: number;
    /** Loss coefficient of the stopped pump for reverse flow. */
    readonly idleK: number;
    /** Timer of the pump; null = it runs continuously. */
    readonly timer: { readonly onS: number; readonly offS: number } | null;
  };
  readonly riser: { readonly boreM: number; readonly lengthM: number; readonly roughnessM: number; readonly fittings: Fittings };
  /** Open share of the throttling valve, 1 = open. */
  readonly valveOpenShare: number;
  readonly checkValve: "none" | "seals" | "weeps" | "stuck open";
  /** Leakage of a weeping check valve at 1 m head [m³/s]. */
  readonly checkValveWeepM3PerS: number;
  readonly nozzles: readonly Nozzle[];
  /** Manifold branches to accessories that drain into the sump. */
  readonly branches: readonly ReturnBranch[];
}

/** A side branch of the return: a plain pipe into a sump chamber, or the feed of a body with an outlet of its own. */
export interface ReturnBranch {
  readonly id: string;
  readonly boreM: number;
  readonly lengthM: number;
  readonly k: number;
  /** Open share of its own valve, 1 = open. */
  readonly valveOpenShare: number;
  /** Elevation of the end of the pipe, or of the body's outlet hose. */
  readonly outletZ: number;
  /** Id of the sump chamber that it drains into. */
  readonly to: string;
  /** Reactor, skimmer or steriliser on it; null = a plain pipe. */
  readonly body: BranchBody | null;
}

/** The body of a reactor, skimmer or steriliser. Heights are above its own floor. */
export interface BranchBody {
  readonly planM2: number;
  /** Inner height: to the lid, or to the rim of an open one. */
  readonly heightM: number;
  readonly floorZ: number;
  /** open: it runs over its rim; closed: a lid that holds pressure. */
  readonly lid: "open" | "closed";
  /** End of the feed pipe; water runs back down to it when the pump stops. */
  readonly inletM: number;
  /** Mouth of the outlet. */
  readonly mouthM: number;
  readonly outletBoreM: number;
  readonly outletLengthM: number;
  /** Free share of the outlet; 0 = blocked. */
  readonly outletOpenShare: number;
  readonly stands: "beside the sump" | "in the sump";
  /** A lid that is not tight: opening at its top [m2]; 0 = tight. */
  readonly leakM2: number;
}

export interface TopOff {
  readonly reservoirM3: number;
  readonly pumpM3PerS: number;
  /** Return-chamber levels at which the float switches on (low) and off (high). */
  readonly onBelowM: number;
  readonly offAboveM: number;
  readonly salinityGPerKg: number;
}

/**
 * A canister filter with its own pump, beside the tower. It draws from and returns to the same vessel, so it does not
 * appear in the hydraulic network (modelling assumption; its hoses hold less than a litre).
 */
export interface ClosedFilter {
  readonly id: string;
  /** Id of the display or sump chamber to which it is connected. */
  readonly on: string;
  /** Water inside, between and around the media [m³]. */
  readonly waterM3: number;
  readonly media: {
    readonly kind: string;
    /** Bulk volume of the media. */
    readonly volumeM3: number;
    readonly specificSurfaceM2PerM3: number;
    readonly voidShare: number;
    readonly pieceM: number;
  };
  readonly flowM3PerS: number;
  readonly powerW: number;
  /** Depth of its intake below the running water level: the depth to which a disconnected hose can drain the vessel. */
  readonly intakeDepthM: number;
}

export interface Room {
  readonly temperatureC: number;
  readonly relativeHumidity: number;
  readonly altitudeM: number;
  /** Mole fraction of CO2 in room air. */
  readonly co2Share: number;
}

export interface Cabinet {
  readonly lengthM: number;
  readonly widthM: number;
  readonly heightM: number;
  readonly doorWidthM: number;
  readonly doorHeightM: number;
}

export interface Rig {
  readonly displays: readonly Display[];
  readonly towers: readonly Tower[];
  readonly sump: Sump;
  readonly return: ReturnLine;
  /** Further pumps, each with a riser and outlets of its own. */
  readonly moreReturns: readonly ReturnLine[];
  readonly closedFilters: readonly ClosedFilter[];
  readonly topOff: TopOff | null;
  readonly cabinet: Cabinet | null;
  readonly room: Room;
  readonly waterTemperatureC: number;
  readonly salinityGPerKg: number;
  /** Evaporation of the whole system [m³/s]; null = computed from heat and humidity. */
  readonly evaporationM3PerS: number | null;
  readonly stand: { readonly footprintM2: number; readonly dryMassKg: number } | null;
}

/** Inner plan area of a display [m²]. */
export const displayPlanM2 = (d: Display): number => d.lengthM * d.widthM;

/** Every return line, the main one first. */
export const returnLines = (rig: Pick<Rig, "return" | "moreReturns">): readonly ReturnLine[] => [rig.return, ...rig.moreReturns];

/** The outlets of all return lines. */
export const nozzlesOf = (rig: Pick<Rig, "return" | "moreReturns">): readonly Nozzle[] =>
  returnLines(rig).flatMap(({ nozzles }) => nozzles);

/** The rig with every return line changed. */
export const withLines = (rig: Rig, change: (line: ReturnLine) => ReturnLine): Rig => ({
  ...rig,
  return: change(rig.return),
  moreReturns: rig.moreReturns.map(change),
});
