// Fate of the nitrogen in the food of groups of animals.
import { NITROGEN_PER_PROTEIN, retainedShare, USUAL_KEPT_SHARE } from "../../life/excretion.ts";
import type { AnimalGroup } from "../management.ts";

/** Share of the nitrogen eaten by some groups that their growth retains, 0-1. */
export function retainedByGrowth(groups: readonly AnimalGroup[]): number {
  let keptGN = 0;
  let eatenGN = 0;
  for (const { count, massG, growthPerDay, foodGPerDay, uneatenShare, proteinShare } of groups) {
    const eaten = foodGPerDay * (1 - uneatenShare) * proteinShare * NITROGEN_PER_PROTEIN;
    eatenGN += eaten;
    keptGN += eaten * (growthPerDay === null ? USUAL_KEPT_SHARE : retainedShare(count * massG * growthPerDay, eaten));
  }
  return eatenGN > 0 ? keptGN / eatenGN : 0;
}
