// How far substrates reach into a film, as one formula: the fast film of the tank model.
//
// A film of thickness L uses substrate S (diffusivity D in the film) at an areal rate R if all of it saw the surface concentration. For any
// kinetics r(S) the generalised Thiele modulus (Aris 1965, Bischoff 1965) is phi² = L R / (2 D I), with I = (1/r(S)) ∫ r ds from 0 to S. Where
// phi is large only the outer part works and the rate is R/phi: half order for zero-order kinetics, as trickling filters show. With
//   x = L R / (2 D I(S))  for the substrate and for oxygen, which both must reach,
// the rate of a process is its surface rate times
//   eta = (1 + x_substrate² + x_oxygen²)^(-1/4),
// 1 for thin films, phi^-1 for the scarcer of the two in thick ones. R is the sum over all guilds that share the substrate, so that they compete
// for oxygen. I(S) runs from S/2 (first order) to S (zero order); `reach` joins the two.
// Nitrite made inside the film by ammonia oxidisers need not come from outside: only the net use of nitrite counts.
//
// Error against the film resolved in depth (TAN 0.05-4 g/m3, oxygen 2-8 g/m3, film a fifth to full): 3 % rms, 8 % at worst (tests/nitrogen/film.test.ts).

/** Film thickness over twice the diffusivity in the film [d/m] for TAN, nitrite, organics, oxygen. */
export interface FilmDepth {
  readonly tan: number;
  readonly no2: number;
  readonly ss: number;
  readonly o2: number;
}

/** Below this [g/m3] a substrate counts as absent; keeps 0/0 finite. */
const TRACE = 1e-4;

/** `reach` takes this many times a guild's half-saturation, so that its simple form follows the exact integral of Monod's law (set by comparison; error above). */
export const HALF_FACTOR = 3;

/** I(S) [g/m3], between S/2 (first order) and S (zero order). @param half HALF_FACTOR times the half-saturation */
export function reach(s: number, half: number): number {
  const c = Math.max(s, 0);
  return (c + TRACE) * (0.5 + (0.5 * c) / (half + c));
}

/** d ln I / dS; zero below zero. */
export function reachSlope(s: number, half: number): number {
  if (s <= 0) return 0;
  return 1 / (s + TRACE) + (0.5 * half) / ((half + s) * (half + s) * (0.5 + (0.5 * s) / (half + s)));
}
