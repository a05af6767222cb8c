// Intermittent dosing by a rotating arm. The water depth per pass determines how well a pass flushes the bed and how
// much surface it wets.
import type { Tower } from "../rig.ts";

export type Arm = NonNullable<Tower["arm"]>;

/**
 * Dosing intensity of a rotating distributor (its flushing intensity SK), mm of water per pass of an arm: SK = 1000
 * q/(arms × turns per hour). Source: design rule for wastewater trickling filters (ATV-DVWK-A 281, 2001; symbol and
 * form from memory).
 * @param loadMPerS hydraulic load, m³ per m² of plan area per second
 */
export function dosingIntensityMmPerPass(loadMPerS: number, arms: number, turnsPerMinute: number): number {
  return (60_000 * loadMPerS) / (arms * turnsPerMinute);
}

/** Time between two passes over the same point, s. */
export function secondsBetweenPasses(arms: number, turnsPerMinute: number): number {
  return 60 / (arms * turnsPerMinute);
}

/** Width of the strip that the jets of an arm wet, m (modelling assumption). */
const STRIP_M = 0.03;

/**
 * Hydraulic load at a point while an arm passes over it, m/s. All water of one turn falls during the time in which the
 * strip passes the point, at the mean radius of a round bed (a third of its width). Water that still flows from the
 * last pass fills the gaps, so a turn shorter than the contact time acts as a steady load. Modelling assumption; no
 * measurement at this scale was found. Wastewater practice reports that slow arms wet and flush better at the same
 * flow.
 * @param loadMPerS mean load of the plan area under the arm
 * @param contactS contact time of the flowing water in the bed
 */
export function passLoadMPerS(loadMPerS: number, arm: Arm, planWidthM: number, contactS: number): number {
  const roundS = secondsBetweenPasses(arm.arms, arm.turnsPerMinute);
  const speedMPerS = (2 * Math.PI * (planWidthM / 3) * arm.turnsPerMinute) / 60;
  const passS = Math.min(roundS, STRIP_M / speedMPerS);
  return loadMPerS * (1 + ((roundS / passS - 1) * roundS) / (roundS + contactS));
}

/** Turns per minute that give a specified dosing intensity (mm per pass). */
export function turnsPerMinuteFor(intensityMmPerPass: number, loadMPerS: number, arms: number): number {
  return (60_000 * loadMPerS) / (arms * intensityMmPerPass);
}

/**
 * Range of the German design rule for wastewater filters, mm per pass (ATV-DVWK-A 281, 2001, from memory). No rule is
 * published for fish-keeping.
 */
export const WASTEWATER_DOSING_RANGE_MM = { low: 4, high: 8 } as const;
