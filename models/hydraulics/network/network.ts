// A plumbing network as plain data: vessels, the links between them, and the return line that ties several links together.

import type { LevelCurve } from "../laws/level-curve.ts";
import type { Pipe } from "../laws/pipe.ts";
import type { VesselView } from "../types.ts";

export interface Vessel extends VesselView {
  readonly curve: LevelCurve;
}

interface LinkBase {
  readonly id: string;
  readonly name: string;
  /** Indices into `vessels`. */
  readonly from: number;
  readonly to: number;
}

/** Edge between two waters, either way, drowned when both stand above it. */
export interface WeirLink extends LinkBase {
  readonly kind: "weir";
  readonly crestZ: number;
  readonly lengthM: number;
  readonly contractions: number;
}

/** Edge over which water is gone for good (onto the floor) or falls free. */
export interface RimLink extends LinkBase {
  readonly kind: "rim";
  readonly crestZ: number;
  readonly lengthM: number;
}

/** Clear gap under a plate, either way. */
export interface GapLink extends LinkBase {
  readonly kind: "gap";
  readonly widthM: number;
  readonly gapM: number;
}

/** Pipe that runs full between two waters, either way: siphon tubes, a joined pair of tanks. Idle when not primed. */
export interface FullPipeLink extends LinkBase {
  readonly kind: "full pipe";
  readonly pipe: Pipe;
  readonly count: number;
  readonly inletZ: number;
  readonly outletZ: number;
  /** Index into the primes of `Modes`; -1 = always full. */
  readonly prime: number;
}

/** Both ends of a drain; the drain itself is in `drains`. */
export interface DrainLink extends LinkBase {
  readonly kind: "drain inlet" | "drain outlet";
  readonly drain: number;
}

/** Water through a pad, Darcy: conductance times the head over the pad's underside. */
export interface PadLink extends LinkBase {
  readonly kind: "pad";
  readonly conductanceM2PerS: number;
}

/** Holes through which water falls free: a drip plate, a leak. */
export interface HoleLink extends LinkBase {
  readonly kind: "hole";
  readonly areaM2: number;
  readonly z: number;
}

/** Films running down a bed. */
export interface FilmLink extends LinkBase {
  readonly kind: "film";
  readonly planM2: number;
  readonly depthM: number;
  readonly specificSurfacePerM: number;
}

/** Flow set by something outside: the top-off pump, evaporation. Fades as the source runs dry. */
export interface SetLink extends LinkBase {
  readonly kind: "set";
  readonly flowM3PerS: number;
  readonly switchedBy: "top-off" | "evaporation";
}

/** Links whose flows come from the return line's balance. */
export interface ReturnLink extends LinkBase {
  readonly kind: "return";
}

export type Link = WeirLink | RimLink | GapLink | FullPipeLink | DrainLink | PadLink | HoleLink | FilmLink | SetLink | ReturnLink;

export interface DrainPipe {
  readonly id: string;
  readonly overflowId: string;
  readonly kind: "open" | "throttled siphon" | "dry emergency";
  readonly box: number;
  readonly pipeVessel: number;
  readonly to: number;
  /** Bore left free by a blockage, as the mouth sees it [m]. */
  readonly mouthBoreM: number;
  readonly pipe: Pipe;
  readonly inletZ: number;
  readonly outletZ: number;
  readonly inletLink: number;
  readonly outletLink: number;
}

/** One nozzle on its own rising leg. */
export interface ReturnLeg {
  readonly id: string;
  readonly display: number;
  readonly legVessel: number;
  /** From the leg to the display through the nozzle, and back. */
  readonly out: Pipe;
  readonly back: Pipe;
  readonly tipZ: number;
  readonly crownZ: number;
  /** Blocked or shut off: no water and no air passes. */
  readonly shut: boolean;
  /** Index into the tees of its line. */
  readonly tee: number;
  readonly hole: { readonly z: number; readonly diameterM: number; readonly areaM2: number } | null;
  /** Bore of the tip. */
  readonly boreM: number;
  /** Bore at the hole, and what the water that runs back has lost until there, on the velocity head in it. */
  readonly holeBoreM: number;
  readonly mouthK: number;
  /** Bore of the pipe in which the water runs down again behind the crown, when it runs back. */
  readonly fallBoreM: number;
  readonly inLink: number;
  readonly outLink: number;
}

