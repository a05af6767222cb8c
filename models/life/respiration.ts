// Oxygen used by animals.

import { exp, hypot, log, pow } from "../../sim/elementary.ts";
import { HOURS_PER_DAY } from "../../sim/time.ts";
import { CARBON_DIOXIDE_G_PER_MOL, OXYGEN_GAS_G_PER_MOL } from "../water/molar-mass.ts";
import { ZERO_CELSIUS_K } from "../water/temperature.ts";

/** Exponent of whole-animal resting use over mass (Clarke & Johnston 1999). */
const MASS_EXPONENT = 0.8;

/**
 * Resting oxygen use of one fish, g O2/d: ln R = 15.7 - 5020/T for 50 g (mmol/h), times (M/50)^0.80.
 * Source: Clarke & Johnston (1999), J. Anim. Ecol. 68:893, all bony fish. Single species stray by a factor 2; invertebrates use less (no law here).
 */
export function restingOxygenGPerDay(massG: number, temperatureC: number): number {
  const mmolPerHour = exp(15.7 - 5020 / (temperatureC + ZERO_CELSIUS_K)) * pow(massG / 50, MASS_EXPONENT);
  return (mmolPerHour * HOURS_PER_DAY * OXYGEN_GAS_G_PER_MOL) / 1000;
}

/** One of the three ways a matter of chance may go. */
export type Case = "low" | "likely" | "high";

/**
 * Oxygen use over the resting rate: the daily mean of fed, active fish, and in a dark tank some hours after the last meal, close to rest
 * (common practice, no published source; range 1-2.5).
 */
export const ACTIVITY_FACTOR = {
  active: { low: 1.5, likely: 2, high: 2.5 },
  quiet: { low: 1, likely: 1.5, high: 2 },
} as const;

/** Hours after a meal during which fish count as fed: about where gut passage peaks (`gutStageRatePerDay`). */
export const FED_FOR_H = 6;

/** Single species stray from Clarke & Johnston's law by a factor 2; in a mixed stock part of it evens out: 1.4 is taken (modelling assumption). */
const SPECIES_FACTOR = 1.4;

/** Use over the resting rate: activity and species are independent, so their logarithms add in quadrature. */
export function useOverResting(how: keyof typeof ACTIVITY_FACTOR, which: Case): number {
  const activity = ACTIVITY_FACTOR[how];
  if (which === "likely") return activity.likely;
  const spread = hypot(log(activity[which] / activity.likely), log(SPECIES_FACTOR));
  return activity.likely * exp(which === "high" ? spread : -spread);
}

/** Carbon dioxide given off per oxygen used, g/g, at a respiratory quotient (1 = mole for mole, 1.375 g/g). */
export function co2PerOxygenGPerG(respiratoryQuotient: number): number {
  return (respiratoryQuotient * CARBON_DIOXIDE_G_PER_MOL) / OXYGEN_GAS_G_PER_MOL;
}
