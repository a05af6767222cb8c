// Solid waste as a keeper sees it: dry matter on a pad, mud in a chamber. Laws only; `operation/pads-and-sediment.ts` keeps the amounts.
import { pow } from "../../../sim/elementary.ts";
import { FAECES_SHARE, NITROGEN_PER_PROTEIN, SOLIDS_PER_FOOD } from "../../life/excretion.ts";
import type { Prefilter } from "../../rig.ts";
import { N_IN_ORGANICS } from "../kinetics/composition.ts";

/** Dry matter of organics [g/g COD]: 1.42 g COD per g, that of cell matter C5H7O2N (Henze et al. 2000, from memory). */
export const DRY_PER_COD = 1 / 1.42;
/** Protein share of the food for which the solids of a meal were measured (Timmons & Ebeling, from memory). */
const MEASURED_PROTEIN = 0.42;
/**
 * Solids of a gram of food, eaten or not, that neither dissolve within weeks nor hold nitrogen: ash and fibre [g/g]. It is what the organics that
 * go with the nitrogen of faeces leave of the 0.25 g of solids (Timmons & Ebeling): 0.08, about the ash and fibre of a dry feed (derived).
 */
export const INERT_PER_FOOD =
  SOLIDS_PER_FOOD - ((MEASURED_PROTEIN * NITROGEN_PER_PROTEIN * FAECES_SHARE) / N_IN_ORGANICS) * DRY_PER_COD;

/**
 * Dry waste that a pad of each grade holds when a tenth of the water begins to spill past it [g/m2]. No published source for such pads: set so that
 * 0.1 m2 of medium floss under 10 g of food a day is due within the two to four weeks of common practice; coarser holds more (modelling assumption).
 */
const HOLDS_G_PER_M2 = { coarse: 400, medium: 250, fine: 120 } as const;
/** With the fourth power a pad at half its load spills under one part in a hundred, at twice its load two thirds (modelling assumption). */
const STEEPNESS = 4;
const PASSING_PER_SPILT_AT_FULL = 9;

/** Dry waste on a pad at which a tenth of the water spills past it [g]. */
export const padHoldsG = ({ grade, areaM2 }: Pick<Prefilter, "grade" | "areaM2">): number => HOLDS_G_PER_M2[grade] * areaM2;

/** Share of the water that spills past a pad under a load, which is 1 when it has all it holds: x^4/(9 + x^4) (modelling assumption). */
export function blindedShareAt(load: number): number {
  return load > 0 ? 1 / (1 + PASSING_PER_SPILT_AT_FULL / pow(load, STEEPNESS)) : 0;
}

/** Load at which so much spills, 0..1; the inverse of `blindedShareAt`, infinite at 1. */
export function loadAtBlinded(share: number): number {
  return pow((PASSING_PER_SPILT_AT_FULL * share) / (1 - share), 1 / STEEPNESS);
}

/** Dry matter in settled mud [g/m3]: 5 %, the thin end of the 5 to 22 % of thickened fish-farm sludge (Sharrer et al. 2009, from a review). */
const MUD_DRY_G_PER_M3 = 50_000;

/** Depth of mud [m] from the dry matter lying on a plan area. */
export const mudDepthM = (dryG: number, planM2: number): number => dryG / MUD_DRY_G_PER_M3 / planM2;

/** Solids that are not in the state vector because nothing in the equations moves them. */
export interface SolidsState {
  /** Inert solids lying in each cell [g]. */
  readonly inertG: readonly number[];
  /** Load on each pad that the scenario states only by the share of the water it spills, as a share of what the pad holds. */
  readonly unweighedLoad: readonly number[];
}
