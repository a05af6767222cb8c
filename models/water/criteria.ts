// Published limits for aquatic life. They inform the findings; none of them guarantees the welfare of particular animals.
import { exp10 } from "../../sim/elementary.ts";
import { unionisedFraction } from "./ammonia.ts";

/** Acute and chronic ammonia criteria for fresh water. */
export interface AmmoniaCriteria {
  /** Criterion maximum concentration (one-hour mean), g TAN-N/m³. */
  readonly acuteTanGPerM3: number;
  /** Criterion continuous concentration (30-day mean), g TAN-N/m³; the highest 4-day mean may reach 2.5 times this. */
  readonly chronicTanGPerM3: number;
}

/** Ratio of the highest permitted 4-day mean to the 30-day chronic criterion (US EPA 2013). */
export const FOUR_DAY_TO_CHRONIC_RATIO = 2.5;

/**
 * Fresh-water ammonia criteria by pH and temperature. Mussels and snails determine them, so they are strict for a fish tank.
 * Source: US EPA (2013), EPA-822-R-13-001.
 * @param salmonidsPresent selects the stricter acute criterion (genus Oncorhynchus present)
 */
export function freshAmmoniaCriteria(ph: number, temperatureC: number, salmonidsPresent: boolean): AmmoniaCriteria {
  const acutePh = exp10(7.204 - ph);
  const acuteShape = 0.0114 / (1 + acutePh) + 1.6181 / (1 + 1 / acutePh);
  const acuteWarm = 23.12 * exp10(0.036 * (20 - temperatureC));
  const salmonidAcute = 0.275 / (1 + acutePh) + 39 / (1 + 1 / acutePh);
  const generalAcute = 0.7249 * acuteShape * (salmonidsPresent ? acuteWarm : Math.min(51.93, acuteWarm));
  const chronicPh = exp10(7.688 - ph);
  const chronicShape = 0.0278 / (1 + chronicPh) + 1.1994 / (1 + 1 / chronicPh);
  return {
    acuteTanGPerM3: salmonidsPresent ? Math.min(salmonidAcute, generalAcute) : generalAcute,
    chronicTanGPerM3: 0.8876 * chronicShape * 2.126 * exp10(0.028 * (20 - Math.max(temperatureC, 7))),
  };
}

/** Salt-water criteria as un-ionised ammonia, g NH3/m³ (not as N). Source: US EPA (1989), EPA 440/5-88-004 (from memory). */
export const SALT_UNIONISED_ACUTE_G_NH3_PER_M3 = 0.233;
export const SALT_UNIONISED_CHRONIC_G_NH3_PER_M3 = 0.035;

/**
 * pKa of ammonium as the salt-water criteria document computes it (close to the NBS scale, 1 atm). Source: US EPA
 * (1989), after Whitfield and Khoo.
 */
export function ammoniumPkaEpa1989(temperatureC: number, salinityGPerKg: number): number {
  const temperatureK = temperatureC + 273.15;
  const ionicStrength = (19.9273 * salinityGPerKg) / (1000 - 1.005109 * salinityGPerKg);
  return 9.245 + 0.116 * ionicStrength + 0.0324 * (298 - temperatureK) + 0.0415 / temperatureK;
}

/** Salt-water acute criterion as TOTAL ammonia, g NH3/m³, at an NBS pH: 0.233 divided by the un-ionised share (US EPA 1989). */
export function saltAcuteTotalAmmoniaGNh3PerM3(phNbs: number, temperatureC: number, salinityGPerKg: number): number {
  return SALT_UNIONISED_ACUTE_G_NH3_PER_M3 / unionisedFraction(ammoniumPkaEpa1989(temperatureC, salinityGPerKg), phNbs);
}

/**
 * Dissolved-oxygen limits, g/m³. Fresh water: US EPA (1986), EPA 440/5-86-003, one-day minima and 30-day means for adult fish;
 * salt water: US EPA (2000), EPA-822-R-00-012 (Virginian Province): survival and growth. All from memory.
 */
export const OXYGEN_LIMITS_G_PER_M3 = {
  coldFresh: { oneDayMinimum: 4.0, thirtyDayMean: 6.5 },
  warmFresh: { oneDayMinimum: 3.0, thirtyDayMean: 5.5 },
  salt: { survival: 2.3, growth: 4.8 },
} as const;

/** Levels of effect on fresh-water animals, g O2/m³ (US EPA 1986, from memory). Null where the document gives no value. */
export const OXYGEN_EFFECT_LADDER_G_PER_M3 = {
  salmonid: { none: 8, slight: 6, moderate: 5, severe: 4, lethal: 3 },
  otherFish: { none: 6, slight: 5, moderate: 4, severe: 3.5, lethal: 3 },
  invertebrate: { none: 8, slight: null, moderate: 5, severe: null, lethal: 4 },
} as const;

/**
 * Mass ratio of chloride to nitrite-N that protects fresh-water fish: 16:1 in soft and 3:1 in hard water
 * (values of a recirculation guide, second-hand; not every species is protected).
 */
export const SHIELDING_CHLORIDE_TO_NITRITE = { soft: 16, hard: 3 } as const;

/** Mass ratio of chloride (g/m³) to nitrite-N (g/m³); infinite without nitrite. */
export function chlorideToNitrite(chlorideGPerM3: number, nitriteNGPerM3: number): number {
  return nitriteNGPerM3 > 0 ? chlorideGPerM3 / nitriteNGPerM3 : Number.POSITIVE_INFINITY;
}

/**
 * Chloride concentration, g/m³, from the salinity: 19.353 g of chloride in sea water of 35 g/kg (Millero et al. 2008
 * reference composition).
 */
export function chlorideOfSeaSaltGPerM3(salinityGPerKg: number, densityKgPerM3: number): number {
  return (19.353 / 35.165) * salinityGPerKg * densityKgPerM3;
}