/** A place where legs leave the riser. */
export interface Tee {
  /** Air that comes in through an outlet of one leg reaches the others once the water of that leg stands no higher than this. */
  readonly z: number;
  /** The riser from the tee below, or from the pump. */
  readonly pipe: Pipe;
}

export interface ReturnLine {
  readonly source: number;
  readonly curve: readonly (readonly [number, number])[];
  /** Level at which the pump begins to draw air. */
  readonly intakeZ: number;
  /** Depth below that over which air is drawn more and more, down to no flow [m]. */
  readonly airBandM: number;
  /** Backward passage through the stopped pump. */
  readonly idle: Pipe;
  readonly checkValve: "none" | "seals" | "weeps" | "stuck open";
  /** Weep at 1 m head [m3/s]. */
  readonly weepM3PerS: number;
  /** From the pump upwards, at least one. The first has the fittings and valves of the riser. */
  readonly tees: readonly Tee[];
  readonly legs: readonly ReturnLeg[];
  readonly branches: readonly { readonly pipe: Pipe; readonly outletZ: number; readonly to: number; readonly link: number }[];
}

export interface TopOffSwitch {
  readonly reservoir: number;
  readonly onBelowZ: number;
  readonly offAboveZ: number;
}

export interface Network {
  readonly vessels: readonly Vessel[];
  readonly links: readonly Link[];
  readonly drains: readonly DrainPipe[];
  readonly returnLine: ReturnLine | null;
  readonly topOff: TopOffSwitch | null;
  /** Number of siphon-tube sets (see FullPipeLink.prime). */
  readonly primes: number;
  readonly viscosityM2PerS: number;
  /** Return-chamber elevation of the user's fill, running; NaN when not built from a rig. */
  readonly runningZ: number;
  readonly floor: number;
  readonly notes: readonly string[];
}

/** What is on, joined or full: it changes at events only. */
export interface Modes {
  pumpOn: boolean;
  /** The hose has slipped off the pump: it stirs the chamber, and the riser ends open in the water. */
  hoseOff: boolean;
  powered: boolean;
  topOff: "off" | "on" | "stuck on" | "stuck off";
  evaporating: boolean;
  /**
   * Where air goes that a siphon-break hole draws. false: a stream faster than the clearing velocity sweeps it down, the bad end of what
   * may be. true: all but a trace gathers at the crown, the good end.
   */
  airGathers: boolean;
  /** 1 = siphon tubes full of water. */
  readonly tubesPrimed: Uint8Array;
  /** 1 = drain runs full (throttled siphons only). */
  readonly drainFull: Uint8Array;
  /** 1 = leg joined to its display in one unbroken column. */
  readonly legJoined: Uint8Array;
  /** 1 = air from an open outlet stands in the tee: nothing is drawn through it from below any more. */
  readonly teeAired: Uint8Array;
}

/** Everything full and joined, pump off. */
export function initialModes(network: Network): Modes {
  return {
    pumpOn: false,
    hoseOff: false,
    powered: false,
    topOff: "off",
    evaporating: false,
    airGathers: false,
    tubesPrimed: new Uint8Array(network.primes).fill(1),
    drainFull: Uint8Array.from(network.drains, (drain) => (drain.kind === "throttled siphon" ? 1 : 0)),
    legJoined: new Uint8Array(network.returnLine?.legs.length ?? 0).fill(1),
    teeAired: new Uint8Array(network.returnLine?.tees.length ?? 0),
  };
}
