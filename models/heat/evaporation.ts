// Evaporation and latent heat loss from an open water surface into the room.
import { humidityRatio, latentHeatJPerKg, pureWaterSaturationPressurePa, saturationVapourPressurePa } from "../water/vapour.ts";

/**
 * Ratio of the evaporation of an undisturbed surface to the full pool equation (Smith, Löf & Jones 1998, ASHRAE Trans.
 * 104(1)).
 */
export const UNDISTURBED_FACTOR = 0.74;

/** The full pool equation applies to a surface that falling and pumped water keeps moving (the equation's own case). */
export const MOVING_FACTOR = 1;

/** Air velocity over a tank indoors [m/s] (modelling assumption). */
export const ROOM_AIR_M_PER_S = 0.1;

/**
 * Share of the open evaporation that remains under a cover with gaps for cables and feeding (common practice, no
 * published source).
 */
export const COVERED_FACTOR = 0.15;

/**
 * Latent heat flux per vapour-pressure difference, W/(m² Pa), at an air speed over the water (m/s): 0.089 + 0.0782 v in
 * the pool equation of Carrier (1918) and the ASHRAE handbook, where kW/(m² kPa) has the same value.
 */
export function evaporativeCoefficientWPerM2Pa(airSpeedMPerS: number): number {
  return 0.089 + 0.0782 * airSpeedMPerS;
}

/** Vapour pressure of room air, Pa, from its temperature (°C) and relative humidity (0-1). */
export function airVapourPressurePa(airTemperatureC: number, relativeHumidity: number): number {
  return relativeHumidity * pureWaterSaturationPressurePa(airTemperatureC);
}

/**
 * Latent heat flux from a surface, W/m² (negative when water condenses on it). Carrier/ASHRAE pool equation times a
 * surface factor (UNDISTURBED_FACTOR for a calm tank, 1 for a broken surface).
 */
export function evaporativeHeatWPerM2(
  waterTemperatureC: number,
  salinityGPerKg: number,
  airVapourPa: number,
  airSpeedMPerS: number,
  surfaceFactor: number,
): number {
  const excessPa = saturationVapourPressurePa(waterTemperatureC, salinityGPerKg) - airVapourPa;
  return surfaceFactor * evaporativeCoefficientWPerM2Pa(airSpeedMPerS) * excessPa;
}

/** Evaporation from a surface, kg/(m² s): latent heat flux divided by the latent heat at the water's temperature. */
export function evaporationKgPerM2S(
  waterTemperatureC: number,
  salinityGPerKg: number,
  airVapourPa: number,
  airSpeedMPerS: number,
  surfaceFactor: number,
): number {
  const heat = evaporativeHeatWPerM2(waterTemperatureC, salinityGPerKg, airVapourPa, airSpeedMPerS, surfaceFactor);
  return heat / latentHeatJPerKg(waterTemperatureC);
}

/**
 * An alternative form, kg/s, from humidity ratios: (25 + 19 v) A (x_s - x)/3600 (engineering handbooks, empirical; air
 * speed m/s, area m²).
 */
export function evaporationByHumidityKgPerS(
  areaM2: number,
  airSpeedMPerS: number,
  saturatedRatio: number,
  airRatio: number,
): number {
  return ((25 + 19 * airSpeedMPerS) * areaM2 * (saturatedRatio - airRatio)) / 3600;
}

/**
 * Water removed by the air through a tower, kg/s. Two limits in series: the air leaves at most saturated, and the
 * wetted media evaporate at most as much as an open surface of the same area (modelling assumption: harmonic sum of
 * both).
 * @param airKgPerS dry air through the tower
 * @param wettedAreaM2 wetted media surface
 */
export function towerEvaporationKgPerS(
  airKgPerS: number,
  wettedAreaM2: number,
  waterTemperatureC: number,
  salinityGPerKg: number,
  airVapourPa: number,
  pressurePa: number,
): number {
  const saturated = humidityRatio(saturationVapourPressurePa(waterTemperatureC, salinityGPerKg), pressurePa);
  const byAir = airKgPerS * (saturated - humidityRatio(airVapourPa, pressurePa));
  const bySurface = wettedAreaM2 * evaporationKgPerM2S(waterTemperatureC, salinityGPerKg, airVapourPa, 0, 1);
  return byAir === 0 || bySurface === 0 ? 0 : (byAir * bySurface) / (byAir + bySurface);
}
