// pH from alkalinity, inorganic carbon and ammonia. Alkalinity here is carbonate + borate + NH3 + hydroxide - hydrogen ion.
// It omits the phosphate and organic parts of a titrated alkalinity (modelling assumption: under 2 % of it in a stocked tank).
import { exp, exp10 } from "../../sim/elementary.ts";
import { ammoniumPka } from "./ammonia.ts";
import { boronMolPerKg, carbonatePk, lnBoricAcidConstant, lnCo2Solubility, waterPk } from "./carbonate-equilibria.ts";
import { densityKgPerM3 } from "./density.ts";
import { STANDARD_ATMOSPHERE_PA } from "./pressure.ts";
import { saturationVapourPressurePa } from "./vapour.ts";

/**
 * Constants of the pH solver at one temperature and salinity, per cubic metre of water. Compute them once per cell, not
 * per call.
 */
export interface CarbonateConstants {
  readonly temperatureC: number;
  readonly salinityGPerKg: number;
  readonly densityKgPerM3: number;
  /** Solubility of CO2, mol/(m³ atm). */
  readonly k0: number;
  /** First and second dissociation constants of carbonic acid and that of boric acid, mol/m³. */
  readonly k1: number;
  readonly k2: number;
  readonly kb: number;
  /** Dissociation constant of ammonium, mol/m³. */
  readonly kn: number;
  /** Ion product of water, mol²/m⁶. */
  readonly kw: number;
  readonly boronMolPerM3: number;
}

/** Constants for 0-40 °C and 0-45 g/kg; sources in carbonate-equilibria.ts. */
export function carbonateConstants(temperatureC: number, salinityGPerKg: number): CarbonateConstants {
  const density = densityKgPerM3(temperatureC, salinityGPerKg);
  const { pk1, pk2 } = carbonatePk(temperatureC, salinityGPerKg);
  return {
    temperatureC,
    salinityGPerKg,
    densityKgPerM3: density,
    k0: density * exp(lnCo2Solubility(temperatureC, salinityGPerKg)),
    k1: density * exp10(-pk1),
    k2: density * exp10(-pk2),
    kb: density * exp(lnBoricAcidConstant(temperatureC, salinityGPerKg)),
    kn: density * exp10(-ammoniumPka(temperatureC, salinityGPerKg)),
    kw: density * density * exp10(-waterPk(temperatureC, salinityGPerKg)),
    boronMolPerM3: density * boronMolPerKg(salinityGPerKg),
  };
}

/**
 * Indices into the result of `solvePh`. CO2 is in mol/m³; the derivatives are per eq/m³ and mol/m³, at constant temperature and
 * salinity.
 */
export const PH = 0;
export const DPH_DALK = 1;
export const DPH_DDIC = 2;
export const DPH_DAMMONIA = 3;
export const CO2 = 4;
export const DCO2_DALK = 5;
export const DCO2_DDIC = 6;
export const DCO2_DAMMONIA = 7;
export const PH_RESULT_LENGTH = 8;

const LOWEST_PH = -2;
const HIGHEST_PH = 16;
const PH_TOLERANCE = 1e-12;
const MAX_ITERATIONS = 80;

/** Hydrogen-ion concentration, mol/m³, from a pH (mol/kg of solution). */
function hydrogenMolPerM3(constants: CarbonateConstants, ph: number): number {
  return constants.densityKgPerM3 * exp10(-ph);
}

/** Alkalinity, eq/m³, from pH, inorganic carbon and total ammonia (both mol/m³). */
export function alkalinityEqPerM3(
  constants: CarbonateConstants,
  ph: number,
  dicMolPerM3: number,
  ammoniaMolPerM3: number,
): number {
  const { k1, k2, kb, kn, kw, boronMolPerM3 } = constants;
  const h = hydrogenMolPerM3(constants, ph);
  const carbonate = (dicMolPerM3 * (k1 * h + 2 * k1 * k2)) / (h * h + k1 * h + k1 * k2);
  return carbonate + (boronMolPerM3 * kb) / (kb + h) + (ammoniaMolPerM3 * kn) / (kn + h) + kw / h - h;
}

/**
 * Inorganic carbon, mol/m³, from pH, alkalinity (eq/m³) and total ammonia (mol/m³): the inverse of `solvePh`. It is
 * negative where no inorganic carbon content satisfies the other three.
 */
export function dicMolPerM3(constants: CarbonateConstants, ph: number, alkEqPerM3: number, ammoniaMolPerM3: number): number {
  const { k1, k2 } = constants;
  const h = hydrogenMolPerM3(constants, ph);
  const withoutCarbon = alkalinityEqPerM3(constants, ph, 0, ammoniaMolPerM3);
  return ((alkEqPerM3 - withoutCarbon) * (h * h + k1 * h + k1 * k2)) / (k1 * h + 2 * k1 * k2);
}

/** No pH in the solver's range satisfies the given contents. */
export class NoPhError extends Error {}

