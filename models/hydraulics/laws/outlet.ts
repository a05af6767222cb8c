// Flow through holes and into vertical pipes.

import { cbrt, cube, fourthRoot, pow, sin } from "../../../sim/elementary.ts";
import { boreAreaM2, GRAVITY } from "./pipe.ts";

/**
 * Sharp-edged round hole (Bovey's experiments in Unwin, Hydraulics, Encyclopaedia Britannica 11th ed. 1911, section 20:
 * 0.60 to 0.62).
 */
export const SHARP_HOLE = 0.61;

/** Head difference below which the square-root relation of a hole becomes linear [m]. */
const SOFT_HEAD_M = 0.002;

/**
 * Flow through submerged openings [m³/s]: Cd A sqrt(2 g h), with the sign of the head. Below 2 mm it becomes linear, so that its
 * slope at zero is finite: 16 % low at 2 mm, 1 % at 10 mm; levels still become exactly equal.
 */
export function openingFlowM3PerS(headM: number, areaM2: number, coefficient = SHARP_HOLE): number {
  return (coefficient * areaM2 * Math.sqrt(2 * GRAVITY) * headM) / fourthRoot(headM * headM + SOFT_HEAD_M * SOFT_HEAD_M);
}

/**
 * Flow into the open mouth of a vertical pipe [m3/s] under a head over the mouth: weir Q = 1.44 pi D h^1.5 until the orifice
 * Q = 0.69 A sqrt(2 g h) passes less (BS 6367 forms from outlets measured at HR Wallingford: Escarameia & May 1996, SR 463;
 * there Q = D h^1.5 / 7000 and D2 h^0.5 / 13200 in L/s and mm). Vented: the mouth never pulls a siphon.
 */
export function standpipeInletM3PerS(headM: number, boreM: number): number {
  if (headM <= 0) return 0;
  const rootHead = Math.sqrt(headM);
  const edge = ((boreM * pow(1000, 2.5)) / 7000 / 1000) * headM * rootHead;
  const hole = ((boreM * boreM * pow(1000, 2.5)) / 13200 / 1000) * rootHead;
  return Math.min(edge, hole);
}

/**
 * Capacity of a vertical pipe in which water falls as an annulus around an air core [m³/s]: Q = 27.8 r^(5/3) d^(8/3) US gpm, d in
 * inches, r the share of the bore filled with water (Wyly & Eaton 1961, NBS Monograph 31; codes allow 7/24 to 1/3).
 * Fitted on bores of 50 mm and more; an extrapolation for smaller pipes.
 */
export function stackCapacityM3PerS(boreM: number, waterShare: number): number {
  const usGallonPerMinute = 0.003785411784 / 60;
  return 27.8 * pow(cbrt(waterShare), 5) * pow(cbrt(boreM / 0.0254), 8) * usGallonPerMinute;
}

/** Share of the bore filled with water at which a stack counts as full but vented. */
export const VENTED_SHARE = 1 / 3;

/**
 * Velocity that carries air down a falling leg [m/s], sqrt(g D) (0.825 + 0.25 sqrt(sin theta)), theta the slope below
 * the horizontal (Wisner, Mohsen & Kouwen 1975 as given in Sanks, Pumping Station Design; fitted on bores of 150 mm and
 * more).
 */
export function clearingVelocityMPerS(boreM: number, slopeRad = Math.PI / 2): number {
  return Math.sqrt(GRAVITY * boreM) * (0.825 + 0.25 * Math.sqrt(sin(slopeRad)));
}

/** Density of room air [kg/m3] at 20 °C and one atmosphere (ideal gas). */
const AIR_KG_PER_M3 = 1.204;
const WATER_KG_PER_M3 = 1000;

/** Air flow through a hole [m³/s] under a suction in metres of water: Cd A sqrt(2 dp / rho). */
export function airThroughHoleM3PerS(suctionM: number, areaM2: number): number {
  if (suctionM <= 0) return 0;
  return SHARP_HOLE * areaM2 * Math.sqrt((2 * WATER_KG_PER_M3 * GRAVITY * suctionM) / AIR_KG_PER_M3);
}

/**
 * Volume share of air at which bubbles in a falling flow merge to slugs as wide as the pipe: 0.3 (Usui 1989, part II,
 * for falling flow).
 */
export const PLUG_SHARE = 0.3;

/**
 * Volume share of air behind an opening of a full siphon pipe, when all of the air moves at the velocity of the water.
 * The suction at the opening is the loss plus the velocity head between the water surface and the opening, so both
 * flows grow together and the share depends on the areas only.
 * @param lossK of the path from the water surface to the opening, relative to the velocity head in the pipe
 */
export function airShareOfOpening(openingM2: number, boreM: number, lossK: number): number {
  const ratio = (SHARP_HOLE * openingM2 * Math.sqrt((WATER_KG_PER_M3 / AIR_KG_PER_M3) * (1 + lossK))) / boreAreaM2(boreM);
  return ratio / (1 + ratio);
}

/** Opening that gives a share of air in a siphon [m²]: the inverse of `airShareOfOpening`. */
export function openingForAirShareM2(share: number, boreM: number, lossK: number): number {
  return (share / (1 - share)) * (boreAreaM2(boreM) / (SHARP_HOLE * Math.sqrt((WATER_KG_PER_M3 / AIR_KG_PER_M3) * (1 + lossK))));
}

/**
 * Air flow that a full-bore flow carries away [m³/s]: 0.0066 (Fr - 1)^1.4 of the water flow (Kalinske & Robertson 1943,
 * Trans. ASCE 108:1435), Fr = v / sqrt(g D); zero below Fr = 1, which is close to the clearing velocity.
 */
export function airCarriedM3PerS(flowM3PerS: number, boreM: number): number {
  const froude = flowM3PerS / boreAreaM2(boreM) / Math.sqrt(GRAVITY * boreM);
  return froude > 1 ? 0.0066 * pow(froude - 1, 1.4) * flowM3PerS : 0;
}

/**
 * Film flow out of a bed [m³/s] when the share `holdUp` of the bed is moving water: u = g h³ / (12 nu a²)
 * (laminar film, below the loading point: Billet & Schultes 1993, h = (12 nu u a² / g)^(1/3)).
 */
export function filmDrainM3PerS(holdUp: number, planM2: number, specificSurfacePerM: number, viscosityM2PerS: number): number {
  if (holdUp <= 0) return 0;
  return (planM2 * GRAVITY * cube(holdUp)) / (12 * viscosityM2PerS * specificSurfacePerM * specificSurfacePerM);
}
