// Solid waste: dry matter on a pad, sediment in a chamber. Relations only; `operation/pads-and-sediment.ts` keeps the amounts.
import { pow } from "../../../sim/elementary.ts";
import { FAECES_SHARE, NITROGEN_PER_PROTEIN, SOLIDS_PER_FOOD } from "../../life/excretion.ts";
import type { Prefilter } from "../../rig.ts";
import { N_IN_ORGANICS } from "../kinetics/composition.ts";

/** Dry matter of organics [g/g COD]: 1.42 g COD per g, that of cell material C5H7O2N (Henze et al. 2000, from memory). */
export const DRY_PER_COD = 1 / 1.42;
/** Protein share of the food for which the solids of a meal were measured (Timmons & Ebeling, from memory). */
const MEASURED_PROTEIN = 0.42;
/**
 * Inert solids of food, eaten or not, which neither degrade within weeks nor contain nitrogen: ash and fibre [g/g]. It
 * is the difference between the 0.25 g of solids (Timmons & Ebeling) and the organics that contain the nitrogen of
 * faeces: 0.08, about the ash and fibre of a dry feed (derived).
 */
export const INERT_PER_FOOD =
  SOLIDS_PER_FOOD - ((MEASURED_PROTEIN * NITROGEN_PER_PROTEIN * FAECES_SHARE) / N_IN_ORGANICS) * DRY_PER_COD;

/**
 * Capacity of a pad of each grade: dry waste at which a tenth of the water bypasses it [g/m²]. No published source for
 * such pads. Set so that 0.1 m² of medium floss under 10 g of food a day is due within the two to four weeks of common
 * practice; coarser pads hold more (modelling assumption).
 */
const HOLDS_G_PER_M2 = { coarse: 400, medium: 250, fine: 120 } as const;
/**
 * Exponent: with the fourth power, less than one part in a hundred bypasses a pad at half its load, two thirds at twice
 * its load (modelling assumption).
 */
const STEEPNESS = 4;
const PASSING_PER_SPILT_AT_FULL = 9;

/** Capacity of a pad: dry waste at which a tenth of the water bypasses it [g]. */
export const padHoldsG = ({ grade, areaM2 }: Pick<Prefilter, "grade" | "areaM2">): number => HOLDS_G_PER_M2[grade] * areaM2;

/** Share of the water that bypasses a pad under a load relative to its capacity: x⁴/(9 + x⁴) (modelling assumption). */
export function blindedShareAt(load: number): number {
  return load > 0 ? 1 / (1 + PASSING_PER_SPILT_AT_FULL / pow(load, STEEPNESS)) : 0;
}

/** Relative load at which a share of the water bypasses the pad; the inverse of `blindedShareAt`, infinite at 1. */
export function loadAtBlinded(share: number): number {
  return pow((PASSING_PER_SPILT_AT_FULL * share) / (1 - share), 1 / STEEPNESS);
}

/**
 * Dry matter in sediment [g/m³]: 5 %, the lower limit of the 5 to 22 % of thickened fish-farm sludge (Sharrer et al.
 * 2009, from a review).
 */
const MUD_DRY_G_PER_M3 = 50_000;

/** Depth of sediment [m] from the dry matter on a plan area. */
export const mudDepthM = (dryG: number, planM2: number): number => dryG / MUD_DRY_G_PER_M3 / planM2;

/** Dry matter of a cell whose water is sediment up to the surface [g]. */
export const sedimentRoomG = (waterM3: number): number => MUD_DRY_G_PER_M3 * waterM3;

/**
 * Share of its retention that a place still has when sediment fills a share of its water: 1 - x⁴. The retention of a
 * basin does not depend on its depth (Hazen 1904, from memory) until the water over the sediment is so shallow, and so
 * fast, that it lifts as much as settles (Camp 1946, from memory). The fourth power stands for that onset: 94 % at half
 * full, nothing when full (modelling assumption).
 */
export const retentionAt = (filledShare: number): number =>
  Math.max(0, 1 - filledShare * filledShare * filledShare * filledShare);

/** Solids that are not in the state vector, because no term of the equations moves them. */
export interface SolidsState {
  /** Inert solids in each cell [g], in the order of the cells. */
  readonly inertG: readonly number[];
  /** Extra load on each pad, relative to its capacity, that a scenario implies by a share of bypassed water; it has no mass. */
  readonly unweighedLoad: readonly number[];
}
