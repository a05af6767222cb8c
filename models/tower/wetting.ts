// How much of the media's surface the falling water reaches: the number that decides what a tower can do.
import { exp, square } from "../../sim/elementary.ts";
import type { Distribution } from "../rig.ts";
import type { Liquid } from "../water/liquid.ts";
import { type Arm, passLoadMPerS } from "./dosing.ts";
import { contactTimeS, dynamicHoldup } from "./holdup.ts";
import { ondaWettedShare, type Packing } from "./onda.ts";

/**
 * Share of the plan that each way of spreading the water sprinkles at the top of the bed.
 * Modelling assumption: no measurement of wetted share against distributor was found for small towers; a level drip plate and an even spray leave
 * small dry rims, a turning arm passes everywhere, a single pipe end or a plate out of level serves a corner (keepers report about a quarter wetted).
 */
export const SPRINKLED_PLAN_SHARE: Readonly<Record<Distribution, number>> = {
  "drip plate": 0.95,
  "fixed spray": 0.85,
  "rotating arm": 1,
  "one-sided": 0.2,
};

/** Sideways spread of trickling water in random packing, m² per m of fall (radial spread factor of order 3 mm; Hoftyzer 1964, from memory). */
const SIDEWAYS_SPREAD_M = 0.003;

/**
 * Mean share of the plan that carries water over the depth of the bed: the sprinkled share at the top, growing by sqrt(4 D z) sideways
 * as a spreading source does, up to all of it.
 * @param sprinkledShare share at the top, 0-1
 * @param planWidthM width of the bed across which the water has to spread
 */
export function carryingPlanShare(sprinkledShare: number, planWidthM: number, depthM: number): number {
  const missing = 1 - sprinkledShare;
  const reach = Math.sqrt(4 * SIDEWAYS_SPREAD_M * depthM) / planWidthM;
  if (reach <= missing) return sprinkledShare + (2 / 3) * reach;
  const fullBelow = square(missing / reach);
  return 1 - (missing * fullBelow) / 3;
}

/** The bed of a tower as wetting sees it. */
export interface TowerBed extends Packing {
  readonly planAreaM2: number;
  readonly planWidthM: number;
  readonly depthM: number;
}

export interface Wetting {
  /** Share of the plan that carries water, mean over depth. */
  readonly carryingPlanShare: number;
  /** Share of all surface in the bed that is wetted, 0-1. */
  readonly wettedShare: number;
  /** Wetted surface, m². */
  readonly wettedAreaM2: number;
  /** The true wetted share lies between wettedShare / factor and wettedShare x factor (never above 1). */
  readonly uncertaintyFactor: number;
  /** Mean hydraulic load where the water falls, m/s: the flow over the carrying plan, not over the whole plan. */
  readonly localLoadMPerS: number;
}

const M_PER_S_OF_5_M_PER_H = 5 / 3600;

/**
 * How uncertain the wetted share is: a factor 2 at loads under 5 m/h, where Onda's fit is extrapolated, falling smoothly to 1.3 far above
 * (Onda's own scatter is about 20 %; the biofilm and the distributor add the rest). Modelling assumption.
 */
export function wettingUncertaintyFactor(loadMPerS: number): number {
  const above = Math.max(0, loadMPerS / M_PER_S_OF_5_M_PER_H - 1);
  return 1.3 + 0.7 * exp(-above);
}

/**
 * Surface of a tower bed that the water reaches. Water falls on part of the plan (distributor), spreads as it falls, and wets there what Onda's
 * law says for the local load. A bed with biofilm wets like a hydrophilic one: pass `BIOFILM_TENSION_N_PER_M` as the packing's critical tension;
 * a new, clean bed has that of its material. Under a turning arm the load is that of a pass: what it wets stays wet until the next one.
 * @param flowM3PerS through the bed
 * @param sprinkledShare from SPRINKLED_PLAN_SHARE, or measured
 */
export function towerWetting(
  bed: TowerBed,
  liquid: Liquid,
  flowM3PerS: number,
  sprinkledShare: number,
  arm: Arm | null = null,
): Wetting {
  const carrying = carryingPlanShare(sprinkledShare, bed.planWidthM, bed.depthM);
  const localLoadMPerS = flowM3PerS / (bed.planAreaM2 * carrying);
  const steady = ondaWettedShare(bed, liquid, localLoadMPerS);
  const wettedShare =
    carrying *
    (arm && localLoadMPerS > 0 ? ondaWettedShare(bed, liquid, passLoad(bed, liquid, localLoadMPerS, steady, arm)) : steady);
  return {
    carryingPlanShare: carrying,
    wettedShare,
    wettedAreaM2: wettedShare * bed.specificSurfaceM2PerM3 * bed.planAreaM2 * bed.depthM,
    uncertaintyFactor: wettingUncertaintyFactor(localLoadMPerS),
    localLoadMPerS,
  };
}

function passLoad(bed: TowerBed, liquid: Liquid, loadMPerS: number, steadyShare: number, arm: Arm): number {
  const flowing = dynamicHoldup(liquid, loadMPerS, steadyShare * bed.specificSurfaceM2PerM3);
  return passLoadMPerS(loadMPerS, arm, bed.planWidthM, contactTimeS(flowing, bed.depthM, loadMPerS));
}

/** Critical tension of a surface covered by biofilm, N/m: that of water itself, for a film that is mostly water (modelling assumption). */
export const BIOFILM_TENSION_N_PER_M = 0.073;

/** Critical tension of a bed on its way from clean to covered: in proportion to the share of the surface that carries film. */
export function maturingTensionNPerM(cleanTensionNPerM: number, filmCover: number): number {
  return cleanTensionNPerM + (BIOFILM_TENSION_N_PER_M - cleanTensionNPerM) * Math.min(1, Math.max(0, filmCover));
}
