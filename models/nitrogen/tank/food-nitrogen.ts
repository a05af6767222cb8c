// What becomes of the nitrogen in the food of groups of animals.
import { keptShare, NITROGEN_PER_PROTEIN } from "../../life/excretion.ts";
import type { AnimalGroup } from "../management.ts";

/** Share of the nitrogen eaten by some groups that their growth keeps, 0..1. */
export function keptByGrowth(groups: readonly AnimalGroup[]): number {
  let growthGPerDay = 0;
  let eatenGNPerDay = 0;
  for (const { count, massG, growthPerDay, foodGPerDay, uneatenShare, proteinShare } of groups) {
    growthGPerDay += count * massG * growthPerDay;
    eatenGNPerDay += foodGPerDay * (1 - uneatenShare) * proteinShare * NITROGEN_PER_PROTEIN;
  }
  return keptShare(growthGPerDay, eatenGNPerDay);
}
