// Which hydrogen ion a pH counts. Inside the models pH is on the total scale (mol/kg of solution), which in fresh water is the ordinary pH.
// A test kit or an electrode set with ordinary buffers reads the NBS scale; in sea water the two differ by 0.13-0.15.
import { exp, log, log10 } from "../../sim/elementary.ts";
import { ZERO_CELSIUS_K } from "./temperature.ts";

/** Total sulphate of sea water diluted or concentrated to a salinity, mol/kg (Morris & Riley 1966, as in Dickson, Sabine & Christian 2007, ch. 5). */
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
 * What an electrode set with ordinary (NBS) buffers reads, minus the pH of the total scale.
 * Source: activity factor of Takahashi et al. (1982, GEOSECS), fitted for sea water, neglecting the 0.01 between the sea-water and total scales;
 * faded out towards fresh water by 1 - exp(-S/5), which is a modelling assumption. Uncertain by about 0.03, so it belongs to display, not to chemistry.
 */
export function nbsMinusTotalPh(temperatureC: number, salinityGPerKg: number): number {
  const t = temperatureC + ZERO_CELSIUS_K;
  const activityFactor = 1.2948 - 0.002036 * t + (0.0004607 - 1.475e-6 * t) * salinityGPerKg * salinityGPerKg;
  return -log10(activityFactor) * (1 - exp(-salinityGPerKg / 5));
}
