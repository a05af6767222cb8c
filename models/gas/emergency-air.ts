// Oxygen that people supply to the display during an outage: a battery air stone, or water poured from a jug.
import { airStoneKlaPerDay, stirredK600MPerDay, surfaceVelocityMPerDay } from "./surface-exchange.ts";
import { gamesonDeficitRatio, waterQualityFactor } from "./weir-aeration.ts";

/** Free air of a small battery pump [m3/h]: 60 to 120 L/h at the depth of a tank (common practice, no published source). */
export const BATTERY_AIR_M3_PER_H = 0.085;
/**
 * Share of its oxygen that a small stone transfers per metre of depth: 2 to 3 % (water-engineering practice, from memory; fine
 * discs reach 6, see `airStoneKlaPerDay`).
 */
const SMALL_STONE_PER_M = 0.025;
/** The rising bubbles stir the surface as much as this turnover would [1/h] (modelling assumption). */
const BUBBLES_STIR_AS_TURNOVERS_PER_HOUR = 3;
/** Depth of the stone in a deeper tank [m]: small pumps cannot blow deeper (common practice, no published source). */
const STONE_DEPTH_M = 0.4;

/**
 * Oxygen transfer added by a battery air stone [1/d]: by its bubbles and by the surface they stir. The output of pumps
 * in use varies by a factor of 1.5.
 */
export function batteryAirPerDay(
  airM3PerH: number,
  volumeM3: number,
  surfaceM2: number,
  temperatureC: number,
  salinityGPerKg: number,
): number {
  const depth = Math.min(STONE_DEPTH_M, volumeM3 / surfaceM2);
  const bubbles = airStoneKlaPerDay(airM3PerH, depth, volumeM3, SMALL_STONE_PER_M, temperatureC);
  const gain = stirredK600MPerDay(BUBBLES_STIR_AS_TURNOVERS_PER_HOUR) - stirredK600MPerDay(0);
  return bubbles + (surfaceM2 / volumeM3) * surfaceVelocityMPerDay("oxygen", temperatureC, salinityGPerKg, gain);
}

/**
 * Uncertainty of gas transfer at a still surface indoors, relative to the lake value of Cole & Caraco (1998): a factor
 * of 1.4 either way (modelling assumption). The case of low use assumes high supply.
 */
export const SUPPLY_FACTOR = { low: 1.4, likely: 1, high: 1 / 1.4 } as const;

/** Height from which water lifted with a jug falls back [m] (modelling assumption). */
const POURING_FALL_M = 0.3;

/**
 * Share of the oxygen deficit that one round of pouring removes, when the poured volume is about that of the display: 1
 * - 1/r, with the deficit ratio r of a free fall (Gameson 1957). The volume is common practice, no published source.
 */
export function pouringShare(temperatureC: number): number {
  return 1 - 1 / gamesonDeficitRatio(POURING_FALL_M, temperatureC, waterQualityFactor(0), 1);
}
