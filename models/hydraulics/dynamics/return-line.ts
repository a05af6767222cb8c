// The return line: pump, riser, legs and branches share one pressure, so their flows are solved together.

import { fourthRoot, smoothStep } from "../../../sim/elementary.ts";
import { levelZ } from "../laws/level-curve.ts";
import { airCarriedM3PerS, airThroughHoleM3PerS, clearingVelocityMPerS } from "../laws/outlet.ts";
import { boreAreaM2, GRAVITY, type Pipe, pipeFlowM3PerS, pipeLossM } from "../laws/pipe.ts";
import { type PumpCurve, pumpCurve } from "../laws/pump.ts";
import type { Branch, LineModes, Network, ReturnLeg, ReturnLine } from "../network/network.ts";

/** Time in which a free water column in a leg follows the pressure at its foot [s] (modelling assumption: its inertia). */
const COLUMN_TIME_S = 0.3;
/**
 * A flow carries air down from the clearing velocity on, and none when it is slower by this share (modelling
 * assumption: the conservative side).
 */
const CLEARING_BAND = 0.1;
/** Depth over which the end of a feed pipe comes out of the water of its body [m] (modelling assumption). */
const BARED_M = 0.005;
/** A tip this fraction of its bore above the water is open all around and draws no more water. */
const LIFTED_SHARE_OF_BORE = 0.25;

/** Level at which the last water leaves the tip of a leg with reverse flow. */
export const bareZ = (leg: ReturnLeg): number => leg.tipZ - LIFTED_SHARE_OF_BORE * leg.boreM;

/**
 * Solves the water balance of the line for the head at the foot of the legs: pump flow minus branch flow equals riser
 * flow. The flow of every part increases with the head across it, so the solution is unique.
 */
export class ReturnLineSolver {
  private readonly line: ReturnLine;
  private readonly network: Network;
  private readonly pump: PumpCurve;
  /** A loose hose end under water: the velocity head of the jet is lost. */
  private readonly hoseEnd: Pipe;
  private readonly viscosity: number;
  /** Flow into each leg at its foot [m³/s]. */
  readonly legIn: Float64Array;
  /** Flow from each leg into its display [m³/s]. */
  readonly legOut: Float64Array;
  readonly branchFlow: Float64Array;
  private readonly columnZ: Float64Array;
  private readonly pocketM: Float64Array;
  private lastFootZ = Number.NaN;
  /** Head at each tee [m]. */
  readonly teeZ: Float64Array;
  headOutZ = 0;
  pumpFlow = 0;
  private pumpShare = 1;
  private sourceZ = 0;
  private modes: LineModes | undefined;
  private airGathers = false;
  private levels: Float64Array | undefined;

  constructor(network: Network, line: ReturnLine) {
    this.line = line;
    this.network = network;
    this.pump = pumpCurve(line.curve);
    this.hoseEnd = { boreM: line.tees[0].pipe.boreM, lengthM: 0, roughnessM: 0, lossK: 1 };
    this.viscosity = network.viscosityM2PerS;
    this.teeZ = new Float64Array(line.tees.length);
    this.legIn = new Float64Array(line.legs.length);
    this.legOut = new Float64Array(line.legs.length);
    this.branchFlow = new Float64Array(line.branches.length);
    this.columnZ = new Float64Array(line.legs.length);
    this.pocketM = new Float64Array(line.legs.length);
  }

  get shutOffM(): number {
    return this.pump.shutOffM;
  }

  /**
   * Share of its flow that the pump delivers at a level z: 1 down to the level at which it begins to draw air, 0 a band
   * lower.
   */
  static waterShare(line: ReturnLine, z: number): number {
    return smoothStep(1 + (z - line.intakeZ) / line.airBandM);
  }

