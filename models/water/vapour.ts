// Water vapour over the surface: needed by evaporation, by gas solubility and by the tower's humid air.
import { ZERO_CELSIUS_K } from "./temperature.ts";

/**
 * Saturation pressure of pure water, Pa, 0 to 374 °C.
 * Source: IAPWS-IF97 (Wagner et al. 2000), region 4, basic equation 30.
 */
export function pureWaterSaturationPressurePa(temperatureC: number): number {
  const temperatureK = temperatureC + ZERO_CELSIUS_K;
  const theta = temperatureK - 0.23855557567849 / (temperatureK - 650.17534844798);
  const a = theta * theta + 1167.0521452767 * theta - 724213.16703206;
  const b = -17.073846940092 * theta * theta + 12020.82470247 * theta - 3232555.0322333;
  const c = 14.91510861353 * theta * theta - 4823.2657361591 * theta + 405113.40542057;
  return 1e6 * ((2 * c) / (-b + Math.sqrt(b * b - 4 * a * c))) ** 4;
}

/** Lowering of the vapour pressure by sea salt, a fraction: 1 - 0.000537 S, S in g/kg (Green & Carritt 1967, J. Mar. Res. 25:140). */
export function salineVapourFactor(salinityGPerKg: number): number {
  return 1 - 0.000537 * salinityGPerKg;
}

/** Saturation vapour pressure, Pa, over water of a salinity (g/kg) and temperature (°C): IAPWS-IF97 times Green & Carritt (1967). */
export function saturationVapourPressurePa(temperatureC: number, salinityGPerKg: number): number {
  return pureWaterSaturationPressurePa(temperatureC) * salineVapourFactor(salinityGPerKg);
}

/** Latent heat of evaporation, J/kg: 2501 - 2.361 t kJ/kg (Henderson-Sellers 1984 and most handbooks; straight line, 0.1 % over 0-40 °C). */
export function latentHeatJPerKg(temperatureC: number): number {
  return 1000 * (2501 - 2.361 * temperatureC);
}
