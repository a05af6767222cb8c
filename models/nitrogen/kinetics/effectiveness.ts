// How far substrates reach into a film, as one formula: the fast film of the tank model.
//
// A film of thickness L uses substrate S (diffusivity D in the film) at an areal rate R if all of it saw the surface concentration. For any
// kinetics r(S) the generalised Thiele modulus (Aris 1965, Bischoff 1965) is phi² = L R / (2 D I), with I = (1/r(S)) ∫ r ds from 0 to S. Where
// phi is large only the outer part works and the rate is R/phi: half order for zero-order kinetics, as trickling filters show. With
//   x = L R / (2 D I(S))  for the substrate and for oxygen, which both must reach,
// the rate of a process is its surface rate times
//   eta = (1 + x_substrate² + x_oxygen²)^(-1/4),
// 1 for thin films, phi^-1 for the scarcer of the two in thick ones. R is the sum over all guilds that share the substrate, so that they compete
// for oxygen, and I is the mean of their own integrals, each weighted by what the guild uses (which is what the integral over their sum gives).
// Nitrite made inside the film by ammonia oxidisers need not come from outside: only the net use of nitrite counts.
//
// Error against the film resolved in depth (TAN 0.05-4 g/m3, oxygen 2-8 g/m3, a fifth of a full film to all of it; tests/nitrogen/film.test.ts):
// 4 % rms with the guilds of a start-up or of a settled tank, 13 % at worst.
//
// The layer that works is as thick as its nitrifiers make it: `leastM` of slime that every wet surface carries, and the nitrifiers at the density
// they have among slime and waste. So a thin colony is
// limited by its own rate and a full one by diffusion, whose rise with temperature is that of the root of rate times diffusivity
// (Harremoës 1978): the reason why fixed films lose less in the cold than their bacteria do (Zhu & Chen 2002).

import { log } from "../../../sim/elementary.ts";

/** What a film's penetration needs: 1/(2 D) of TAN, nitrite, organics and oxygen in the film [d/m2], and what makes its thickness. */
export interface FilmDepth {
  readonly tan: number;
  readonly no2: number;
  readonly ss: number;
  readonly o2: number;
  readonly leastM: number;
  /** Nitrifiers in a film's volume [g COD/m3]. */
  readonly densityGPerM3: number;
}

/** Below this [g/m3] a substrate counts as absent; keeps 0/0 finite. */
export const TRACE = 1e-4;

/** 1 - ln(1 + u)/u, by its series where the difference would lose its digits; the logarithm by Kahan's correction for what 1 + u rounds off. */
function bend(u: number): number {
  if (u < 0.01) return u * (0.5 - u * (1 / 3 - u * (0.25 - 0.2 * u)));
  const w = 1 + u;
  return 1 - log(w) / (w - 1);
}

/** I(S) of Monod's law [g/m3]: from S/2 (first order) to S (zero order). @param half its half-saturation [g/m3] */
export function reach(s: number, half: number): number {
  const c = Math.max(s, 0);
  return (c + half) * bend(c / half) + 0.5 * TRACE;
}

/** dI/dS; zero below zero. */
export function reachSlope(s: number, half: number): number {
  if (s <= 0) return 0;
  const u = s / half;
  if (u < 0.01) return 0.5 + u / 3;
  const b = bend(u);
  return b + ((1 + u) * (1 - b) - 1) / u;
}
