// Wetted area and transfer coefficients of a random packing. Source of the whole file: Onda, Takeuchi & Okumoto (1968), J. Chem. Eng. Japan 1(1):56.
import { exp, pow } from "../../sim/elementary.ts";
import { GRAVITY_M_PER_S2, type Liquid } from "../water/liquid.ts";

/**
 * Critical surface tension of the clean material, N/m: a liquid with a lower surface tension wets it completely (Onda
 * et al. 1968).
 */
export const CRITICAL_TENSION_N_PER_M = { plastic: 0.033, ceramic: 0.061, mineral: 0.073 } as const;

/** Properties of a packing that Onda's correlations use. */
export interface Packing {
  readonly specificSurfaceM2PerM3: number;
  readonly pieceM: number;
  readonly criticalTensionNPerM: number;
}

/**
 * Wetted share of the packing's surface, 0-1: 1 - exp(-1.45 (sigma_c/sigma)^0.75 Re^0.1 Fr^-0.05 We^0.2).
 * @param loadMPerS superficial liquid velocity, m³ per m² of plan area per second. Fitted at about 1.5 kg/(m² s) and
 * more (5 m/h); extrapolated below.
 */
export function ondaWettedShare(packing: Packing, liquid: Liquid, loadMPerS: number): number {
  if (!(loadMPerS > 0)) return 0;
  const a = packing.specificSurfaceM2PerM3;
  const { densityKgPerM3: rho, viscosityPaS: mu, surfaceTensionNPerM: sigma } = liquid;
  const mass = rho * loadMPerS;
  const reynolds = mass / (a * mu);
  const froude = (mass * mass * a) / (rho * rho * GRAVITY_M_PER_S2);
  const weber = (mass * mass) / (rho * sigma * a);
  // A material with a critical tension above that of water is wetted completely; a ratio above one has no meaning.
  const wettability = pow(Math.min(1, packing.criticalTensionNPerM / sigma), 0.75);
  return 1 - exp(-1.45 * wettability * pow(reynolds, 0.1) * pow(froude, -0.05) * pow(weber, 0.2));
}

/**
 * Liquid-side coefficient between the film and the air, m/s: k_L (rho/(mu g))^(1/3) = 0.0051 (L/(a_w mu))^(2/3) Sc^-0.5 (a d_p)^0.4.
 * @param wettedM2PerM3 wetted area per volume of bed, from the wetted share
 * @param diffusivityM2PerS of the gas in the water
 */
export function ondaLiquidCoefficientMPerS(
  packing: Packing,
  liquid: Liquid,
  loadMPerS: number,
  wettedM2PerM3: number,
  diffusivityM2PerS: number,
): number {
  if (!(loadMPerS > 0)) return 0;
  const { densityKgPerM3: rho, viscosityPaS: mu } = liquid;
  const reynolds = (rho * loadMPerS) / (wettedM2PerM3 * mu);
  const schmidt = mu / (rho * diffusivityM2PerS);
  const shape = pow(packing.specificSurfaceM2PerM3 * packing.pieceM, 0.4);
  return 0.0051 * pow(reynolds, 2 / 3) * pow(schmidt, -0.5) * shape * pow((mu * GRAVITY_M_PER_S2) / rho, 1 / 3);
}

/** Properties of the gas that flows through the packing. */
export interface Gas {
  readonly densityKgPerM3: number;
  readonly viscosityPaS: number;
}

/**
 * Gas-side coefficient, m/s: k_G/(a D) = c (G/(a mu_G))^0.7 Sc^(1/3) (a d_p)^-2, c = 5.23, or 2.0 for pieces under 15 mm.
 * @param gasVelocityMPerS superficial gas velocity
 */
export function ondaGasCoefficientMPerS(packing: Packing, gas: Gas, gasVelocityMPerS: number, diffusivityM2PerS: number): number {
  const a = packing.specificSurfaceM2PerM3;
  const reynolds = (gas.densityKgPerM3 * Math.abs(gasVelocityMPerS)) / (a * gas.viscosityPaS);
  const schmidt = gas.viscosityPaS / (gas.densityKgPerM3 * diffusivityM2PerS);
  const factor = packing.pieceM < 0.015 ? 2 : 5.23;
  return factor * a * diffusivityM2PerS * pow(reynolds, 0.7) * pow(schmidt, 1 / 3) * pow(a * packing.pieceM, -2);
}
