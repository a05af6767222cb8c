// How much oxygen the bacteria on all surfaces use: no more than their food allows, shared out by wetted surface.
import { NITROGEN_PER_PROTEIN } from "../life/excretion.ts";
import { settledLoad } from "../nitrogen/mature.ts";
import type { AnimalGroup } from "../nitrogen/plan.ts";
import type { AtRest } from "./cut.ts";

/** A quantity with the ends of its range. */
export interface Spread {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/** Temperature of the figures below [°C] and their temperature factor per K (1.07, Henze et al. 2000, from memory). */
const AT_C = 25;
const THETA = 1.07;

/**
 * Oxygen that bacteria use per nitrogen in the food [g O2/g N at 25 °C]: the whole system uses 0.4-1.0 g per g of food, the animals 0.25-0.5 of it
 * (culture practice, from memory), which leaves 0.15-0.5 per g of food with 7.2 % N; oxidising ammonia alone takes 4.57. A cut without food
 * lowers it within a day or two, which is left out (it makes the clocks early).
 */
export const USE_PER_FOOD_NITROGEN: Spread = { low: 2.1, likely: 4.2, high: 7 };

/** Wetted surface of every place with film [m2]. */
export interface WettedSurfaces {
  readonly displaysM2: number;
  readonly towersM2: readonly number[];
  readonly totalM2: number;
}

export function wettedSurfaces({ rig, husbandry, wettedShare }: AtRest): WettedSurfaces {
  const displaysM2 = husbandry.surfaces.displayM2;
  const towersM2 = rig.towers.map(
    (tower, t) => tower.lengthM * tower.widthM * tower.mediaDepthM * tower.media.specificSurfaceM2PerM3 * wettedShare[t],
  );
  const submergedM2 = rig.sump.chambers.reduce(
    (sum, { submergedMedia: media }) => sum + (media ? media.volumeM3 * media.specificSurfaceM2PerM3 : 0),
    0,
  );
  return { displaysM2, towersM2, totalM2: displaysM2 + submergedM2 + towersM2.reduce((a, b) => a + b, 0) };
}

/** Oxygen used by one square metre of wetted surface [g/(m2 d)] at a temperature, for the food of some animals; without animals, for the test dose. */
export function filmUseGPerM2Day(rest: AtRest, groups: readonly AnimalGroup[], temperatureC: number): Spread {
  const { totalM2 } = wettedSurfaces(rest);
  if (totalM2 <= 0) return { low: 0, likely: 0, high: 0 };
  const fed = groups.reduce((sum, group) => sum + group.foodGPerDay * group.proteinShare * NITROGEN_PER_PROTEIN, 0);
  const volume = rest.volumesM3.reduce((a, b) => a + b, 0);
  const nitrogen = fed > 0 ? fed : settledLoad({ ...rest.husbandry, groups: [] }, volume).foodGN;
  const each = (nitrogen / totalM2) * THETA ** (temperatureC - AT_C);
  return {
    low: USE_PER_FOOD_NITROGEN.low * each,
    likely: USE_PER_FOOD_NITROGEN.likely * each,
    high: USE_PER_FOOD_NITROGEN.high * each,
  };
}
