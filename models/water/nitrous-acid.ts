// Nitrous acid: the undissociated share of nitrite. It is tiny above pH 7 and inhibits bacteria below pH 6.
import { exp, exp10 } from "../../sim/elementary.ts";

/**
 * pKa of nitrous acid. Source: Anthonisen, Loehr, Prakasam & Srinath (1976), J. WPCF 48:835: K = exp(-2300/(273 + t)), fresh water.
 * No salt correction (modelling assumption: the share is negligible at the pH of sea water).
 */
export function nitrousAcidPka(temperatureC: number): number {
  return 2300 / (273 + temperatureC) / Math.LN10;
}

/** Share of total nitrite that is HNO2, 0-1, from its pKa and the pH. Its derivative with respect to pH is -ln(10) f (1 - f). */
export function nitrousAcidFraction(nitrousAcidPkaValue: number, ph: number): number {
  return 1 / (1 + exp10(ph - nitrousAcidPkaValue));
}

/** Free nitrous acid as g HNO2/m³, in the published form of Anthonisen et al. (1976), which neglects HNO2 in the total. */
export function freeNitrousAcidAnthonisenGPerM3(nitriteNGPerM3: number, ph: number, temperatureC: number): number {
  return ((46 / 14) * nitriteNGPerM3) / (exp(-2300 / (273 + temperatureC)) * exp10(ph));
}
