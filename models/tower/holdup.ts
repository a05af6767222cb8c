// Liquid hold-up of the bed: the dynamic part drains when the pump stops, the rest stays.
import { cbrt } from "../../sim/elementary.ts";
import { GRAVITY_M_PER_S2, type Liquid } from "../water/liquid.ts";

/**
 * Dynamic hold-up, m³ per m³ of bed: (12 mu u a_w²/(rho g))^(1/3), u the superficial velocity; zero without flow or
 * wetted surface. Source: Billet & Schultes (1999), below the loading point, with the wetted surface as the hydraulic
 * one. A smooth vertical film has 3 instead of 12 (Nusselt 1916); in a packing, water also flows over slopes and hangs
 * at edges.
 * @param wettedM2PerM3 wetted surface per volume of bed
 */
export function dynamicHoldup(liquid: Liquid, loadMPerS: number, wettedM2PerM3: number): number {
  if (!(loadMPerS > 0) || !(wettedM2PerM3 > 0)) return 0;
  const weight = liquid.densityKgPerM3 * GRAVITY_M_PER_S2;
  return cbrt((12 * liquid.viscosityPaS * loadMPerS * wettedM2PerM3 * wettedM2PerM3) / weight);
}

/** Mean thickness of the flowing film, m: dynamic hold-up divided by wetted surface. */
export function filmThicknessM(liquid: Liquid, loadMPerS: number, wettedM2PerM3: number): number {
  return wettedM2PerM3 > 0 ? dynamicHoldup(liquid, loadMPerS, wettedM2PerM3) / wettedM2PerM3 : 0;
}

/**
 * Static hold-up, the water held by capillarity between the pieces after draining, m³ per m³: 1/(20 + 0.9 Eo), Eo = rho
 * g (6 void/a)²/sigma. Source: Sáez & Carbonell (1985), AIChE J. 31:52, with the piece size of equal surface. Coarse
 * open rings hold 1 %, fine beds up to 5 %.
 */
export function capillaryHoldup(liquid: Liquid, specificSurfaceM2PerM3: number, voidShare: number): number {
  const scaleM = (6 * voidShare) / specificSurfaceM2PerM3;
  const eotvos = (liquid.densityKgPerM3 * GRAVITY_M_PER_S2 * scaleM * scaleM) / liquid.surfaceTensionNPerM;
  return 1 / (20 + 0.9 * eotvos);
}

/** Hold-up of the bed by kind, m³ per m³ of bed. Only `flowing` drains when the pump stops. */
export interface Holdup {
  readonly flowing: number;
  readonly capillary: number;
  readonly inPores: number;
  readonly total: number;
}

/** Hold-up of a bed. `poreWaterShare` is the water inside porous pieces (media.ts), m³ per m³ of bed. */
export function bedHoldup(
  liquid: Liquid,
  loadMPerS: number,
  wettedM2PerM3: number,
  specificSurfaceM2PerM3: number,
  voidShare: number,
  poreWaterShare: number,
): Holdup {
  const flowing = dynamicHoldup(liquid, loadMPerS, wettedM2PerM3);
  const capillary = capillaryHoldup(liquid, specificSurfaceM2PerM3, voidShare);
  return { flowing, capillary, inPores: poreWaterShare, total: flowing + capillary + poreWaterShare };
}

/** Mean contact time of the flowing water in the bed, s: dynamic hold-up times depth divided by load. */
export function contactTimeS(flowingHoldup: number, depthM: number, loadMPerS: number): number {
  return (flowingHoldup * depthM) / loadMPerS;
}

/**
 * Share of the flowing film that is still on the media some time after the flow has stopped. A falling film drains to a
 * thickness of sqrt(mu z/(rho g t)) at depth z, with 2/3 of the value at the bottom as its mean (Jeffreys 1930). The
 * share never exceeds 1.
 */
export function drainingFilmShare(liquid: Liquid, filmM: number, depthM: number, secondsAfterStop: number): number {
  if (!(secondsAfterStop > 0)) return 1;
  const drained =
    (2 / 3) * Math.sqrt((liquid.viscosityPaS * depthM) / (liquid.densityKgPerM3 * GRAVITY_M_PER_S2 * secondsAfterStop));
  return Math.min(1, drained / filmM);
}
