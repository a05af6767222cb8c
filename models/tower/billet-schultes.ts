// An independent model of a packed bed below its loading point. Source of the whole file: Billet & Schultes (1999),
// Trans. IChemE 77A:498.
import { pow } from "../../sim/elementary.ts";
import { GRAVITY_M_PER_S2, type Liquid } from "../water/liquid.ts";

/** A packing with its fitted constants of the model. */
export interface FittedPacking {
  readonly specificSurfaceM2PerM3: number;
  readonly voidShare: number;
  /** Hold-up constant C_h and liquid transfer constant C_L. */
  readonly holdupConstant: number;
  readonly liquidConstant: number;
}

/** Ratio of hydraulic to geometric surface: C_h Re^0.15 Fr^0.1 below Re = 5, 0.85 C_h Re^0.25 Fr^0.1 above. */
export function billetHydraulicAreaShare(packing: FittedPacking, liquid: Liquid, loadMPerS: number): number {
  const a = packing.specificSurfaceM2PerM3;
  const reynolds = (loadMPerS * liquid.densityKgPerM3) / (a * liquid.viscosityPaS);
  const froude = (loadMPerS * loadMPerS * a) / GRAVITY_M_PER_S2;
  const laminar = reynolds < 5;
  return (laminar ? 1 : 0.85) * packing.holdupConstant * pow(reynolds, laminar ? 0.15 : 0.25) * pow(froude, 0.1);
}

/** Dynamic hold-up of the bed, m³ per m³: (12 mu u a²/(g rho))^(1/3) (a_h/a)^(2/3). */
export function billetHoldup(packing: FittedPacking, liquid: Liquid, loadMPerS: number): number {
  const a = packing.specificSurfaceM2PerM3;
  const film = (12 * liquid.viscosityPaS * loadMPerS * a * a) / (GRAVITY_M_PER_S2 * liquid.densityKgPerM3);
  return pow(film, 1 / 3) * pow(billetHydraulicAreaShare(packing, liquid, loadMPerS), 2 / 3);
}

/**
 * Ratio of the water-air interface to the geometric surface:
 * 1.5 (a d_h)^-0.5 (u d_h rho/mu)^-0.2 (u² rho d_h/sigma)^0.75 (u²/(g d_h))^-0.45, with d_h = 4 void/a.
 */
export function billetInterfaceShare(packing: FittedPacking, liquid: Liquid, loadMPerS: number): number {
  const { densityKgPerM3: rho, viscosityPaS: mu, surfaceTensionNPerM: sigma } = liquid;
  const d = (4 * packing.voidShare) / packing.specificSurfaceM2PerM3;
  const u = loadMPerS;
  return (
    1.5 *
    pow(packing.specificSurfaceM2PerM3 * d, -0.5) *
    pow((u * d * rho) / mu, -0.2) *
    pow((u * u * rho * d) / sigma, 0.75) *
    pow((u * u) / (GRAVITY_M_PER_S2 * d), -0.45)
  );
}

/** Liquid-side mass-transfer coefficient, m/s: C_L (g rho/mu)^(1/6) (D/d_h)^0.5 (u/a)^(1/3). */
export function billetLiquidCoefficientMPerS(
  packing: FittedPacking,
  liquid: Liquid,
  loadMPerS: number,
  diffusivityM2PerS: number,
): number {
  const a = packing.specificSurfaceM2PerM3;
  const d = (4 * packing.voidShare) / a;
  const inverseKinematic = (GRAVITY_M_PER_S2 * liquid.densityKgPerM3) / liquid.viscosityPaS;
  return packing.liquidConstant * pow(inverseKinematic, 1 / 6) * Math.sqrt(diffusivityM2PerS / d) * pow(loadMPerS / a, 1 / 3);
}
