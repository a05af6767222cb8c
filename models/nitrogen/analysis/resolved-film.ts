// A depth-resolved film: finite volumes from the surface to the wall, with diffusion and local uptake of solutes. It is
// the reference for the effectiveness factors of the tank model (see `effectiveness.ts`) and too slow for simulations
// over months.
import type { StiffProblem } from "../../../sim/integrators/problem.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import type { SparsePattern } from "../../../sim/linear-algebra/sparse-pattern.ts";

export interface FilmSolute {
  /** Diffusivity in the film and in the boundary layer [m²/d]. */
  readonly inFilmM2PerDay: number;
  readonly inWaterM2PerDay: number;
}

/**
 * Uptake at a depth [g/m³/d], by solute, and its derivatives with respect to every solute (row-major); both are written
 * into the given arrays.
 * @param layer 0 is the outermost
 * @param s concentrations in the layer [g/m³]
 */
export type Uptake = (layer: number, s: Float64Array, uptake: Float64Array, slopes: Float64Array) => void;

/** Number of diffusion times after which a profile counts as steady: exp(-2.5 x 30) is negligible. */
const DIFFUSION_TIMES = 30;

/**
 * dS/dt = D d²S/dz² - uptake(S), without flux through the wall, with diffusion from the bulk through a boundary layer.
 * It handles any number of solutes and any kinetics. All layers have one thickness, which may change between solutions.
 * Source: the standard one-dimensional film of the biofilm benchmark (Wanner et al. 2006, from memory); second order in
 * the layer thickness.
 */
export class ResolvedFilm implements StiffProblem {
  readonly size: number;
  readonly pattern: SparsePattern;
  /** Concentration of each solute in the bulk water [g/m³]. */
  readonly bulk: Float64Array;
  /** Steady profile [g/m³], solute after solute within each layer, outermost layer first; the next solution starts from it. */
  readonly profile: Float64Array;
  thicknessM: number;
  private readonly layers: number;
  private readonly boundaryM: number;
  private readonly solutes: readonly FilmSolute[];
  private readonly uptake: Uptake;
  private readonly solver: StiffSolver;
  private readonly here: Float64Array;
  private readonly used: Float64Array;
  private readonly slopes: Float64Array;

  /** @param boundaryM thickness of the boundary layer over the film [m]; 0 for none */
  constructor(layers: number, thicknessM: number, boundaryM: number, solutes: readonly FilmSolute[], uptake: Uptake) {
    const n = solutes.length;
    this.layers = layers;
    this.thicknessM = thicknessM;
    this.boundaryM = boundaryM;
    this.solutes = solutes;
    this.uptake = uptake;
    this.size = layers * n;
    this.bulk = new Float64Array(n);
    this.profile = new Float64Array(this.size);
    this.here = new Float64Array(n);
    this.used = new Float64Array(n);
    this.slopes = new Float64Array(n * n);
    this.pattern = blockTridiagonal(layers, n);
    this.solver = new StiffSolver(this, { tolerances: { relative: 1e-6, absolute: 1e-9 } });
  }

  /**
   * Solves the steady profile for the bulk concentrations.
   * @returns flux of each solute into the film [g/m²/d]
   * @throws Error when the integrator fails
   */
  settle(): Float64Array {
    const slowest = Math.min(...this.solutes.map((solute) => solute.inFilmM2PerDay));
    const resistance = this.thicknessM + this.boundaryM;
    this.solver.restart();
    const outcome = this.solver.advance(0, (DIFFUSION_TIMES * resistance * resistance) / slowest, this.profile);
    if (outcome.status === "failed") throw new Error(`the film's profile could not be computed: ${outcome.message}`);
    return Float64Array.from(this.solutes, (_, i) => this.entry(i) * (this.bulk[i] - this.profile[i]));
  }

  /** Mass-transfer coefficient from the bulk to the middle of the outermost layer [m/d]. */
  private entry(i: number): number {
    const { inFilmM2PerDay, inWaterM2PerDay } = this.solutes[i];
    return 1 / (this.boundaryM / inWaterM2PerDay + (0.5 * this.thicknessM) / this.layers / inFilmM2PerDay);
  }

  derivative(_t: number, y: Float64Array, out: Float64Array): void {
    const { layers, solutes, here, used, slopes, bulk } = this;
    const n = solutes.length;
    const thick = this.thicknessM / layers;
    for (let l = 0; l < layers; l++) {
      for (let i = 0; i < n; i++) here[i] = y[l * n + i];
      this.uptake(l, here, used, slopes);
      for (let i = 0; i < n; i++) {
        const at = l * n + i;
        const inner = solutes[i].inFilmM2PerDay / thick;
        const above = l === 0 ? this.entry(i) * (bulk[i] - y[at]) : inner * (y[at - n] - y[at]);
        const below = l === layers - 1 ? 0 : inner * (y[at] - y[at + n]);
        out[at] = (above - below) / thick - used[i];
      }
    }
  }

  jacobian(_t: number, y: Float64Array, values: Float64Array): void {
    const { layers, solutes, here, used, slopes } = this;
    const n = solutes.length;
    const thick = this.thicknessM / layers;
    let e = 0;
    for (let l = 0; l < layers; l++) {
      for (let i = 0; i < n; i++) here[i] = y[l * n + i];
      this.uptake(l, here, used, slopes);
      for (let i = 0; i < n; i++) {
        const inner = solutes[i].inFilmM2PerDay / thick / thick;
        if (l > 0) values[e++] = inner;
        for (let j = 0; j < n; j++) {
          const diffusion = j === i ? (l === 0 ? this.entry(i) / thick : inner) + (l < layers - 1 ? inner : 0) : 0;
          values[e++] = -diffusion - slopes[i * n + j];
        }
        if (l < layers - 1) values[e++] = inner;
      }
    }
  }
}

/** Each solute depends on all solutes of its layer and on itself in the neighbouring layers; columns in order. */
function blockTridiagonal(layers: number, n: number): SparsePattern {
  const rowStart = new Int32Array(layers * n + 1);
  const columns: number[] = [];
  for (let l = 0; l < layers; l++)
    for (let i = 0; i < n; i++) {
      const at = l * n + i;
      if (l > 0) columns.push(at - n);
      for (let j = 0; j < n; j++) columns.push(l * n + j);
      if (l < layers - 1) columns.push(at + n);
      rowStart[at + 1] = columns.length;
    }
  return { size: layers * n, rowStart, columns: Int32Array.from(columns) };
}
