// When the pad and the sediment are due, and what skipping them does. Reckoned from the food, not followed by the model.
import { SOLIDS_PER_FOOD } from "../../models/life/excretion.ts";
import type { Run } from "../../models/nitrogen/timeline.ts";
import type { Finding } from "../result.ts";
import type { Words } from "../words.ts";

/** Share of the solids that does not dissolve within weeks, so that it is still there when the pad is looked at (modelling assumption). */
const LASTING_SHARE = 0.5;
/** Dry waste that a clean pad of each grade holds before water begins to spill past it [g/m2] (modelling assumption; no published source for such pads). */
const PAD_HOLDS_G_PER_M2 = { coarse: 400, medium: 250, fine: 120 } as const;
/** Sediment is due at this depth [m]; it is 5 % dry matter (modelling assumptions). */
const SEDIMENT_DUE_M = 0.01;
const SEDIMENT_DRY_G_PER_M3 = 50_000;

/** Lasting dry solids from the largest food of the run [g/d]: 0.25 g per g of food, Timmons & Ebeling. */
const solidsPerDay = (run: Run): number => Math.max(0, ...run.foodGPerDay) * SOLIDS_PER_FOOD * LASTING_SHARE;

const every = (days: number): string =>
  days < 2 ? "every day or two" : days > 180 ? "twice a year" : `every ${Math.round(days)} days`;

export function upkeepFindings(words: Words, run: Run): Finding[] {
  const { rig } = run.aquarium;
  const perDay = solidsPerDay(run);
  if (perDay <= 0) return [];
  const pads = rig.towers.flatMap((tower) => (tower.prefilter ? [tower.prefilter] : []));
  const findings: Finding[] = [];
  if (pads.length > 0) {
    const holds = pads.reduce((sum, pad) => sum + PAD_HOLDS_G_PER_M2[pad.grade] * pad.areaM2 * (1 - pad.blindedShare), 0);
    const days = holds / perDay;
    findings.push({
      id: "pad",
      topic: "upkeep",
      level: days < 7 ? "watch" : "info",
      word: "PAD",
      text: `Rinse or change the prefilter pad about ${every(days)}: what lasts of the waste is ${perDay.toPrecision(2)} g a day, and the pad takes about ${Math.round(holds)} g before water spills past it.`,
      value: days,
      unit: "d",
      advice:
        "Reckoned for all waste caught there; watch when water first spills. Skipped, the spilt share passes the media by: ammonia creeps up while the return flow looks the same. A new pad helps the same day, since the film is still there.",
    });
  }
  const settling = rig.sump.chambers.find((chamber) => chamber.role === "settling");
  if (settling) {
    const holds = SEDIMENT_DUE_M * settling.lengthM * rig.sump.widthM * SEDIMENT_DRY_G_PER_M3;
    const days = holds / perDay;
    findings.push({
      id: "sediment",
      topic: "upkeep",
      level: "info",
      word: "SEDIMENT",
      text: `Siphon the settling chamber about ${every(days)}, before the sediment is ${words.length(SEDIMENT_DUE_M)} deep.`,
      value: days,
      unit: "d",
      advice:
        "Reckoned for all waste settling there. Left lying it dissolves into ammonia and uses oxygen; taken out, its nitrogen never becomes nitrate.",
    });
  }
  return findings;
}
