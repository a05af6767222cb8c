// Oxygen uptake of animals.

import { exp, hypot, log, pow } from "../../sim/elementary.ts";
import { HOURS_PER_DAY } from "../../sim/time.ts";
import { CARBON_DIOXIDE_G_PER_MOL, OXYGEN_GAS_G_PER_MOL } from "../water/molar-mass.ts";
import { ZERO_CELSIUS_K } from "../water/temperature.ts";

/** Exponent of body mass in the resting oxygen uptake of a whole animal (Clarke & Johnston 1999). */
const MASS_EXPONENT = 0.8;

/**
 * Resting oxygen uptake of one fish, g O2/d: ln R = 15.7 - 5020/T for 50 g (mmol/h), times (M/50)^0.80. Source: Clarke
 * & Johnston (1999), J. Anim. Ecol. 68:893, all bony fish. Single species differ by a factor of 2; invertebrates take
 * up less (no relation here).
 */
export function restingOxygenGPerDay(massG: number, temperatureC: number): number {
  const mmolPerHour = exp(15.7 - 5020 / (temperatureC + ZERO_CELSIUS_K)) * pow(massG / 50, MASS_EXPONENT);
  return (mmolPerHour * HOURS_PER_DAY * OXYGEN_GAS_G_PER_MOL) / 1000;
}

/** Lower limit, likely value and upper limit of an uncertain quantity. */
export type Case = "low" | "likely" | "high";

/**
 * Ratio of oxygen uptake to the resting rate: active is the daily mean of fed fish; quiet, close to rest, applies in a
 * dark tank some hours after the last meal (common practice, no published source; range 1-2.5).
 */
export const ACTIVITY_FACTOR = {
  active: { low: 1.5, likely: 2, high: 2.5 },
  quiet: { low: 1, likely: 1.5, high: 2 },
} as const;

/** Time after a meal during which fish count as fed [h]: about the peak of gut passage (`gutStageRatePerDay`). */
export const FED_FOR_H = 6;

/**
 * Single species differ from Clarke & Johnston's relation by a factor of 2. In a mixed stock part of this averages out:
 * 1.4 (modelling assumption).
 */
const SPECIES_FACTOR = 1.4;

/** Ratio of uptake to the resting rate. Activity and species are independent, so their logarithms add in quadrature. */
export function useOverResting(how: keyof typeof ACTIVITY_FACTOR, which: Case): number {
  const activity = ACTIVITY_FACTOR[how];
  if (which === "likely") return activity.likely;
  const spread = hypot(log(activity[which] / activity.likely), log(SPECIES_FACTOR));
  return activity.likely * exp(which === "high" ? spread : -spread);
}

/** Carbon dioxide excreted per oxygen taken up, g/g, at a respiratory quotient (1 = mole per mole, 1.375 g/g). */
export function co2PerOxygenGPerG(respiratoryQuotient: number): number {
  return (respiratoryQuotient * CARBON_DIOXIDE_G_PER_MOL) / OXYGEN_GAS_G_PER_MOL;
}