  /** Solves all flows for the given levels, volumes and modes; read them from the public fields. */
  solve(levels: Float64Array, volumes: Float64Array, modes: LineModes, airGathers: boolean): void {
    this.airGathers = airGathers;
    const { line, network } = this;
    this.levels = levels;
    this.modes = modes;
    this.sourceZ = levels[line.source];
    this.pumpShare = modes.pumpOn && !modes.hoseOff ? ReturnLineSolver.waterShare(line, this.sourceZ) : 0;
    let low = this.sourceZ;
    let high = this.sourceZ + (this.pumpShare > 0 ? this.pump.shutOffM : 0);
    for (let n = 0; n < line.legs.length; n++) {
      const leg = line.legs[n];
      const curve = network.vessels[leg.legVessel].curve;
      this.columnZ[n] = levelZ(curve, volumes[leg.legVessel]);
      this.pocketM[n] = Math.max(0, leg.crownZ - this.columnZ[n]);
      const boundary = modes.legJoined[n] === 1 ? Math.max(levels[leg.display], leg.tipZ) : this.columnZ[n];
      low = Math.min(low, boundary - (modes.legJoined[n] === 1 ? this.pocketM[n] : 0));
      high = Math.max(high, boundary);
    }
    for (const branch of line.branches) if (branch.runsBack) high = Math.max(high, levels[branch.to]);
    this.residual(this.findTop(low - 1e-9, high + 1e-9));
    this.addAir(volumes);
  }

  /** Secant iteration from the last solution, inside a bracket. */
  private findTop(lowZ: number, highZ: number): number {
    let low = lowZ;
    let high = highZ;
    let fLow = Number.NaN;
    let fHigh = Number.NaN;
    let x = this.lastFootZ > low && this.lastFootZ < high ? this.lastFootZ : (low + high) / 2;
    let previousX = Number.NaN;
    let previousF = Number.NaN;
    for (let k = 0; k < 100; k++) {
      const f = this.residual(x);
      if (Math.abs(f) < 1e-14) break;
      if (f > 0) {
        low = x;
        fLow = f;
      } else {
        high = x;
        fHigh = f;
      }
      if (high - low < 1e-13) break;
      let next: number;
      if (k > 0 && k % 8 !== 7) next = x - (f * (x - previousX)) / (f - previousF);
      else if (k === 0) next = x + Math.sign(f) * Math.min(1e-4, (high - low) / 4);
      else next = Number.NaN;
      if (!(next > low && next < high)) {
        const bracketed = k % 3 === 2 && fLow > 0 && fHigh < 0;
        next = bracketed ? low + ((high - low) * fLow) / (fLow - fHigh) : (low + high) / 2;
        if (!(next > low && next < high)) next = (low + high) / 2;
      }
      if (next === x) break;
      previousX = x;
      previousF = f;
      x = next;
    }
    this.lastFootZ = x;
    return x;
  }

  /** Supply minus demand for a head at the highest tee [m³/s]; it decreases as the head rises. Leaves the flows in the fields. */
  private residual(topZ: number): number {
    const { line } = this;
    let riserFlow = 0;
    let headZ = topZ;
    for (let t = line.tees.length - 1; t >= 0; t--) {
      this.teeZ[t] = headZ;
      for (let n = 0; n < line.legs.length; n++) {
        if (line.legs[n].tee !== t) continue;
        const flow = this.legFlow(n, headZ);
        this.legIn[n] = flow;
        this.legOut[n] = flow;
        riserFlow += flow;
      }
      headZ += pipeLossM(line.tees[t].pipe, riserFlow, this.viscosity);
    }
    this.headOutZ = headZ;
    let branches = 0;
    for (let n = 0; n < line.branches.length; n++) {
      const flow = this.flowOf(line.branches[n]);
      this.branchFlow[n] = flow;
      branches += flow;
    }
    this.pumpFlow = this.supply(this.headOutZ);
    return this.pumpFlow - branches - riserFlow;
  }

  /** Flow into a branch at the present head of the pump's outlet; negative where its body runs back. */
  private flowOf({ pipe, outletZ, to, runsBack }: Branch): number {
    const level = this.levels![to];
    const over = this.headOutZ - Math.max(outletZ, level);
    if (over > 0) return pipeFlowM3PerS(pipe, over, this.viscosity);
    const covered = level - outletZ;
    if (!runsBack || covered <= 0) return 0;
    return -Math.min(1, covered / BARED_M) * pipeFlowM3PerS(pipe, level - this.headOutZ, this.viscosity);
  }

  /** Flow into leg n at its foot for a head footZ there; joined legs pass it on to the display. */
  private legFlow(n: number, footZ: number): number {
    const leg = this.line.legs[n];
    if (this.modes!.legJoined[n] === 0) {
      const area = this.network.vessels[leg.legVessel].areaM2;
      return ((footZ - this.columnZ[n]) * area) / COLUMN_TIME_S;
    }
    if (leg.shut) return 0;
    const display = this.levels![leg.display];
    const against = Math.max(display, leg.tipZ);
    if (footZ >= against) return pipeFlowM3PerS(leg.out, footZ - against, this.viscosity);
    const drive = display - this.pocketM[n] - this.drawnFromZ(n, footZ);
    return display > bareZ(leg) && drive > 0 ? -pipeFlowM3PerS(leg.back, drive, this.viscosity) : 0;
  }

