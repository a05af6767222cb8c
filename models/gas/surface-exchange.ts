// Gas transfer through the open surface and from bubbles.
import { exp, pow } from "../../sim/elementary.ts";
import { diffusivityM2PerS, type Solute } from "../water/diffusivity.ts";
import { kinematicViscosityM2PerS } from "../water/viscosity.ts";

/** Temperature factor of aeration, per K (common practice in water engineering; 1.024 since Elmore & West 1961, from memory). */
export const AERATION_THETA = 1.024;

/**
 * Transfer velocity of a still surface at Schmidt number 600, m/d: 2.07 cm/h, the calm limit of Cole & Caraco (1998),
 * Limnol. Oceanogr. 43:647.
 */
export const STILL_SURFACE_K600_M_PER_DAY = 2.07 * 0.24;

/** Transfer velocity of a strongly stirred tank surface, m/d (order of magnitude, low confidence; published range 0.5-2). */
const STIRRED_SURFACE_K600_M_PER_DAY = 2;

/**
 * Transfer velocity at Schmidt number 600, m/d, of a display stirred by its returns. It rises from the still value
 * towards 2 m/d with the turnover. Modelling assumption: two thirds of the rise at five turnovers per hour; no
 * measurement on aquaria was found.
 */
export function stirredK600MPerDay(turnoversPerHour: number): number {
  const gain = STIRRED_SURFACE_K600_M_PER_DAY - STILL_SURFACE_K600_M_PER_DAY;
  return STILL_SURFACE_K600_M_PER_DAY + gain * (1 - exp(-turnoversPerHour / 5));
}

/** Schmidt number of a dissolved gas: kinematic viscosity divided by diffusivity. */
export function schmidtNumber(gas: Solute, temperatureC: number, salinityGPerKg: number): number {
  return kinematicViscosityM2PerS(temperatureC, salinityGPerKg) / diffusivityM2PerS(gas, temperatureC, salinityGPerKg);
}

/**
 * Transfer velocity of a gas through an open surface, m/d: k600 (600/Sc)^(1/2) (Jähne et al. 1987). Temperature and
 * salinity act through the Schmidt number, which changes the velocity by about a factor of 1.024 per K, in agreement
 * with the aeration rule.
 */
export function surfaceVelocityMPerDay(gas: Solute, temperatureC: number, salinityGPerKg: number, k600MPerDay: number): number {
  return k600MPerDay * Math.sqrt(600 / schmidtNumber(gas, temperatureC, salinityGPerKg));
}

/**
 * Aeration coefficient of an air stone, 1/d: transfer efficiency × oxygen blown in / saturation, per volume of water. A
 * fine-bubble stone transfers about 6 % of its oxygen per metre of depth at zero oxygen, a coarse one 2 %
 * (water-engineering practice, from memory).
 * @param airM3PerH free air
 * @param efficiencyPerM share of the oxygen transferred per metre of depth
 */
export function airStoneKlaPerDay(
  airM3PerH: number,
  depthM: number,
  volumeM3: number,
  efficiencyPerM: number,
  temperatureC: number,
): number {
  const oxygenGPerM3Air = 279; // 0.2095 x 31.998 g/mol / 24.05 L/mol at 20 °C
  const saturationAt20CGPerM3 = 9.09;
  const at20C = (24 * airM3PerH * oxygenGPerM3Air * efficiencyPerM * depthM) / (saturationAt20CGPerM3 * volumeM3);
  return at20C * pow(AERATION_THETA, temperatureC - 20);
}
