// A hydraulic network as plain data: vessels, the links between them, and the return line that couples several links.

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

/** Weir between two water bodies, in both directions, submerged when both levels are above it. */
export interface WeirLink extends LinkBase {
  readonly kind: "weir";
  readonly crestZ: number;
  readonly lengthM: number;
  readonly contractions: number;
}

/** Free overfall (onto the floor or into air); the downstream level has no influence. */
export interface RimLink extends LinkBase {
  readonly kind: "rim";
  readonly crestZ: number;
  readonly lengthM: number;
}

/** Clear gap under a plate, in both directions. */
export interface GapLink extends LinkBase {
  readonly kind: "gap";
  readonly widthM: number;
  readonly gapM: number;
}

/**
 * Pipe that runs full between two water bodies, in both directions: siphon tubes, or a connection of two tanks. No flow
 * when it is not primed.
 */
export interface FullPipeLink extends LinkBase {
  readonly kind: "full pipe";
  readonly pipe: Pipe;
  readonly count: number;
  readonly inletZ: number;
  readonly outletZ: number;
  /** Index into the primes of `Modes`; -1 = always primed. */
  readonly prime: number;
}

/** One end of a drain; the drain itself is in `drains`. */
export interface DrainLink extends LinkBase {
  readonly kind: "drain inlet" | "drain outlet";
  readonly drain: number;
}

/** Flow through a pad by Darcy's law: conductance times the head over the pad's underside. */
export interface PadLink extends LinkBase {
  readonly kind: "pad";
  readonly conductanceM2PerS: number;
}

/** Flow through the wall and the bottom of a sock by Darcy's law, in both directions. */
export interface SockLink extends LinkBase {
  readonly kind: "sock";
  /** Velocity through the cloth under a head of 1 m [1/s]. */
  readonly perS: number;
  readonly aroundM: number;
  readonly bottomM2: number;
  readonly bottomZ: number;
}

/** Holes with free outflow: a drip plate, a leak. */
export interface HoleLink extends LinkBase {
  readonly kind: "hole";
  readonly areaM2: number;
  readonly z: number;
}

/**
 * Pipe with an open mouth in one vessel that leads down into another: by the mouth at a low head, by the whole pipe
 * when it is drowned.
 */
export interface OverflowPipeLink extends LinkBase {
  readonly kind: "overflow pipe";
  readonly pipe: Pipe;
  readonly mouthZ: number;
  readonly outletZ: number;
  /** A siphon hose, which hangs there only while the vessel is emptied by it. */
  readonly hose?: true;
}

/** Film flow through a bed. */
export interface FilmLink extends LinkBase {
  readonly kind: "film";
  readonly planM2: number;
  readonly depthM: number;
  readonly specificSurfacePerM: number;
}

/** A set flow: the top-off pump, evaporation, a hose. It fades as the source runs dry. */
export interface SetLink extends LinkBase {
  readonly kind: "set";
  readonly flowM3PerS: number;
  readonly switchedBy: "top-off" | "evaporation" | "filling" | "emptying";
  /** Elevation of its intake, where it draws air below that. */
  readonly intakeZ?: number;
}

/** Link whose flow comes from the balance of the return line. */
export interface ReturnLink extends LinkBase {
  readonly kind: "return";
}

export type Link =
  | WeirLink
  | RimLink
  | GapLink
  | FullPipeLink
  | DrainLink
  | PadLink
  | SockLink
  | HoleLink
  | OverflowPipeLink
  | FilmLink
  | SetLink
  | ReturnLink;

export interface DrainPipe {
  readonly id: string;
  readonly overflowId: string;
  readonly kind: "open" | "throttled siphon" | "dry emergency";
  readonly box: number;
  readonly pipeVessel: number;
  readonly to: number;
  /** Free bore at a blocked mouth [m]. */
  readonly mouthBoreM: number;
  readonly pipe: Pipe;
  readonly inletZ: number;
  readonly outletZ: number;
  readonly inletLink: number;
  readonly outletLink: number;
}

/** One nozzle with its own rising leg. */
export interface ReturnLeg {
  readonly id: string;
  readonly display: number;
  readonly legVessel: number;
  /** Pipe from the leg to the display through the nozzle, and in the reverse direction. */
  readonly out: Pipe;
  readonly back: Pipe;
  readonly tipZ: number;
  readonly crownZ: number;
  /** Blocked or shut: no water and no air passes. */
  readonly shut: boolean;
  /** Index of its tee in the line. */
  readonly tee: number;
  readonly hole: { readonly z: number; readonly diameterM: number; readonly areaM2: number } | null;
  /** Bore of the tip [m]. */
  readonly boreM: number;
  /**
   * Bore at the hole, and the loss coefficient of reverse flow from the display to the hole, relative to the velocity
   * head in it.
   */
  readonly holeBoreM: number;
  readonly mouthK: number;
  /** Bore of the pipe in which reverse flow falls behind the crown. */
  readonly fallBoreM: number;
  readonly inLink: number;
  readonly outLink: number;
}