/**
 * Computes pH and dissolved CO2 with their exact derivatives; allocates nothing. Newton's method in pH inside a
 * shrinking bracket, which is possible because alkalinity rises strictly with pH; it ends when a Newton step is under
 * 1e-12.
 * @param alkEqPerM3 alkalinity, eq/m³ (= meq/L), any sign
 * @param dicMolPerM3 inorganic carbon, mol/m³; a negative trial value of an integrator counts as zero
 * @param ammoniaMolPerM3 total ammonia, mol/m³; a negative value counts as zero
 * @param guess starting pH, for example the last solution
 * @param out receives PH_RESULT_LENGTH values at the indices PH .. DCO2_DAMMONIA
 * @throws NoPhError when an input is not finite or no pH between -2 and 16 satisfies them
 */
export function solvePh(
  constants: CarbonateConstants,
  alkEqPerM3: number,
  dicMolPerM3: number,
  ammoniaMolPerM3: number,
  guess: number,
  out: Float64Array,
): void {
  const { k1, k2, kb, kn, kw, boronMolPerM3, densityKgPerM3 } = constants;
  const carbon = Math.max(dicMolPerM3, 0);
  const ammonia = Math.max(ammoniaMolPerM3, 0);
  const k12 = k1 * k2;
  let low = LOWEST_PH;
  let high = HIGHEST_PH;
  let ph = guess > low && guess < high ? guess : 8;
  for (let iteration = 0; iteration < MAX_ITERATIONS; iteration++) {
    const h = densityKgPerM3 * exp(-Math.LN10 * ph);
    const d = h * h + k1 * h + k12;
    const alkPerCarbon = (k1 * h + 2 * k12) / d;
    const borateShare = kb / (kb + h);
    const freeShare = kn / (kn + h);
    const excess = carbon * alkPerCarbon + boronMolPerM3 * borateShare + ammonia * freeShare + kw / h - h - alkEqPerM3;
    const buffer =
      Math.LN10 *
      ((carbon * k1 * h * (h * h + 4 * k2 * h + k12)) / (d * d) +
        (boronMolPerM3 * borateShare * h) / (kb + h) +
        (ammonia * freeShare * h) / (kn + h) +
        kw / h +
        h);
    if (excess > 0) high = ph;
    else low = ph;
    const step = -excess / buffer;
    if (Math.abs(step) < PH_TOLERANCE) {
      const co2PerCarbon = (h * h) / d;
      const co2Slope = -Math.LN10 * carbon * co2PerCarbon * alkPerCarbon;
      out[PH] = ph + step;
      out[DPH_DALK] = 1 / buffer;
      out[DPH_DDIC] = -alkPerCarbon / buffer;
      out[DPH_DAMMONIA] = -freeShare / buffer;
      out[CO2] = carbon * co2PerCarbon + co2Slope * step;
      out[DCO2_DALK] = co2Slope / buffer;
      out[DCO2_DDIC] = co2PerCarbon - (co2Slope * alkPerCarbon) / buffer;
      out[DCO2_DAMMONIA] = -(co2Slope * freeShare) / buffer;
      return;
    }
    const next = ph + step;
    ph = next > low && next < high ? next : 0.5 * (low + high);
  }
  throw new NoPhError(`No pH fits alkalinity ${alkEqPerM3} eq/m³ with inorganic carbon ${dicMolPerM3} mol/m³`);
}

/** Partial pressure of CO2 in moist air over the water, atm, from its mole fraction in dry air and the total pressure (Pa). */
export function co2PartialPressureAtm(
  co2MoleFractionDry: number,
  pressurePa: number,
  temperatureC: number,
  salinityGPerKg: number,
): number {
  return (co2MoleFractionDry * (pressurePa - saturationVapourPressurePa(temperatureC, salinityGPerKg))) / STANDARD_ATMOSPHERE_PA;
}

/**
 * Inorganic carbon, mol/m³, and pH of water without ammonia at equilibrium with a CO2 partial pressure (atm), as after
 * long aeration. Bisection on pH to a relative 1e-13; meant for initial values and reports, not for inner loops.
 * @param alkEqPerM3 alkalinity, eq/m³
 */
export function openToAir(
  constants: CarbonateConstants,
  alkEqPerM3: number,
  pco2Atm: number,
): { ph: number; dicMolPerM3: number } {
  const { k0, k1, k2 } = constants;
  const co2 = k0 * pco2Atm;
  const carbonAt = (ph: number): number => {
    const h = hydrogenMolPerM3(constants, ph);
    return co2 * (1 + k1 / h + (k1 * k2) / (h * h));
  };
  let low = LOWEST_PH;
  let high = HIGHEST_PH;
  while (high - low > 1e-13 * HIGHEST_PH) {
    const middle = 0.5 * (low + high);
    if (alkalinityEqPerM3(constants, middle, carbonAt(middle), 0) > alkEqPerM3) high = middle;
    else low = middle;
  }
  const ph = 0.5 * (low + high);
  return { ph, dicMolPerM3: carbonAt(ph) };
}

/** Partial pressure of CO2, atm, in equilibrium with dissolved CO2 (mol/m³), by Henry's law. */
export function co2TensionAtm(constants: CarbonateConstants, co2MolPerM3: number): number {
  return co2MolPerM3 / constants.k0;
}
