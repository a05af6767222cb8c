// The dynamic network: flows of all links from the volumes, and from them the rate of change of every volume.

import { assertNever } from "../../../sim/assert-never.ts";
import { smoothStep } from "../../../sim/elementary.ts";
import { levelZ } from "../laws/level-curve.ts";
import {
  clearingVelocityMPerS,
  filmDrainM3PerS,
  openingFlowM3PerS,
  stackCapacityM3PerS,
  standpipeInletM3PerS,
} from "../laws/outlet.ts";
import { boreAreaM2, pipeFlowM3PerS } from "../laws/pipe.ts";
import { sockFlowM3PerS } from "../laws/sock.ts";
import { twoSidedWeirM3PerS, weirFlowM3PerS } from "../laws/weir.ts";
import {
  type DrainPipe,
  initialModes,
  type LineModes,
  type Link,
  linesOf,
  type Modes,
  type Network,
  type ReturnLine,
  type SetLink,
} from "../network/network.ts";
import { ReturnLineSolver } from "./return-line.ts";

/** A source delivers its set flow until this volume is left, then fades [m³]. */
const EMPTY_SMOOTHING_M3 = 1e-4;
/**
 * A flow carries no air away at the clearing velocity and all of it this share above, so that nothing jumps (modelling
 * assumption).
 */
const CLEARING_BAND = 0.1;
/** Depth over its intake from which a hose delivers its whole flow [m] (modelling assumption). */
const INTAKE_M = 0.005;
/** A parted column drains freely until this share of the pipe is left, then as a film. */
const NEARLY_EMPTY = 0.05;

/**
 * Volumes [m³] in, flows [m³/s] out. `evaluate` computes `levels` and `flows`; `derivative` sums them, so that exactly
 * what leaves one vessel enters another and the total never changes. It allocates nothing after construction.
 */
export class HydraulicSystem {
  readonly network: Network;
  readonly size: number;
  readonly modes: Modes;
  readonly levels: Float64Array;
  readonly flows: Float64Array;
  /** Every return line, the main one first. */
  readonly lines: readonly { readonly line: ReturnLine; readonly modes: LineModes; readonly solver: ReturnLineSolver }[];
  /** That of the main line. */
  readonly solver: ReturnLineSolver | null;
  /** For each vessel: the destinations of its links, then their sources. */
  private readonly neighbours: readonly (readonly number[])[];

  constructor(network: Network, modes: Modes = initialModes(network)) {
    this.network = network;
    this.size = network.vessels.length;
    this.modes = modes;
    this.levels = new Float64Array(this.size);
    this.flows = new Float64Array(network.links.length);
    this.lines = linesOf(network, modes).map((each) => ({ ...each, solver: new ReturnLineSolver(network, each.line) }));
    this.solver = this.lines[0]?.solver ?? null;
    this.neighbours = network.vessels.map((_, n) => [
      ...network.links.flatMap((link) => (link.from === n ? [link.to] : [])),
      ...network.links.flatMap((link) => (link.to === n ? [link.from] : [])),
    ]);
  }

  componentName(index: number): string {
    return this.network.vessels[index].name;
  }

  derivative(_t: number, volumes: Float64Array, out: Float64Array): void {
    this.evaluate(volumes);
    out.fill(0);
    const { links } = this.network;
    for (let n = 0; n < links.length; n++) {
      out[links[n].from] -= this.flows[n];
      out[links[n].to] += this.flows[n];
    }
  }

  evaluate(volumes: Float64Array): void {
    const { network, levels, flows } = this;
    for (let n = 0; n < this.size; n++) levels[n] = levelZ(network.vessels[n].curve, volumes[n]);
    for (let n = 0; n < network.links.length; n++) flows[n] = this.linkFlow(network.links[n], volumes);
    for (let n = 0; n < network.drains.length; n++) this.drainFlow(n, volumes);
    this.returnFlows(volumes);
  }

