// Conversion between pH scales. The models use the total scale (mol/kg of solution), which in fresh water is the ordinary pH.
// A test kit, or an electrode calibrated with ordinary buffers, reads the NBS scale; in sea water the two differ by 0.13-0.15.
import { exp, log, log10 } from "../../sim/elementary.ts";
import { ZERO_CELSIUS_K } from "./temperature.ts";

/**
 * Total sulphate at a salinity, mol/kg, in proportion to that of sea water (Morris & Riley 1966, as in Dickson, Sabine
 * & Christian 2007, ch. 5).
 */
export function sulphateMolPerKg(salinityGPerKg: number): number {
  return ((0.14 / 96.062) * salinityGPerKg) / 1.80655;
}

/**
 * Natural logarithm of the dissociation constant of bisulphate, mol/kg of solution, free scale, S up to 45 g/kg.
 * Source: Dickson (1990), J. Chem. Thermodyn. 22:113, as in Dickson, Sabine & Christian (2007), ch. 5.
 */
export function lnBisulphateConstant(temperatureC: number, salinityGPerKg: number): number {
  const t = temperatureC + ZERO_CELSIUS_K;
  const lnT = log(t);
  const ionic = (19.924 * salinityGPerKg) / (1000 - 1.005 * salinityGPerKg);
  const root = Math.sqrt(ionic);
  return (
    -4276.1 / t +
    141.328 -
    23.093 * lnT +
    (-13856 / t + 324.57 - 47.986 * lnT) * root +
    (35474 / t - 771.54 + 114.723 * lnT) * ionic -
    (2698 / t) * ionic * root +
    (1776 / t) * ionic * ionic +
    log(1 - 0.001005 * salinityGPerKg)
  );
}

/** pK on the free scale minus pK on the total scale: log10(1 + S_T/K_S). Zero in fresh water, 0.11 in sea water at 25 °C. */
export function freeMinusTotalPk(temperatureC: number, salinityGPerKg: number): number {
  return log10(1 + sulphateMolPerKg(salinityGPerKg) / exp(lnBisulphateConstant(temperatureC, salinityGPerKg)));
}

/**
 * Reading of an electrode calibrated with ordinary (NBS) buffers, minus the pH on the total scale. Source: activity
 * factor of Takahashi et al. (1982, GEOSECS), fitted for sea water; the difference of 0.01 between the sea-water and
 * total scales is neglected. The factor 1 - exp(-S/5) brings it to zero in fresh water (modelling assumption). The
 * uncertainty is about 0.03, so use it for display only, not in the chemistry.
 */
export function nbsMinusTotalPh(temperatureC: number, salinityGPerKg: number): number {
  const t = temperatureC + ZERO_CELSIUS_K;
  const activityFactor = 1.2948 - 0.002036 * t + (0.0004607 - 1.475e-6 * t) * salinityGPerKg * salinityGPerKg;
  return -log10(activityFactor) * (1 - exp(-salinityGPerKg / 5));
}
