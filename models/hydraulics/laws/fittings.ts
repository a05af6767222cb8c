// Loss coefficients of fittings, relative to the velocity head in their own bore.

import { cube, log, pow, square } from "../../../sim/elementary.ts";
import type { Fittings } from "../../rig.ts";

/**
 * The 3-K method: K = K1/Re + Ki (1 + Kd / D^0.3), D the nominal size in inches (Darby 2001, Chemical Engineering Fluid
 * Mechanics, table 7-3).
 */
export interface ThreeK {
  readonly k1: number;
  readonly ki: number;
  readonly kd: number;
}

export const DARBY = {
  /** Threaded, r/D = 1. */
  bend90: { k1: 800, ki: 0.14, kd: 4.0 },
  longBend90: { k1: 800, ki: 0.071, kd: 4.2 },
  bend45: { k1: 500, ki: 0.071, kd: 4.2 },
  /** Threaded close return bend. */
  bend180: { k1: 1000, ki: 0.23, kd: 4.0 },
  /** Threaded, through the branch. */
  tee: { k1: 500, ki: 0.274, kd: 4.0 },
} as const satisfies Record<string, ThreeK>;

export function threeK(fitting: ThreeK, sizeIn: number, reynolds: number): number {
  return fitting.k1 / reynolds + fitting.ki * (1 + fitting.kd / pow(sizeIn, 0.3));
}

/** Flush square-edged pipe entrance (Crane TP-410, A-29). */
export const ENTRANCE_FLUSH = 0.5;
/** Re-entrant pipe entrance (Crane TP-410, A-29). */
export const ENTRANCE_REENTRANT = 0.78;
/** A submerged jet loses its whole velocity head (Crane TP-410, A-29). */
export const EXIT = 1;
/** Full-bore gate or ball valve, 8 fT at 1 in (Crane TP-410; 0.178). */
export const OPEN_VALVE = 0.178;
/**
 * Conventional swing check valve, 100 fT (Crane TP-410, A-27), with fT the friction factor of fully rough flow in
 * commercial steel, roughness 0.046 mm: 2.3 at 1 in, 1.9 at 2 in. Handbooks give 2.0 to 2.5; a good straight-way valve
 * has half of it.
 */
export function checkValveK(boreM: number): number {
  const smooth = log((3.7 * boreM) / 4.6e-5) / Math.LN10;
  return (100 * 0.25) / square(smooth);
}
/** Union or coupling (common practice, no published source). */
export const UNION = 0.08;
/** A fan nozzle loses about one more velocity head than a plain end (modelling assumption). */
export const FANNED_TIP = 1;

/**
 * Reynolds number at which the 3-K coefficients are evaluated; the K1 term is then under 3 % of K at the flows of these
 * systems.
 */
const DESIGN_REYNOLDS = 5e4;

/** Components of a run's fittings: [name, K each, count, source]. */
export function fittingPieces(fittings: Fittings, boreM: number): readonly (readonly [string, number, number, string])[] {
  const size = boreM / 0.0254;
  const k = (fitting: ThreeK) => threeK(fitting, size, DESIGN_REYNOLDS);
  const darby = "Darby 2001, 3-K";
  return [
    ["quarter bends", k(DARBY.bend90), fittings.bends90, darby],
    ["eighth bends", k(DARBY.bend45), fittings.bends45, darby],
    ["return bends", k(DARBY.bend180), fittings.bends180, darby],
    ["tees", k(DARBY.tee), fittings.tees, darby],
    ["unions", UNION, fittings.unions, "common practice, no published source"],
    ["other fittings", fittings.extraK, 1, "given"],
  ];
}

/** Sum of the loss coefficients of a run's fittings. */
export function fittingsK(fittings: Fittings, boreM: number): number {
  return fittingPieces(fittings, boreM).reduce((sum, [, each, count]) => sum + each * count, 0);
}

/**
 * Loss of a plate that leaves `openShare` of the bore free: K = (1/(Cc s) - 1)² with Cc = 0.62 + 0.38 s³ (Borda-Carnot
 * enlargement behind Weisbach's contraction; from memory). Represents a partly closed valve or a partly blocked pipe.
 */
export function obstructionK(openShare: number): number {
  const share = Math.min(1, Math.max(openShare, 1e-4));
  return square(1 / ((0.62 + 0.38 * cube(share)) * share) - 1);
}

/** Open share of a valve with this loss coefficient: the inverse of `obstructionK`, to 1e-9. */
export function openShareOf(lossK: number): number {
  let [low, high] = [1e-4, 1];
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (obstructionK(middle) > lossK) low = middle;
    else high = middle;
  }
  return high;
}

/**
 * Loss coefficient of a part-closed valve that a blockage leaves only this share of its own opening: what comes down a drain lodges where it
 * is narrowest (modelling assumption). Without a valve, of the blockage alone.
 */
export const blockedValveK = (valveK: number, share: number): number =>
  share >= 1 ? valveK : obstructionK(openShareOf(valveK) * share);
