// Equilibrium constants of the carbonate system as functions of temperature and salinity, mol/kg of solution, total pH scale.
import { log, log10, smoothStep } from "../../sim/elementary.ts";
import { ZERO_CELSIUS_K } from "./temperature.ts";

/** ln K0, mol/(kg atm): solubility of CO2, -1 to 40 °C, 0-45 g/kg. Source: Weiss (1974), Mar. Chem. 2:203, eq. 12, mol/kg coefficients. */
export function lnCo2Solubility(temperatureC: number, salinityGPerKg: number): number {
  const hundreds = (temperatureC + ZERO_CELSIUS_K) / 100;
  const salt = 0.023517 + hundreds * (-0.023656 + hundreds * 0.0047036);
  return -60.2409 + 93.4517 / hundreds + 23.3585 * log(hundreds) + salinityGPerKg * salt;
}

/** The three fresh-water constants as -log10, 0-90 °C. Source: Plummer & Busenberg (1982), Geochim. Cosmochim. Acta 46:1011. */
export function freshCarbonatePk(temperatureC: number): { pkHenry: number; pk1: number; pk2: number } {
  const t = temperatureC + ZERO_CELSIUS_K;
  const logT = log10(t);
  return {
    pkHenry: -(108.3865 + 0.01985076 * t - 6919.53 / t - 40.45154 * logT + 669365 / (t * t)),
    pk1: 356.3094 + 0.06091964 * t - 21834.37 / t - 126.8339 * logT + 1684915 / (t * t),
    pk2: 107.8871 + 0.03252849 * t - 5151.79 / t - 38.92561 * logT + 563713.9 / (t * t),
  };
}

/** pK1 and pK2 in sea water, S 19-43 g/kg, 2-35 °C. Source: Lueker, Dickson & Keeling (2000), Mar. Chem. 70:105. */
function seaCarbonatePk(temperatureC: number, salinityGPerKg: number): { pk1: number; pk2: number } {
  const t = temperatureC + ZERO_CELSIUS_K;
  const lnT = log(t);
  const s = salinityGPerKg;
  return {
    pk1: 3633.86 / t - 61.2172 + 9.6777 * lnT - 0.011555 * s + 0.0001152 * s * s,
    pk2: 471.78 / t + 25.929 - 3.16967 * lnT - 0.01781 * s + 0.0001122 * s * s,
  };
}

/**
 * Difference of pK1 and pK2 from their fresh-water values, S 1-50 g/kg, 0-50 °C. Source: Millero (2010), Mar. Freshw.
 * Res. 61:139, total scale.
 */
function saltShift(temperatureC: number, salinityGPerKg: number): { pk1: number; pk2: number } {
  const t = temperatureC + ZERO_CELSIUS_K;
  const lnT = log(t);
  const s = salinityGPerKg;
  const root = Math.sqrt(s);
  return {
    pk1: 13.4051 * root + 0.03185 * s - 5.218e-5 * s * s + (-531.095 * root - 5.7789 * s) / t - 2.0663 * root * lnT,
    pk2: 21.5724 * root + 0.1212 * s - 3.714e-4 * s * s + (-798.292 * root - 18.951 * s) / t - 3.403 * root * lnT,
  };
}

/**
 * The brackish form and the sea-water fit are blended between these salinities; the upper one is the lower limit of
 * Lueker's range.
 */
const BRACKISH_G_PER_KG = 5;
const SEA_G_PER_KG = 19;

/**
 * pK1 and pK2, 0-40 °C, 0-45 g/kg: Plummer & Busenberg (1982) in pure water, Millero's (2010) salt effect up to
 * brackish water, and Lueker et al. (2000) from 19 g/kg up. A smooth step between 5 and 19 g/kg joins the last two
 * (modelling assumption; they differ by about 0.01 there).
 */
export function carbonatePk(temperatureC: number, salinityGPerKg: number): { pk1: number; pk2: number } {
  const fresh = freshCarbonatePk(temperatureC);
  const shift = saltShift(temperatureC, salinityGPerKg);
  const sea = seaCarbonatePk(temperatureC, salinityGPerKg);
  const seaShare = smoothStep((salinityGPerKg - BRACKISH_G_PER_KG) / (SEA_G_PER_KG - BRACKISH_G_PER_KG));
  return {
    pk1: (1 - seaShare) * (fresh.pk1 + shift.pk1) + seaShare * sea.pk1,
    pk2: (1 - seaShare) * (fresh.pk2 + shift.pk2) + seaShare * sea.pk2,
  };
}

/**
 * pKw (-log10 of mol²/kg²). Pure water: Harned & Hamer (1933) form of Stumm & Morgan, 4470.99/T - 6.0875 + 0.01706 T;
 * salt terms of Millero (1995), Geochim. Cosmochim. Acta 59:661, total scale.
 */
export function waterPk(temperatureC: number, salinityGPerKg: number): number {
  const t = temperatureC + ZERO_CELSIUS_K;
  const fresh = 4470.99 / t - 6.0875 + 0.01706 * t;
  const lnSalt = (118.67 / t - 5.977 + 1.0495 * log(t)) * Math.sqrt(salinityGPerKg) - 0.01615 * salinityGPerKg;
  return fresh - lnSalt / Math.LN10;
}

/** ln KB of boric acid, mol/kg, 0-45 °C, S 0-45 g/kg. Source: Dickson (1990), Deep-Sea Res. 37:755. */
export function lnBoricAcidConstant(temperatureC: number, salinityGPerKg: number): number {
  const t = temperatureC + ZERO_CELSIUS_K;
  const s = salinityGPerKg;
  const root = Math.sqrt(s);
  return (
    (-8966.9 - 2890.53 * root - 77.942 * s + 1.728 * s * root - 0.0996 * s * s) / t +
    148.0248 +
    137.1942 * root +
    1.62142 * s +
    (-24.4344 - 25.085 * root - 0.2474 * s) * log(t) +
    0.053105 * root * t
  );
}

/**
 * Total boron at a salinity, mol/kg, proportional to salinity (zero in fresh water). Source: Uppström (1974), Deep-Sea
 * Res. 21:161.
 */
export function boronMolPerKg(salinityGPerKg: number): number {
  return (0.0004157 * salinityGPerKg) / 35;
}
