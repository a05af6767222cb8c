// The wetted share of the media's surface, which limits the capacity of a tower.
import { exp, square } from "../../sim/elementary.ts";
import type { Distribution } from "../rig.ts";
import type { Liquid } from "../water/liquid.ts";
import { type Arm, passLoadMPerS } from "./dosing.ts";
import { contactTimeS, dynamicHoldup } from "./holdup.ts";
import { ondaWettedShare, type Packing } from "./onda.ts";

/**
 * Share of the plan area that each kind of distributor supplies at the top of the bed. Modelling assumption: no
 * measurement of wetted share against distributor was found for small towers. A level drip plate and an even spray
 * leave narrow dry edges, a rotating arm reaches the whole plan, and a single pipe end or a tilted plate supplies one
 * corner (keepers report about a quarter wetted).
 */
export const SPRINKLED_PLAN_SHARE: Readonly<Record<Distribution, number>> = {
  "drip plate": 0.95,
  "fixed spray": 0.85,
  "rotating arm": 1,
  "one-sided": 0.2,
};

/**
 * Lateral spread of trickling water in random packing, m² per m of fall (radial spread factor of order 3 mm; Hoftyzer
 * 1964, from memory).
 */
const SIDEWAYS_SPREAD_M = 0.003;

/**
 * Mean share of the plan area that carries water over the depth of the bed: the supplied share at the top, which grows
 * laterally by sqrt(4 D z), as in diffusion from a source, up to the whole plan.
 * @param sprinkledShare share at the top, 0-1
 * @param planWidthM width of the bed across which the water spreads
 */
export function carryingPlanShare(sprinkledShare: number, planWidthM: number, depthM: number): number {
  const missing = 1 - sprinkledShare;
  const reach = Math.sqrt(4 * SIDEWAYS_SPREAD_M * depthM) / planWidthM;
  if (reach <= missing) return sprinkledShare + (2 / 3) * reach;
  const fullBelow = square(missing / reach);
  return 1 - (missing * fullBelow) / 3;
}

/** Properties of a tower bed that wetting depends on. */
export interface TowerBed extends Packing {
  readonly planAreaM2: number;
  readonly planWidthM: number;
  readonly depthM: number;
}

export interface Wetting {
  /** Share of the plan area that carries water, mean over depth. */
  readonly carryingPlanShare: number;
  /** Share of all surface in the bed that is wetted, 0-1. */
  readonly wettedShare: number;
  /** Wetted surface, m². */
  readonly wettedAreaM2: number;
  /** The true wetted share lies between wettedShare / factor and wettedShare x factor (never above 1). */
  readonly uncertaintyFactor: number;
  /** Mean hydraulic load where water falls, m/s: the flow divided by the carrying part of the plan area, not by all of it. */
  readonly localLoadMPerS: number;
}

const M_PER_S_OF_5_M_PER_H = 5 / 3600;

/**
 * Uncertainty factor of the wetted share: 2 at loads under 5 m/h, where Onda's fit is extrapolated, falling smoothly to
 * 1.3 far above (Onda's own scatter is about 20 %; biofilm and distributor account for the rest). Modelling assumption.
 */
export function wettingUncertaintyFactor(loadMPerS: number): number {
  const above = Math.max(0, loadMPerS / M_PER_S_OF_5_M_PER_H - 1);
  return 1.3 + 0.7 * exp(-above);
}

/**
 * Wetted surface of a tower bed. Water falls on part of the plan (distributor), spreads as it falls, and wets the media
 * there as Onda's correlation gives for the local load. A bed with biofilm wets like a hydrophilic one: pass
 * `BIOFILM_TENSION_N_PER_M` as the packing's critical tension; a new, clean bed has that of its material. Under a
 * rotating arm the load of one pass counts, because the surface that it wets stays wet until the next pass.
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

/**
 * Critical tension of a surface covered by biofilm, N/m: that of water, because a biofilm is mostly water (modelling
 * assumption).
 */
export const BIOFILM_TENSION_N_PER_M = 0.073;

/** Critical tension of a partly covered bed: linear in the share of the surface that carries biofilm. */
export function maturingTensionNPerM(cleanTensionNPerM: number, filmCover: number): number {
  return cleanTensionNPerM + (BIOFILM_TENSION_N_PER_M - cleanTensionNPerM) * Math.min(1, Math.max(0, filmCover));
}
