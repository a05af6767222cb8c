// Saturation concentration of oxygen in water.
import { exp, log } from "../../sim/elementary.ts";
import { densityKgPerM3 } from "./density.ts";
import { OXYGEN_GAS_G_PER_MOL } from "./molar-mass.ts";
import { STANDARD_ATMOSPHERE_PA } from "./pressure.ts";
import { ipts68FromIts90, ZERO_CELSIUS_K } from "./temperature.ts";
import { salineVapourFactor } from "./vapour.ts";

/** Mole fraction of oxygen in dry air (US Standard Atmosphere 1976). */
export const OXYGEN_IN_DRY_AIR = 0.20946;

/**
 * Vapour pressure of pure water, atm, after Green & Carritt (1967), the form that the Benson & Krause pressure
 * correction uses.
 */
function greenCarrittVapourAtm(temperatureK: number): number {
  const ratio = 373.16 / temperatureK;
  return exp(
    18.1973 * (1 - ratio) +
      3.1813e-7 * (1 - exp(26.1205 * (1 - 1 / ratio))) -
      0.018726 * (1 - exp(8.03945 * (1 - ratio))) +
      5.02802 * log(ratio),
  );
}

/**
 * Oxygen saturation, g/m³ (= mg/L), in equilibrium with moist air at a total pressure (Pa), 0-40 °C, 0-45 g/kg, 50-110 kPa.
 * Source: Benson & Krause (1984), Limnol. Oceanogr. 29:620, eqs 24 and 32, as adopted by USGS OWQ Tech. Memo 2011.03.
 */
export function oxygenSaturationGPerM3(temperatureC: number, salinityGPerKg: number, pressurePa: number): number {
  const t = temperatureC;
  const temperatureK = t + ZERO_CELSIUS_K;
  const atm = pressurePa / STANDARD_ATMOSPHERE_PA;
  const fresh =
    -139.34411 +
    (1.575701e5 + (-6.642308e7 + (1.2438e10 - 8.621949e11 / temperatureK) / temperatureK) / temperatureK) / temperatureK;
  const salt = salinityGPerKg * (0.017674 - (10.754 - 2140.7 / temperatureK) / temperatureK);
  const vapour = salineVapourFactor(salinityGPerKg) * greenCarrittVapourAtm(temperatureK);
  const theta = 0.000975 - 1.426e-5 * t + 6.436e-8 * t * t;
  const pressure = (atm * (1 - vapour / atm) * (1 - theta * atm)) / ((1 - vapour) * (1 - theta));
  return exp(fresh - salt) * pressure;
}

/**
 * Oxygen saturation, g/m³, in equilibrium with a gas other than outdoor air, such as the headspace under the lid of a tower: the
 * saturation against air, scaled by the oxygen mole fraction of the dry gas (Henry's law).
 */
export function oxygenSaturationInGasGPerM3(
  temperatureC: number,
  salinityGPerKg: number,
  pressurePa: number,
  oxygenMoleFractionDry: number,
): number {
  return (oxygenSaturationGPerM3(temperatureC, salinityGPerKg, pressurePa) * oxygenMoleFractionDry) / OXYGEN_IN_DRY_AIR;
}

/**
 * Oxygen saturation at one atmosphere, µmol/kg: an independent fit that checks the one above.
 * Source: Garcia & Gordon (1992), Limnol. Oceanogr. 37:1307, eq. 8, Benson & Krause column (IPTS-68 temperature).
 */
export function oxygenSaturationGarciaGordonUmolPerKg(temperatureC: number, salinityGPerKg: number): number {
  const t68 = ipts68FromIts90(temperatureC);
  const x = log((298.15 - t68) / (ZERO_CELSIUS_K + t68));
  const fresh = 5.80871 + x * (3.20291 + x * (4.17887 + x * (5.10006 + x * (-9.86643e-2 + x * 3.80369))));
  const salt = -7.01577e-3 + x * (-7.70028e-3 + x * (-1.13864e-2 - x * 9.51519e-3));
  return exp(fresh + salinityGPerKg * salt - 2.75915e-7 * salinityGPerKg * salinityGPerKg);
}

/** Garcia & Gordon (1992) saturation at one atmosphere in g/m³. */
export function oxygenSaturationGarciaGordonGPerM3(temperatureC: number, salinityGPerKg: number): number {
  const molPerKg = 1e-6 * oxygenSaturationGarciaGordonUmolPerKg(temperatureC, salinityGPerKg);
  return molPerKg * densityKgPerM3(temperatureC, salinityGPerKg) * OXYGEN_GAS_G_PER_MOL;
}
