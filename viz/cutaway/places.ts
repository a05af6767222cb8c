// The parts of the section drawing with their positions [m]: x to the right, z up from the inside bottom of the sump.
import type { BranchBody, Chamber, ClosedFilter, Display, FilterSock, JoinedTank, Overflow, Tower } from "../../models/rig.ts";

/** An upright rectangle. */
export interface Box {
  readonly x0: number;
  readonly x1: number;
  readonly z0: number;
  readonly z1: number;
}

export type Point = readonly [x: number, z: number];

/** A space with water; `id` is that of the vessel in the results. */
export interface VesselPlace {
  readonly id: string;
  readonly kind: "display" | "box" | "chamber" | "reactor" | "sock" | "reservoir";
  readonly name: string;
  readonly box: Box;
}

export type PipeKind = "drain" | "siphon" | "riser" | "branch" | "hose" | "joint";

/** A pipe, given by its centre line in the direction of normal flow. */
export interface PipePlace {
  readonly id: string;
  readonly kind: PipeKind;
  readonly label: string;
  readonly boreM: number;
  readonly points: readonly Point[];
}

/** Water that falls freely, or passes over or under an edge. */
export interface FallPlace {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly points: readonly Point[];
}

export interface OverflowPlace {
  readonly overflow: Overflow;
  readonly inside: Box;
  readonly crest: { readonly x: number; readonly z: number };
  readonly hung: boolean;
}

export interface DisplayPlace {
  readonly display: Display;
  readonly inside: Box;
  readonly overflows: readonly OverflowPlace[];
  readonly nozzles: readonly NozzlePlace[];
}

export interface NozzlePlace {
  readonly id: string;
  readonly x: number;
  readonly tipZ: number;
  readonly hole: Point | null;
}

export interface TowerPlace {
  readonly tower: Tower;
  readonly media: Box;
  readonly tray: Box;
  readonly pad: Box | null;
  readonly shell: Box;
  /** End of the drain hose. */
  readonly inlet: Point;
}

/** A closed filter on the floor, with its two hoses among the pipes. */
export interface ClosedPlace {
  readonly filter: ClosedFilter;
  readonly box: Box;
}

/** A reactor on a branch of the return. Where the rig gives only its pipe, its size is a plausible one. */
export interface ReactorPlace {
  readonly id: string;
  readonly body: BranchBody | null;
  readonly inSump: boolean;
  readonly box: Box;
}

/** Filter socks side by side in a chamber, or the box of a fleece roller. */
export interface SockPlace {
  /** Id of the chamber. */
  readonly chamber: string;
  readonly sock: FilterSock;
  readonly boxes: readonly Box[];
}

/** A tank joined to the sump. */
export interface JoinedPlace {
  readonly tank: JoinedTank;
  readonly box: Box;
}

export interface ChamberPlace {
  readonly chamber: Chamber;
  readonly box: Box;
}

export interface BafflePlace {
  readonly box: Box;
  readonly kind: "over" | "under" | "over and under";
}

export interface Layout {
  /** Bounding box of the drawing without the margins for dimensions. */
  readonly bounds: Box;
  readonly floorZ: number;
  readonly displays: readonly DisplayPlace[];
  readonly towers: readonly TowerPlace[];
  readonly sump: Box;
  readonly sumpGlassM: number;
  readonly chambers: readonly ChamberPlace[];
  readonly baffles: readonly BafflePlace[];
  readonly socks: readonly SockPlace[];
  readonly joined: readonly JoinedPlace[];
  readonly pump: Box;
  readonly morePumps: readonly Box[];
  readonly closed: readonly ClosedPlace[];
  readonly reactors: readonly ReactorPlace[];
  readonly checkValve: Point | null;
  readonly throttle: Point | null;
  readonly pipes: readonly PipePlace[];
  readonly falls: readonly FallPlace[];
  readonly vessels: readonly VesselPlace[];
  readonly reservoir: Box | null;
}

export const widthOf = (b: Box): number => b.x1 - b.x0;
export const midOf = (b: Box): number => (b.x0 + b.x1) / 2;
