// Effectiveness factor of a film: how far substrates penetrate, as one formula.
//
// A film of thickness L would take up substrate S (diffusivity D in the film) at an areal rate R if all of it had the
// surface concentration. For any kinetics r(S) the generalised Thiele modulus (Aris 1965, Bischoff 1965) is
//   phi² = L R / (2 D I), with I = (1/r(S)) ∫ r ds from 0 to S.
// Where phi is large, only the outer part is active and the rate is R/phi: half order for zero-order kinetics, as in
// trickling filters. With
//   x = L R / (2 D I(S))  for the substrate and for oxygen, which must both penetrate,
// the rate of a process is its surface rate times
//   eta = (1 + x_substrate² + x_oxygen²)^(-1/4),
// which is 1 for thin films and phi^-1 of the scarcer of the two in thick ones. R is the sum over all guilds that share
// the substrate, so that they compete for oxygen; I is the mean of their own integrals, weighted by the uptake of each
// guild (which equals the integral of their sum). Nitrite that ammonia oxidisers produce inside the film need not
// diffuse in: only the net uptake of nitrite counts.
//
// Error against the depth-resolved film (TAN 0.05-4 g/m3, oxygen 2-8 g/m3, a fifth of a full film to a full film;
// tests/models/nitrogen/film.test.ts): 4 % rms with the guilds of a start-up or of a mature tank, 13 % at most.
//
// The thickness of the active layer follows from its nitrifiers: `leastM` of slime, which every wet surface has, plus
// the nitrifiers at their density among slime and waste. A thin film is therefore limited by its own rate and a full
// one by diffusion, whose rate rises with temperature as the root of rate times diffusivity (Harremoës 1978). This is
// why fixed films lose less in the cold than their bacteria do (Zhu & Chen 2002).

import { log } from "../../../sim/elementary.ts";

/** Penetration data of a film: 1/(2 D) of TAN, nitrite, organics and oxygen in the film [d/m²], and the data of its thickness. */
export interface FilmDepth {
  readonly tan: number;
  readonly no2: number;
  readonly ss: number;
  readonly o2: number;
  readonly leastM: number;
  /** Density of nitrifiers in a film [g COD/m³]. */
  readonly densityGPerM3: number;
}

/** Below this concentration [g/m³] a substrate counts as absent; prevents 0/0. */
export const TRACE = 1e-4;

/**
 * 1 - ln(1 + u)/u, by its series where the difference would cancel; the logarithm has Kahan's correction for the
 * rounding of 1 + u.
 */
function bend(u: number): number {
  if (u < 0.01) return u * (0.5 - u * (1 / 3 - u * (0.25 - 0.2 * u)));
  const w = 1 + u;
  return 1 - log(w) / (w - 1);
}

/** I(S) of Monod kinetics [g/m³]: from S/2 (first order) to S (zero order). @param half half-saturation constant [g/m³] */
export function penetrationIntegral(s: number, half: number): number {
  const c = Math.max(s, 0);
  return (c + half) * bend(c / half) + 0.5 * TRACE;
}

/** dI/dS; zero for negative concentrations. */
export function penetrationIntegralSlope(s: number, half: number): number {
  if (s <= 0) return 0;
  const u = s / half;
  if (u < 0.01) return 0.5 + u / 3;
  const b = bend(u);
  return b + ((1 + u) * (1 - b) - 1) / u;
}