  /** Recomputes the flows of the return line; `levels` must be up to date. */
  returnFlows(volumes: Float64Array): void {
    const { flows } = this;
    for (let k = 0; k < this.lines.length; k++) {
      const { line, modes, solver } = this.lines[k];
      solver.solve(this.levels, volumes, modes, this.modes.airGathers);
      for (let n = 0; n < line.legs.length; n++) {
        flows[line.legs[n].inLink] = solver.legIn[n];
        flows[line.legs[n].outLink] = solver.legOut[n];
      }
      for (let n = 0; n < line.branches.length; n++) flows[line.branches[n].link] = solver.branchFlow[n];
    }
  }

  /** Flow of a link that depends on its two ends only; `levels` must be up to date. */
  linkFlow(link: Link, volumes: Float64Array): number {
    const { levels, network } = this;
    const a = levels[link.from];
    switch (link.kind) {
      case "weir":
        return twoSidedWeirM3PerS(a, levels[link.to], link.crestZ, link.lengthM, link.contractions);
      case "rim":
        return weirFlowM3PerS(a - link.crestZ, link.lengthM, 0);
      case "gap":
        return this.gapFlow(a, levels[link.to], network.vessels[link.from].bottomZ, link.widthM, link.gapM);
      case "full pipe": {
        if (link.prime >= 0 && this.modes.tubesPrimed[link.prime] === 0) return 0;
        const b = levels[link.to];
        // An end above the water acts at its own height instead of the level; nothing can enter at a dry end.
        const head = Math.max(a, link.inletZ) - Math.max(b, link.outletZ);
        if (head > 0 ? a <= link.inletZ : b <= link.outletZ) return 0;
        return link.count * pipeFlowM3PerS(link.pipe, head, network.viscosityM2PerS);
      }
      case "pad":
        return link.conductanceM2PerS * Math.max(0, a - network.vessels[link.from].bottomZ);
      case "sock":
        return sockFlowM3PerS(link, a, levels[link.to]);
      case "hole":
        return a > link.z ? openingFlowM3PerS(a - link.z, link.areaM2) : 0;
      case "overflow pipe": {
        const head = a - Math.max(link.outletZ, levels[link.to]);
        if (head <= 0 || a <= link.mouthZ) return 0;
        const whole = pipeFlowM3PerS(link.pipe, head, network.viscosityM2PerS);
        // A hose siphons until its end is bare; a mouth that stands open takes in air and passes what falls into it.
        if (link.hose) return this.modes.hose === "emptying" ? smoothStep((a - link.mouthZ) / INTAKE_M) * whole : 0;
        return Math.min(standpipeInletM3PerS(a - link.mouthZ, link.pipe.boreM), whole);
      }
      case "film":
        return filmDrainM3PerS(
          volumes[link.from] / (link.planM2 * link.depthM),
          link.planM2,
          link.specificSurfacePerM,
          network.viscosityM2PerS,
        );
      case "set": {
        const left = volumes[link.from];
        if (!this.switchedOn(link) || left <= 0) return 0;
        const covered = link.intakeZ === undefined ? 1 : smoothStep((a - link.intakeZ) / INTAKE_M);
        return (covered * link.flowM3PerS * left) / (left + EMPTY_SMOOTHING_M3);
      }
      case "drain inlet":
      case "drain outlet":
      case "return":
        // Several links share these flows: see `drainFlow` and `returnFlows`.
        return 0;
      default:
        return assertNever(link);
    }
  }

  private switchedOn({ switchedBy }: SetLink): boolean {
    const { topOff, powered, evaporating, hose } = this.modes;
    switch (switchedBy) {
      case "evaporation":
        return evaporating;
      case "top-off":
        return powered && (topOff === "on" || topOff === "stuck on");
      case "filling":
      case "emptying":
        return hose === switchedBy;
      default:
        return assertNever(switchedBy);
    }
  }

  private gapFlow(aZ: number, bZ: number, bottomZ: number, widthM: number, gapM: number): number {
    const depth = Math.max(aZ, bZ) - bottomZ;
    return depth > 0 ? openingFlowM3PerS(aZ - bZ, widthM * Math.min(gapM, depth)) : 0;
  }

