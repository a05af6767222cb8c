// Nitrogen excretion of animals: from food within hours, from their own tissue when unfed, and from their bodies when dead.
import { exp, pow } from "../../sim/elementary.ts";
import { ZERO_CELSIUS_K } from "../water/temperature.ts";

/** Nitrogen content of protein, g N per g (1/6.25, the Jones factor). */
export const NITROGEN_PER_PROTEIN = 0.16;

/**
 * Share of the food's nitrogen that becomes faeces: 0.25 g solids per g food (Timmons & Ebeling) at 5 % N, for food
 * with 42 % protein (derived).
 */
export const FAECES_SHARE = 0.19;

/** Largest share of the eaten nitrogen that growth retains: fast-growing farmed fish retain up to about 0.45 (from memory). */
const MOST_KEPT_SHARE = 0.45;

/**
 * Share of the eaten nitrogen that animals of unknown growth retain: 0.17, the published partition of fed farm fish
 * (see `ammoniaShare`). Animals that are known not to grow retain none.
 */
export const USUAL_KEPT_SHARE = 0.17;

/** Share of the eaten nitrogen that animals retain: the demand of their growth, at the nitrogen content of whole fish. */
export function retainedShare(growthGPerDay: number, eatenGNPerDay: number): number {
  if (!(eatenGNPerDay > 0)) return 0;
  return Math.min(MOST_KEPT_SHARE, (Math.max(0, growthGPerDay) * CARCASS_NITROGEN_SHARE) / eatenGNPerDay);
}

/**
 * Share of the eaten nitrogen that becomes ammonia: all that is neither faeces nor growth. Urea, about a tenth of the
 * dissolved excretion, counts as ammonia, because bacteria hydrolyse it within hours. Growing farm fish excrete 0.092 g
 * of TAN per g of protein (Timmons & Ebeling, from memory), a share of 0.575, and 0.64 with their urea; this rule gives
 * that value at a growth that retains 0.17.
 */
export const ammoniaShare = (kept = 0): number => 1 - FAECES_SHARE - kept;

/** TAN per g of protein eaten by animals that do not grow [g N/g], the upper limit. */
export const TAN_PER_PROTEIN = NITROGEN_PER_PROTEIN * ammoniaShare();

/** TAN per g of protein eaten by animals of unknown growth [g N/g]. */
export const USUAL_TAN_PER_PROTEIN = NITROGEN_PER_PROTEIN * ammoniaShare(USUAL_KEPT_SHARE);

/** TAN from eaten food, g N per day. @param kept share of its nitrogen that growth retains */
export function tanFromFoodGPerDay(foodGPerDay: number, proteinShare: number, kept = 0): number {
  return NITROGEN_PER_PROTEIN * ammoniaShare(kept) * foodGPerDay * proteinShare;
}

/** Time after a meal at which excretion peaks at 20 °C [h]. */
const PEAK_HOURS_AT_20C = 4.5;
/** Temperature factor of gut passage, per K: it halves the time from 12 to 25 °C (Lee 2015, olive flounder). */
const GUT_THETA = 1.055;

/**
 * Rate of each of the two equal stages in series (gut, then body) through which a meal's nitrogen passes, 1/d. The
 * release peaks at 1/rate after the meal. 4.5 h at 20 °C is the geometric mean of measured peaks: sockeye 4-4.5 h at 15
 * °C (Brett & Zala 1975), seabream within 0-4.5 h at 24 °C (Porter 1987), olive flounder 12 h at 12 °C and 6 h at 25 °C
 * (Lee 2015); single species differ by a factor of 1.7.
 */
export function gutStageRatePerDay(temperatureC: number): number {
  return (24 / PEAK_HOURS_AT_20C) * pow(GUT_THETA, temperatureC - 20);
}

/** Release of a single meal, share per day, at a time after it: the closed form of the two stages, r² t exp(-r t). */
export function mealReleasePerDay(stageRatePerDay: number, daysSinceMeal: number): number {
  return daysSinceMeal > 0 ? stageRatePerDay * stageRatePerDay * daysSinceMeal * exp(-stageRatePerDay * daysSinceMeal) : 0;
}

/**
 * TAN of an unfed fish from its own tissue, g N/d: 6.7 mg N/kg/h for 50 g at 20 °C, with the mass and temperature
 * dependence of resting oxygen uptake. The level is the geometric mean of seabream 10-16 (24 °C, Porter 1987), sockeye
 * 8.2 (15 °C, Brett & Zala 1975) and Japanese flounder 2.3 (20 °C, Kikuchi), converted to 50 g and 20 °C; single
 * species differ by a factor of 2.
 */
export function endogenousTanGPerDay(massG: number, temperatureC: number): number {
  const perHourGPerKg = 6.7e-3 * exp(5020 * (1 / (20 + ZERO_CELSIUS_K) - 1 / (temperatureC + ZERO_CELSIUS_K)));
  return perHourGPerKg * 24 * (massG / 1000) * pow(massG / 50, -0.2);
}

/**
 * Endogenous excretion during the release of a meal, g N/d: it decreases smoothly as the meal covers the demand, e²/(e
 * + r), so that the nitrogen of a fed animal comes from its food and that of a starved one from its tissue (modelling
 * assumption).
 */
export function endogenousBesideMeal(endogenousGPerDay: number, mealReleaseGPerDay: number): number {
  const sum = endogenousGPerDay + mealReleaseGPerDay;
  return sum > 0 ? (endogenousGPerDay * endogenousGPerDay) / sum : 0;
}

/** Nitrogen content of a dead animal, g N per g wet mass (2.6-2.9 %, body composition tables, from memory). */
export const CARCASS_NITROGEN_SHARE = 0.0275;

/**
 * Dissolution rate of a dead animal, 1/d: 0.3 at 25 °C (0.2-0.4 assumed; no measured source found), doubling per 10 K
 * (modelling assumption).
 */
export function carcassDecayPerDay(temperatureC: number): number {
  return 0.3 * pow(2, (temperatureC - 25) / 10);
}

/** Dry solids excreted per g of food, g (0.25, Timmons & Ebeling, from memory). */
export const SOLIDS_PER_FOOD = 0.25;
