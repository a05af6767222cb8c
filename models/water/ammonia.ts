// The share of total ammonia that is un-ionised, toxic NH3.
import { exp, exp10 } from "../../sim/elementary.ts";
import { ZERO_CELSIUS_K } from "./temperature.ts";

/** pKa of ammonium in fresh water, 0-50 °C. Source: Emerson, Russo, Lund & Thurston (1975), J. Fish. Res. Board Can. 32:2379. */
export function ammoniumPkaFresh(temperatureC: number): number {
  return 0.09018 + 2729.92 / (temperatureC + ZERO_CELSIUS_K);
}

/**
 * pKa of ammonium in sea water on the free hydrogen-ion scale (close to the NBS scale of an electrode), -2 to 40 °C, S 0-40 g/kg.
 * Source: Clegg & Whitfield (1995), Geochim. Cosmochim. Acta 59:2403 (stated accuracy of K about 5 %).
 */
export function ammoniumPkaFreeScale(temperatureC: number, salinityGPerKg: number): number {
  const t = temperatureC + ZERO_CELSIUS_K;
  const s = salinityGPerKg;
  return (
    9.244605 -
    2729.33 * (1 / 298.15 - 1 / t) +
    (0.0500616 - 9.412696 / t - 2.029559e-7 * t * t) * Math.sqrt(s) +
    (-0.0142372 + 1.46041e-5 * t + 3.730005 / t) * s +
    (7.14045e-5 - 0.0229021 / t) * s * s +
    (-5.521278e-7 + 1.95413e-4 / t) * s * s * s
  );
}

/**
 * pKa of ammonium on the pH scale of the models (total scale; ordinary pH in fresh water), 0-40 °C, 0-45 g/kg. Emerson
 * (1975) in pure water plus the salt effect of Yao & Millero (1995), Aquat. Geochem. 1:53: one smooth curve from fresh
 * to salt. Their sea-water scale is taken as the total scale. The difference of 0.01 changes NH3 by 2 %, less than the
 * scatter between authors (Clegg & Whitfield, converted to this scale, is 0.03 lower).
 */
export function ammoniumPka(temperatureC: number, salinityGPerKg: number): number {
  const t = temperatureC + ZERO_CELSIUS_K;
  const lnSaltEffect = (0.46532 - 123.7184 / t) * Math.sqrt(salinityGPerKg) + (-0.01992 + 3.17556 / t) * salinityGPerKg;
  return ammoniumPkaFresh(temperatureC) - lnSaltEffect / Math.LN10;
}

/**
 * An independent value for sea water, on a scale close to NBS, 5-25 °C, S 5-40 g/kg.
 * Source: Johansson & Wedborg (1980), as given in Bell et al. (2008), Environ. Chem. 5:258, eq. 3.
 */
export function ammoniumPkaJohanssonWedborg(temperatureC: number, salinityGPerKg: number): number {
  return 10.0423 - 0.0315536 * temperatureC + 0.003071 * salinityGPerKg;
}

/**
 * Un-ionised share of total ammonia, 0-1, from a pKa and a pH on the same scale. Its derivative with respect to pH is
 * ln(10) f (1 - f).
 */
export function unionisedFraction(ammoniumPkaValue: number, ph: number): number {
  return 1 / (1 + exp10(ammoniumPkaValue - ph));
}

/** Un-ionised ammonia nitrogen, g/m³, from total ammonia nitrogen, g/m³, with pH on the scale of the models. */
export function freeAmmoniaNGPerM3(tanGPerM3: number, ph: number, temperatureC: number, salinityGPerKg: number): number {
  return tanGPerM3 * unionisedFraction(ammoniumPka(temperatureC, salinityGPerKg), ph);
}

/**
 * Free ammonia as g NH3/m³ in fresh water, in the form that the published inhibition thresholds use.
 * Source: Anthonisen et al. (1976), J. WPCF 48:835.
 */
export function freeAmmoniaAnthonisenGPerM3(tanGPerM3: number, ph: number, temperatureC: number): number {
  const hydrogenInverse = exp10(ph);
  return ((17 / 14) * tanGPerM3 * hydrogenInverse) / (exp(6344 / (273 + temperatureC)) + hydrogenInverse);
}