  /** Head to which a leg with reverse flow falls: air in its tee keeps it at the height of the tee. */
  drawnFromZ(n: number, footZ = this.teeZ[this.line.legs[n].tee]): number {
    const { tee } = this.line.legs[n];
    return this.modes!.teeAired[tee] === 1 ? Math.max(footZ, this.line.tees[tee].z) : footZ;
  }

  /** Flow through the pump (running, idle, or disconnected) at a head on its outlet; negative = reverse. */
  private supply(headOutZ: number): number {
    const { line } = this;
    const lift = headOutZ - this.sourceZ;
    if (this.pumpShare > 0) return this.pumpShare * this.pump.flowM3PerS(lift);
    if (lift <= 0) return 0;
    if (this.modes!.hoseOff) return -pipeFlowM3PerS(this.hoseEnd, lift, this.viscosity);
    if (this.modes!.pumpOn) return 0;
    if (line.checkValve === "seals") return 0;
    if (line.checkValve === "weeps") return (-line.weepM3PerS * lift) / fourthRoot(lift * lift + 1e-4);
    return -pipeFlowM3PerS(line.idle, lift, this.viscosity);
  }

  /**
   * A siphon as a two-phase column. Air enters through the uncovered part of the siphon-break hole, and around a tip
   * that emerges from the water. The suction there is the height of the opening above the display plus the head lost on
   * the way to it. The air replaces water: more leaves the leg at its foot than enters from the display, and the column
   * becomes lighter by its share of air. Above the clearing velocity the flow carries the air down and out at its own
   * velocity (no slip), and a siphon with little air keeps running; below it the air collects at the crown.
   */
  private addAir(volumes: Float64Array): void {
    const { line } = this;
    for (let n = 0; n < line.legs.length; n++) {
      const leg = line.legs[n];
      const back = -this.legOut[n];
      if (this.modes!.legJoined[n] === 0) {
        this.legOut[n] = 0;
        continue;
      }
      if (back <= 0) continue;
      const air = this.airDrawn(leg, this.levels![leg.display], back);
      if (air === 0 && this.pocketM[n] === 0) continue;
      const kept = air - (this.airGathers ? Math.min(air, airCarriedM3PerS(back, leg.boreM)) : this.sweptOut(n, back, air));
      // The flow at the foot stays as the column's head drives it.
      this.legOut[n] = -Math.max(0, back - (volumes[leg.legVessel] > 0 ? kept : 0));
    }
  }

  /** Air flow through the openings of a leg with reverse flow [m³/s]. */
  private airDrawn(leg: ReturnLeg, displayZ: number, backM3PerS: number): number {
    const velocity = backM3PerS / boreAreaM2(leg.holeBoreM);
    const lostM = ((leg.mouthK + 1) * velocity * velocity) / (2 * GRAVITY);
    let air = 0;
    const { hole } = leg;
    if (hole) {
      const bared = Math.min(1, Math.max(0, (hole.z + hole.diameterM / 2 - displayZ) / hole.diameterM));
      if (bared > 0) air += airThroughHoleM3PerS(Math.max(0, hole.z - displayZ) + lostM, bared * hole.areaM2);
    }
    const gapM = leg.tipZ - displayZ;
    if (gapM > 0) air += airThroughHoleM3PerS(gapM + lostM, Math.PI * leg.boreM * gapM);
    return air;
  }

  /** Air flow that leaves a leg at its foot [m³/s]: the share of air in the column times the flow of water and air. */
  private sweptOut(n: number, backM3PerS: number, airM3PerS: number): number {
    const leg = this.line.legs[n];
    const speed = backM3PerS / boreAreaM2(leg.fallBoreM) / clearingVelocityMPerS(leg.fallBoreM);
    const share = this.pocketM[n] / (leg.crownZ - this.network.vessels[leg.legVessel].bottomZ);
    return smoothStep(1 + (speed - 1) / CLEARING_BAND) * share * (backM3PerS + airM3PerS);
  }
}
