// Mass transfer between the water film of a tower and the air, and between water and biofilm.
import { cbrt, hypot } from "../../sim/elementary.ts";
import type { Liquid } from "../water/liquid.ts";
import { filmThicknessM } from "./holdup.ts";

/**
 * Overall liquid-side coefficient, m/s: resistances of water and air in series, 1/K = 1/k_L + 1/(H k_G) (two-film
 * theory, Lewis & Whitman 1924).
 * @param henryGasPerLiquid equilibrium ratio of the concentrations in air and in water: about 30 for O2, 1.2 for CO2,
 * 7e-4 for NH3 at 25 °C
 */
export function overallCoefficientMPerS(liquidMPerS: number, gasMPerS: number, henryGasPerLiquid: number): number {
  const liquidSide = henryGasPerLiquid * gasMPerS;
  return liquidMPerS + liquidSide > 0 ? (liquidMPerS * liquidSide) / (liquidMPerS + liquidSide) : 0;
}

/**
 * Coefficient of another gas from that of oxygen: proportional to the square root of diffusivity (penetration theory,
 * Higbie 1935).
 */
export function coefficientFromOxygen(oxygenMPerS: number, oxygenDiffusivity: number, otherDiffusivity: number): number {
  return oxygenMPerS * Math.sqrt(otherDiffusivity / oxygenDiffusivity);
}

/**
 * Coefficient between the falling film and the biofilm under it, m/s. For laminar shear at the wall, renewed at every
 * piece of packing: 0.807 (D² gamma/length)^(1/3) (Lévêque 1928) with gamma = 3 × mean film velocity/film depth. It is
 * combined with D over the film depth as the root of the sum of squares, so that it never falls below pure diffusion.
 * @param pieceM length over which the film flows undisturbed
 */
export function wallCoefficientMPerS(
  liquid: Liquid,
  loadMPerS: number,
  wettedM2PerM3: number,
  pieceM: number,
  diffusivityM2PerS: number,
): number {
  const film = filmThicknessM(liquid, loadMPerS, wettedM2PerM3);
  if (film === 0) return 0;
  const shearPerS = (3 * loadMPerS) / (wettedM2PerM3 * film * film);
  return hypot(0.807 * cbrt((diffusivityM2PerS * diffusivityM2PerS * shearPerS) / pieceM), diffusivityM2PerS / film);
}

/**
 * Coefficient between water and biofilm in a flooded bed, m/s: Sh = (1.09/void) (u d/D)^(1/3), Wilson & Geankoplis (1966), Ind. Eng. Chem. Fundam. 5:9,
 * for Reynolds numbers of 0.0016 to 55. Sh = 2, diffusion around a sphere at rest, is added as the lower limit.
 * @param velocityMPerS superficial velocity through the bed
 */
export function floodedBedCoefficientMPerS(
  velocityMPerS: number,
  pieceM: number,
  voidShare: number,
  diffusivityM2PerS: number,
): number {
  const peclet = (Math.abs(velocityMPerS) * pieceM) / diffusivityM2PerS;
  return ((2 + (1.09 / voidShare) * cbrt(peclet)) * diffusivityM2PerS) / pieceM;
}

/**
 * Coefficient on glass, rock or a pipe wall in slowly stirred water, m/s: laminar boundary layer of a flat plate, Sh =
 * 0.664 Re^(1/2) Sc^(1/3) (Blasius/Pohlhausen 1921). Diffusion through a stagnant layer of 1 mm is added as the lower
 * limit (modelling assumption).
 * @param velocityMPerS along the surface
 * @param lengthM of the surface along the flow
 */
export function openSurfaceCoefficientMPerS(
  liquid: Liquid,
  velocityMPerS: number,
  lengthM: number,
  diffusivityM2PerS: number,
): number {
  const kinematic = liquid.viscosityPaS / liquid.densityKgPerM3;
  const reynolds = (Math.abs(velocityMPerS) * lengthM) / kinematic;
  const laminar = (0.664 * Math.sqrt(reynolds) * cbrt(kinematic / diffusivityM2PerS) * diffusivityM2PerS) / lengthM;
  return laminar + diffusivityM2PerS / 1e-3;
}

/** Thickness of the stagnant layer that is equivalent to a coefficient, m: D/k. */
export function boundaryLayerM(diffusivityM2PerS: number, coefficientMPerS: number): number {
  return diffusivityM2PerS / coefficientMPerS;
}