  /** Recomputes both flows of a drain; `levels` must be up to date. */
  drainFlow(n: number, volumes: Float64Array): void {
    const { flows, levels, network } = this;
    const drain = network.drains[n];
    const boxZ = levels[drain.box];
    if (this.modes.drainFull[n] === 1) {
      const flow = this.fullDrainFlow(drain, boxZ);
      flows[drain.inletLink] = flow;
      flows[drain.outletLink] = flow;
      return;
    }
    const { pipe } = drain;
    const fill = Math.max(0, volumes[drain.pipeVessel]) / (boreAreaM2(pipe.boreM) * pipe.lengthM);
    const head = boxZ - drain.inletZ;
    const mouth = standpipeInletM3PerS(head, drain.mouthBoreM);
    const whole = this.fullDrainFlow(drain, boxZ);
    if (drain.kind === "throttled siphon") {
      const column = fill * (drain.inletZ - drain.outletZ);
      const draining = column > 0 ? pipeFlowM3PerS(pipe, column, network.viscosityM2PerS) : 0;
      flows[drain.inletLink] = mouth + sealed(head, drain, whole) * Math.max(0, whole - mouth);
      flows[drain.outletLink] = (draining * fill) / (fill + NEARLY_EMPTY);
    } else {
      // A dry emergency pipe with a drowned mouth runs as a full siphon. The model does not assume this of an open drain.
      const drowned = drain.kind === "dry emergency" ? sealed(head, drain, whole) * Math.max(0, whole - mouth) : 0;
      flows[drain.inletLink] = Math.min(mouth + drowned, whole);
      flows[drain.outletLink] = stackCapacityM3PerS(pipe.boreM, fill);
    }
  }

  /** Flow of the drain when it runs full from its box to its end. */
  fullDrainFlow(drain: DrainPipe, boxZ: number): number {
    const head = boxZ - Math.max(drain.outletZ, this.levels[drain.to]);
    return head > 0 ? pipeFlowM3PerS(drain.pipe, head, this.network.viscosityM2PerS) : 0;
  }

  /**
   * Returns to a vessel what a step removed beyond its content: an error within the tolerance, but no level may be
   * below a floor. The volume comes from the vessel that received most of it, so the total is conserved.
   */
  keepAboveFloors(volumes: Float64Array): void {
    for (let n = 0; n < this.size; n++) {
      if (volumes[n] >= 0) continue;
      let richest = -1;
      for (const other of this.neighbours[n]) if (richest < 0 || volumes[other] > volumes[richest]) richest = other;
      // Next to a completely dry part, take it from the vessel with most water: the volume is negligible.
      if (richest < 0 || volumes[richest] < -volumes[n])
        for (let other = 0; other < this.size; other++) if (richest < 0 || volumes[other] > volumes[richest]) richest = other;
      if (volumes[richest] < -volumes[n]) continue;
      volumes[richest] += volumes[n];
      volumes[n] = 0;
    }
  }

  /** Total water volume [m³]. */
  total(volumes: Float64Array): number {
    let sum = 0;
    for (let n = 0; n < volumes.length; n++) sum += volumes[n];
    return sum;
  }
}

/**
 * Share of a full pipe's driving head that acts on a parted column or a drowned pipe: none until its mouth is one bore
 * deep, all from two bores, because then no air follows the water and a flow above the clearing velocity carries away what is left
 * (modelling assumption; weir, transitional and full flow occur in this order in vertical drop pipes: Padulano, Del
 * Giudice & Carravetta 2013).
 */
function sealed(headM: number, drain: DrainPipe, wholeM3PerS: number): number {
  const speed = drainVelocityMPerS(drain, wholeM3PerS) / clearingVelocityMPerS(drain.pipe.boreM);
  return smoothStep((speed - 1) / CLEARING_BAND) * smoothStep(headM / drain.pipe.boreM - 1);
}

/** Velocity in the falling leg of a full drain at a flow [m/s]. */
export const drainVelocityMPerS = (drain: DrainPipe, flowM3PerS: number): number => flowM3PerS / boreAreaM2(drain.pipe.boreM);
