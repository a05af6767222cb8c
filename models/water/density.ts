import { ipts68FromIts90 } from "./temperature.ts";

/**
 * Density of water at one atmosphere, kg/m³, 0-40 °C (ITS-90), 0-45 g/kg.
 * Source: one-atmosphere international equation of state EOS-80, Millero & Poisson (1981), Deep-Sea Res. 28A:625 (UNESCO 1981).
 */
export function densityKgPerM3(temperatureC: number, salinityGPerKg: number): number {
  const t = ipts68FromIts90(temperatureC);
  const s = salinityGPerKg;
  const pure = 999.842594 + t * (6.793952e-2 + t * (-9.09529e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
  const linear = 0.824493 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
  const threeHalves = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6);
  return pure + s * (linear + threeHalves * Math.sqrt(s) + 4.8314e-4 * s);
}

/**
 * Specific heat at one atmosphere, J/(kg K), 0-40 °C, 0-45 g/kg.
 * Source: Millero, Perron & Desnoyers (1973), J. Geophys. Res. 78:4499, as given in UNESCO Tech. Paper Mar. Sci. 44 (1983), eq. 26.
 */
export function specificHeatJPerKgK(temperatureC: number, salinityGPerKg: number): number {
  const t = ipts68FromIts90(temperatureC);
  const s = salinityGPerKg;
  const pure = 4217.4 + t * (-3.720283 + t * (0.1412855 + t * (-2.654387e-3 + t * 2.093236e-5)));
  const linear = -7.643575 + t * (0.1072763 - t * 1.38385e-3);
  const threeHalves = 0.1770383 + t * (-4.07718e-3 + t * 5.148e-5);
  return pure + s * (linear + threeHalves * Math.sqrt(s));
}
