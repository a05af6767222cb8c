// A growing film that is pushed outward and detaches in a stirred tank, for the published cases; the resolved film
// gives its profiles.
import { type FilmSolute, ResolvedFilm } from "../../../models/nitrogen/analysis/resolved-film.ts";
import { NonStiffSolver } from "../../../sim/integrators/nonstiff.ts";

export interface FilmCase {
  readonly layers: number;
  readonly days: number;
  /** Growth rate of each species [1/d] at the concentrations of the solutes, and d(growth)/d(solute 0). */
  readonly growth: readonly ((s: number) => number)[];
  readonly growthSlope: readonly ((s: number) => number)[];
  /** For each species, the rate at which it turns into the next [1/d]. */
  readonly turnsIntoNext: readonly number[];
  readonly densityGPerM3: number;
  readonly startShare: readonly number[];
  readonly detachmentPerMDay: number;
  readonly inflowS: readonly number[];
  /** Yield of species 0 on solute 0. */
  readonly yield: number;
  readonly solutes: readonly FilmSolute[];
  readonly boundaryM: number;
  readonly startThicknessM: number;
  readonly startX: readonly number[];
  readonly startS: readonly number[];
}

const TANK_M3 = 0.1;
const AREA_M2 = 1;
const FLOW_M3_PER_DAY = 1;

/** Monod growth and its derivative; below zero the slope at zero continues, so that trial steps stay finite. */
export const monod = (rate: number, half: number): { growth: (s: number) => number; slope: (s: number) => number } => ({
  growth: (s) => (s > 0 ? (rate * s) / (half + s) : (rate * s) / half),
  slope: (s) => (s > 0 ? (rate * half) / (half + s) ** 2 : rate / half),
});

/** Runs a case to its end. @returns tank biomass and solutes [g/m³], thickness [m], volume shares at the film's surface */
export function growFilm(c: FilmCase): { x: number[]; s: number[]; thicknessM: number; surfaceShare: number[] } {
  const species = c.growth.length;
  const n = c.solutes.length;
  const total = c.startShare.reduce((a, b) => a + b, 0);
  const [atS, atL, atP] = [species, species + n, species + n + 1];
  const share = new Float64Array(c.layers * species);
  const film = new ResolvedFilm(c.layers, c.startThicknessM, c.boundaryM, c.solutes, (layer, s, used, slopes) => {
    const x = (share[layer * species] * c.densityGPerM3) / c.yield;
    used.fill(0);
    slopes.fill(0);
    used[0] = x * c.growth[0](s[0]);
    slopes[0] = x * c.growthSlope[0](s[0]);
  });
  for (let l = 0; l < c.layers; l++) film.profile.set(c.startS, l * n);
  const source = new Float64Array(species);
  const sourceOf = (mass: (i: number) => number, s: number): void => {
    for (let i = 0; i < species; i++)
      source[i] = (c.growth[i](s) - c.turnsIntoNext[i]) * mass(i) + (i > 0 ? c.turnsIntoNext[i - 1] * mass(i - 1) : 0);
  };
  const problem = {
    size: atP + c.layers * species,
    derivative(_t: number, y: Float64Array, out: Float64Array): void {
      const thickness = y[atL];
      // A trial step to an impossible state: the integrator takes a smaller one.
      if (!(thickness > 0)) {
        out.fill(Number.NaN);
        return;
      }
      film.thicknessM = thickness;
      share.set(y.subarray(atP));
      film.bulk.set(y.subarray(atS, atS + n));
      const flux = film.settle();
      const thick = thickness / c.layers;
      // From the wall outward: growth pushes the layers above.
      let velocity = 0;
      const velocities = new Float64Array(c.layers + 1);
      const made = new Float64Array(c.layers * species);
      for (let l = c.layers - 1; l >= 0; l--) {
        sourceOf((i) => share[l * species + i], film.profile[l * n]);
        made.set(source, l * species);
        velocity += (thick * source.reduce((a, b) => a + b, 0)) / total;
        velocities[l] = velocity;
      }
      const worn = c.detachmentPerMDay * thickness * thickness;
      const grows = velocity - worn;
      out[atL] = grows;
      for (let l = 0; l < c.layers; l++) {
        // Velocities relative to the stretching layers, at the outer and the inner face.
        const outer = velocities[l] - (1 - l / c.layers) * grows;
        const inner = (velocities[l + 1] ?? 0) - (1 - (l + 1) / c.layers) * grows;
        for (let i = 0; i < species; i++) {
          const at = (layer: number) => share[Math.max(0, Math.min(layer, c.layers - 1)) * species + i];
          const leaves = outer * (outer > 0 ? at(l) : at(l - 1));
          const enters = inner * (inner > 0 ? at(l + 1) : at(l));
          out[atP + l * species + i] = made[l * species + i] - (leaves - enters) / thick - (at(l) * grows) / thickness;
        }
      }
      sourceOf((i) => y[i], y[atS]);
      for (let i = 0; i < species; i++)
        out[i] = source[i] - (FLOW_M3_PER_DAY / TANK_M3) * y[i] + (AREA_M2 / TANK_M3) * worn * share[i] * c.densityGPerM3;
      for (let k = 0; k < n; k++)
        out[atS + k] =
          (FLOW_M3_PER_DAY / TANK_M3) * (c.inflowS[k] - y[atS + k]) -
          (AREA_M2 / TANK_M3) * flux[k] -
          (k === 0 ? (c.growth[0](y[atS]) * y[0]) / c.yield : 0);
    },
  };
  const y = new Float64Array(problem.size);
  y.set(c.startX);
  y.set(c.startS, atS);
  y[atL] = c.startThicknessM;
  for (let l = 0; l < c.layers; l++) y.set(c.startShare, atP + l * species);
  const absolute = new Float64Array(problem.size).fill(1e-4);
  absolute[atL] = 1e-9;
  const outcome = new NonStiffSolver(problem, { tolerances: { relative: 1e-4, absolute } }).advance(0, c.days, y);
  if (outcome.status !== "finished") throw new Error(`the growing film stopped: ${JSON.stringify(outcome)}`);
  return {
    x: [...y.subarray(0, species)],
    s: [...y.subarray(atS, atS + n)],
    thicknessM: y[atL],
    surfaceShare: [...y.subarray(atP, atP + species)],
  };
}
