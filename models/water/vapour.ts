// Water vapour over the surface, for evaporation, gas solubility and the humid air of the tower.
import { cube, pow } from "../../sim/elementary.ts";
import { ZERO_CELSIUS_K } from "./temperature.ts";

/** IAPWS-IF97 region 4: the two coefficients of the reduced temperature. */
const REDUCED_NUMERATOR = -0.23855557567849;
const REDUCED_OFFSET_K = 650.17534844798;
/** Its other eight: the quadratic equation of the root of the pressure, in the reduced temperature. */
const A = [1167.0521452767, -724213.16703206] as const;
const B = [-17.073846940092, 12020.82470247, -3232555.0322333] as const;
const C = [14.91510861353, -4823.2657361591, 405113.40542057] as const;

/** Coefficients of that equation at a reduced temperature. */
const quadratic = (theta: number): { readonly a: number; readonly b: number; readonly c: number } => ({
  a: theta * theta + A[0] * theta + A[1],
  b: B[0] * theta * theta + B[1] * theta + B[2],
  c: C[0] * theta * theta + C[1] * theta + C[2],
});

/**
 * Saturation pressure of pure water, Pa, 0 to 374 °C.
 * Source: IAPWS-IF97 (Wagner et al. 2000), region 4, basic equation 30.
 */
export function pureWaterSaturationPressurePa(temperatureC: number): number {
  const temperatureK = temperatureC + ZERO_CELSIUS_K;
  const { a, b, c } = quadratic(temperatureK + REDUCED_NUMERATOR / (temperatureK - REDUCED_OFFSET_K));
  return 1e6 * pow((2 * c) / (-b + Math.sqrt(b * b - 4 * a * c)), 4);
}

/** Exact derivative of the saturation pressure with respect to temperature, Pa/K, for Jacobians. */
export function saturationPressureSlopePaPerK(temperatureC: number): number {
  const temperatureK = temperatureC + ZERO_CELSIUS_K;
  const gap = temperatureK - REDUCED_OFFSET_K;
  const theta = temperatureK + REDUCED_NUMERATOR / gap;
  const { a, b, c } = quadratic(theta);
  const aSlope = 2 * theta + A[0];
  const bSlope = 2 * B[0] * theta + B[1];
  const cSlope = 2 * C[0] * theta + C[1];
  const root = Math.sqrt(b * b - 4 * a * c);
  const rootSlope = (b * bSlope - 2 * (aSlope * c + a * cSlope)) / root;
  const q = (2 * c) / (-b + root);
  const qSlope = (2 * cSlope - q * (-bSlope + rootSlope)) / (-b + root);
  return 4e6 * cube(q) * qSlope * (1 - REDUCED_NUMERATOR / (gap * gap));
}

/** Factor on the vapour pressure for sea salt: 1 - 0.000537 S, S in g/kg (Green & Carritt 1967, J. Mar. Res. 25:140). */
export function salineVapourFactor(salinityGPerKg: number): number {
  return 1 - 0.000537 * salinityGPerKg;
}

/** Saturation vapour pressure, Pa, over water of a salinity (g/kg) and temperature (°C): IAPWS-IF97 times Green & Carritt (1967). */
export function saturationVapourPressurePa(temperatureC: number, salinityGPerKg: number): number {
  return pureWaterSaturationPressurePa(temperatureC) * salineVapourFactor(salinityGPerKg);
}

/** Mass of vapour per mass of dry air, kg/kg, at a vapour pressure and a total pressure (ideal gases, molar ratio 0.62198). */
export function humidityRatio(vapourPa: number, pressurePa: number): number {
  return (0.62198 * vapourPa) / (pressurePa - vapourPa);
}

/**
 * Latent heat of evaporation, J/kg: 2501 - 2.361 t kJ/kg (Henderson-Sellers 1984 and most handbooks; linear, within 0.1
 * % over 0-40 °C).
 */
export function latentHeatJPerKg(temperatureC: number): number {
  return 1000 * (2501 - 2.361 * temperatureC);
}