/** A point where legs leave the riser. */
export interface Tee {
  /** Air from an outlet of one leg reaches the others once the water of that leg has fallen to this elevation. */
  readonly z: number;
  /** The riser from the tee below, or from the pump. */
  readonly pipe: Pipe;
}

export interface ReturnLine {
  /** "" for the main one, " of NAME" for another, as its events say it. */
  readonly id: string;
  /** How long its pump runs on when the power fails [s]. */
  readonly backupS: number;
  readonly source: number;
  readonly curve: readonly (readonly [number, number])[];
  /** Level at which the pump begins to draw air. */
  readonly intakeZ: number;
  /** Depth below that level over which the flow falls to zero [m]. */
  readonly airBandM: number;
  /** Reverse flow through the stopped pump. */
  readonly idle: Pipe;
  readonly checkValve: "none" | "seals" | "weeps" | "stuck open";
  /** Leakage at 1 m head [m³/s]. */
  readonly weepM3PerS: number;
  /** From the pump upwards, at least one. The first has the fittings and valves of the riser. */
  readonly tees: readonly Tee[];
  readonly legs: readonly ReturnLeg[];
  readonly branches: readonly Branch[];
}

/** A side branch at the outlet of the pump. */
export interface Branch {
  readonly pipe: Pipe;
  readonly outletZ: number;
  readonly to: number;
  /** Whether its end can be under water in a vessel that then runs back through it. */
  readonly runsBack: boolean;
  readonly link: number;
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
  /** Lines of further pumps. */
  readonly moreLines: readonly ReturnLine[];
  readonly topOff: TopOffSwitch | null;
  /** Number of sets of siphon tubes (see FullPipeLink.prime). */
  readonly primes: number;
  readonly viscosityM2PerS: number;
  /** Running level of the return chamber as set by the user, as an elevation; NaN for a network not built from a rig. */
  readonly runningZ: number;
  readonly floor: number;
  readonly notes: readonly string[];
}

/** What is on and joined in one return line. */
export interface LineModes {
  /** The pump stands, with or without power. */
  failed: boolean;
  pumpOn: boolean;
  /** The hose has come off the pump: the pump stirs the chamber, and the riser ends open in the water. */
  hoseOff: boolean;
  /** 1 = leg connected to its display by an unbroken column; one entry per leg. */
  readonly legJoined: Uint8Array;
  /** 1 = air from an open outlet is in the tee, so nothing can be drawn through it from below; one entry per tee. */
  readonly teeAired: Uint8Array;
}

/** Discrete state: what is on, joined or full. It changes only at events. Its own line is that of the main pump. */
export interface Modes extends LineModes {
  powered: boolean;
  topOff: "off" | "on" | "stuck on" | "stuck off";
  evaporating: boolean;
  /** What the hoses of a water change do. */
  hose: "none" | "emptying" | "filling";
  /**
   * Behaviour of the air that a siphon-break hole draws. false: a flow above the clearing velocity carries it down, the
   * unfavourable limit. true: all but a trace collects at the crown, the favourable limit.
   */
  airGathers: boolean;
  /** 1 = siphon tubes full of water; one entry per set. */
  readonly tubesPrimed: Uint8Array;
  /** 1 = drain runs full (throttled siphons only); one entry per drain. */
  readonly drainFull: Uint8Array;
  /** Lines of further pumps, in their order. */
  readonly more: readonly LineModes[];
}

/** Switches every pump that can turn; those of `backed` lines stay as they are. */
export function setPumps(modes: Modes, on: boolean, backed: readonly LineModes[] = []): void {
  for (const line of [modes, ...modes.more]) if (!backed.includes(line)) line.pumpOn = on && !line.failed;
}

/** Every return line with its modes, the main one first. */
export const linesOf = (network: Network, modes: Modes): readonly { readonly line: ReturnLine; readonly modes: LineModes }[] => [
  ...(network.returnLine ? [{ line: network.returnLine, modes }] : []),
  ...network.moreLines.map((line, n) => ({ line, modes: modes.more[n] })),
];

const lineModes = (line: ReturnLine | null): LineModes => ({
  failed: false,
  pumpOn: false,
  hoseOff: false,
  legJoined: new Uint8Array(line?.legs.length ?? 0).fill(1),
  teeAired: new Uint8Array(line?.tees.length ?? 0),
});

/** All pipes full and joined, pumps off. */
export function initialModes(network: Network): Modes {
  return {
    ...lineModes(network.returnLine),
    powered: false,
    topOff: "off",
    evaporating: false,
    hose: "none",
    airGathers: false,
    tubesPrimed: new Uint8Array(network.primes).fill(1),
    drainFull: Uint8Array.from(network.drains, (drain) => (drain.kind === "throttled siphon" ? 1 : 0)),
    more: network.moreLines.map(lineModes),
  };
}
