// Oxygen used by animals.
import { CARBON_DIOXIDE_G_PER_MOL, OXYGEN_GAS_G_PER_MOL } from "../water/molarMass.ts";
import { ZERO_CELSIUS_K } from "../water/temperature.ts";

const HOURS_PER_DAY = 24;

/** Exponent of whole-animal resting use over mass (Clarke & Johnston 1999). */
const MASS_EXPONENT = 0.8;

/**
 * Resting oxygen use of one fish, g O2/d: ln R = 15.7 - 5020/T for 50 g (mmol/h), times (M/50)^0.80.
 * Source: Clarke & Johnston (1999), J. Anim. Ecol. 68:893, all bony fish. Single species stray by a factor 2; invertebrates use less (no law here).
 */
export function restingOxygenGPerDay(massG: number, temperatureC: number): number {
  const mmolPerHour = Math.exp(15.7 - 5020 / (temperatureC + ZERO_CELSIUS_K)) * (massG / 50) ** MASS_EXPONENT;
  return (mmolPerHour * HOURS_PER_DAY * OXYGEN_GAS_G_PER_MOL) / 1000;
}

/** Ratio of the daily mean use of fed, active fish to the resting use (common practice, no published source; range 1.5-2.5). */
export const ACTIVITY_FACTOR = { low: 1.5, likely: 2, high: 2.5 } as const;

/** Carbon dioxide given off per oxygen used, g/g, at a respiratory quotient (1 = mole for mole, 1.375 g/g). */
export function co2PerOxygenGPerG(respiratoryQuotient: number): number {
  return (respiratoryQuotient * CARBON_DIOXIDE_G_PER_MOL) / OXYGEN_GAS_G_PER_MOL;
}
