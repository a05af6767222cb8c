// A turning arm doses the bed in passes. How much water each pass lays down decides how well it flushes.

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

/** Turns per minute that give a wanted dosing intensity (mm per pass). */
export function turnsPerMinuteFor(intensityMmPerPass: number, loadMPerS: number, arms: number): number {
  return (60_000 * loadMPerS) / (arms * intensityMmPerPass);
}

/** Range of the German rule for wastewater filters, mm per pass (ATV-DVWK-A 281, 2001, from memory). For fish-keeping no rule is published. */
export const WASTEWATER_DOSING_RANGE_MM = { low: 4, high: 8 } as const;
