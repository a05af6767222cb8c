// Oxygen transfer at a free fall over a weir.
import { exp, pow } from "../../sim/elementary.ts";

/** Factor of the kind of weir: sharp-crested with free fall, step, sloping face (Gameson 1957; values from memory). */
export const WEIR_KIND_FACTOR = { "free fall": 1.0, step: 1.3, "sloping face": 0.2 } as const;

/** Water-quality factor: 1.9/BOD^0.44, at most 1.8 (clean water); BOD in g/m³ (Gameson, as implemented in a public river model). */
export function waterQualityFactor(bodGPerM3: number): number {
  return bodGPerM3 > 0 ? Math.min(1.9 / pow(bodGPerM3, 0.44), 1.8) : 1.8;
}

/**
 * Deficit ratio r = (C_s - C_1)/(C_s - C_2) of a fall: 1 + 0.38 a b h (1 - 0.11 h)(1 + 0.046 T), with h in m up to about 4.
 * Source: Gameson (1957), J. Inst. Water Eng. 11:477, in the metric form of the UK Department of the Environment (1973).
 */
export function gamesonDeficitRatio(fallM: number, temperatureC: number, qualityFactor: number, kindFactor: number): number {
  return 1 + 0.38 * qualityFactor * kindFactor * fallM * (1 - 0.11 * fallM) * (1 + 0.046 * temperatureC);
}

/**
 * Deficit ratio that includes the flow over the weir and the tailwater depth: ln r20 = 0.0675 h^1.28 (3600 q)^0.62
 * H^0.439 for clean water at 20 °C, then r = 1 + (r20 - 1) a b (1 + 0.02 (T - 20)). Source: Nakasone (1987) for falls
 * under 1.2 m, combined with Gameson as in a public river model. It was fitted on rivers; for the thin sheet of a tank
 * weir (a few m²/h, falls of 0.1-0.3 m) it gives a tenth of Gameson. No measurement at that size was found; use Gameson
 * as the likely and this as the low value.
 * @param flowM2PerS flow per metre of weir
 * @param tailwaterM depth of the water into which it falls
 */
export function nakasoneDeficitRatio(
  fallM: number,
  flowM2PerS: number,
  tailwaterM: number,
  temperatureC: number,
  qualityFactor: number,
  kindFactor: number,
): number {
  const at20C = exp(0.0675 * pow(fallM, 1.28) * pow(3600 * flowM2PerS, 0.62) * pow(tailwaterM, 0.439));
  return 1 + (at20C - 1) * qualityFactor * kindFactor * (1 + 0.02 * (temperatureC - 20));
}

/** Concentration after a fall: (C_s (r - 1) + C_1)/r, in the unit of the arguments. */
export function afterFall(saturation: number, before: number, deficitRatio: number): number {
  return (saturation * (deficitRatio - 1) + before) / deficitRatio;
}

/**
 * Deficit ratio of another gas: r to the power of the square root of the ratio of diffusivities (surface renewal,
 * Danckwerts 1951).
 */
export function deficitRatioOfGas(oxygenRatio: number, oxygenDiffusivity: number, gasDiffusivity: number): number {
  return pow(oxygenRatio, Math.sqrt(gasDiffusivity / oxygenDiffusivity));
}
