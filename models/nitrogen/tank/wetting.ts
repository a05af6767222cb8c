// Wetted share of a tower's media.
import type { Rig, Tower } from "../../rig.ts";
import { BIOFILM_TENSION_N_PER_M, SPRINKLED_PLAN_SHARE, towerWetting } from "../../tower/wetting.ts";
import { liquidAt } from "../../water/liquid.ts";
import type { Management } from "../management.ts";

export const planM2 = (tower: Tower): number => tower.lengthM * tower.widthM;

/** The media as a packing for the packed-bed correlations. */
export const packingOf = ({ media }: Tower) => ({
  specificSurfaceM2PerM3: media.specificSurfaceM2PerM3,
  pieceM: media.pieceM,
  criticalTensionNPerM: BIOFILM_TENSION_N_PER_M,
});

/** Wetted share of a tower's surface: forced, given by the user, or from its distribution and flow. */
export function wettedShareOf(tower: Tower, rig: Rig, management: Management, flowM3PerS: number, forced: number | null): number {
  const stated = forced ?? tower.wettedShare;
  if (stated !== null) return stated;
  const bed = {
    ...packingOf(tower),
    planAreaM2: planM2(tower),
    planWidthM: Math.max(tower.lengthM, tower.widthM),
    depthM: tower.mediaDepthM,
  };
  return towerWetting(
    bed,
    liquidAt(management.temperatureC, rig.salinityGPerKg),
    flowM3PerS,
    SPRINKLED_PLAN_SHARE[tower.distribution],
    tower.arm,
  ).wettedShare;
}
