// A turning arm doses the bed in passes. How much water each pass lays down decides how well it flushes, and how much surface it wets.
import type { Tower } from "../rig.ts";

export type Arm = NonNullable<Tower["arm"]>;

/**
 * Dosing intensity of a rotating distributor, mm of water per pass of an arm: SK = 1000 q/(arms x turns per hour).
 * Source: the flushing force of wastewater trickling filters (ATV-DVWK-A 281, 2001; symbol and form from memory).
 * @param loadMPerS hydraulic load, m³ per m² of plan per second
 */
export function dosingIntensityMmPerPass(loadMPerS: number, arms: number, turnsPerMinute: number): number {
  return (60_000 * loadMPerS) / (arms * turnsPerMinute);
}

/** Time between two passes over the same spot, s. */
export function secondsBetweenPasses(arms: number, turnsPerMinute: number): number {
  return 60 / (arms * turnsPerMinute);
}

/** Width of the strip that the jets of an arm wet as they pass, m (modelling assumption). */
const STRIP_M = 0.03;

/**
 * Load that falls on a spot while an arm passes over it, m/s: all of a round's water comes in the time the strip takes to pass, at the mean radius
 * of a round bed (a third of its width). Water still running from the last pass fills the gaps, so a round shorter than the water's stay in the bed
 * counts as steady rain. Modelling assumption; no measurement at this scale was found. Wastewater practice reports slow arms to wet and flush
 * better at the same flow.
 * @param loadMPerS mean load of the plan under the arm
 * @param contactS stay of the running water in the bed
 */
export function passLoadMPerS(loadMPerS: number, arm: Arm, planWidthM: number, contactS: number): number {
  const roundS = secondsBetweenPasses(arm.arms, arm.turnsPerMinute);
  const speedMPerS = (2 * Math.PI * (planWidthM / 3) * arm.turnsPerMinute) / 60;
  const passS = Math.min(roundS, STRIP_M / speedMPerS);
  return loadMPerS * (1 + ((roundS / passS - 1) * roundS) / (roundS + contactS));
}

/** Turns per minute that give a wanted dosing intensity (mm per pass). */
export function turnsPerMinuteFor(intensityMmPerPass: number, loadMPerS: number, arms: number): number {
  return (60_000 * loadMPerS) / (arms * intensityMmPerPass);
}

/** Range of the German rule for wastewater filters, mm per pass (ATV-DVWK-A 281, 2001, from memory). For fish-keeping no rule is published. */
export const WASTEWATER_DOSING_RANGE_MM = { low: 4, high: 8 } as const;
