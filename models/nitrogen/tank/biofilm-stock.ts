// The mature biofilm: the bacteria on the surfaces after most of a year with the same daily food.
import { GaveUpError } from "../../../sim/integrators/outcome.ts";
import type { StiffProblem } from "../../../sim/integrators/problem.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import type { SparsePattern } from "../../../sim/linear-algebra/sparse-pattern.ts";
import { ammoniaShare, FAECES_SHARE, NITROGEN_PER_PROTEIN } from "../../life/excretion.ts";
import { eachGuild, type Stock } from "../kinetics/guilds.ts";
import type { Inoculum, Management } from "../management.ts";
import { NitrogenSystem } from "../reactor/system.ts";
import { coefficients } from "./coefficients.ts";
import { retainedByGrowth } from "./food-nitrogen.ts";
import type { NitrogenModel } from "./nitrogen-model.ts";
import { initialOperatingState } from "./operating-state.ts";
import { fill } from "./operations.ts";

/** Areal biomass of each film [g COD/m²]. */
export type BiofilmStock = readonly Stock[];

const SETTLING_IN_DAYS = 300;
/**
 * Rate at which alkalinity and nitrate are restored to fresh water during maturation [1/d]: fast relative to the
 * bacteria's uptake.
 */
const RENEWAL_PER_DAY = 2;
/** Slow release that makes the gut's second stage a constant source [1/d]. */
const TRICKLE_PER_DAY = 1e-6;
/**
 * Load without planned food: the biofilm then processes the usual test dose every day, 2 mg/L as NH3 [g N/m³/d] (common
 * practice, no published source).
 */
const TEST_LOAD_GN_PER_M3_DAY = 2 / 1.2159;
/**
 * Up to this share a seed is stray cells, of which the fast guilds are the most; what is more has the mix of the filter it comes from, so that more seed
 * is never worse (modelling assumption).
 */
const MOVED_FILTER_SHARE = 0.02;
/** Among single cells, the ratio of slow to fast ammonia oxidisers (modelling assumption). */
const SLOW_AMONG_STRAYS = 0.1;
/**
 * Among single cells, half of the nitrite oxidisers are slow: those of aquaria are mostly Nitrospira from the start
 * (Hovanec et al. 1998, from memory; the share is a modelling assumption).
 */
const SLOW_SHARE_OF_NITRITE_OXIDISERS = 0.5;
const STRAY_HETEROTROPHS_G_PER_M2 = 5e-3;

/** Nitrogen in the food of the animals present from the first day [g N/d]; the test load when there are none. */
export function settledLoad(management: Management, volumeM3: number): { readonly foodGN: number; readonly tanShare: number } {
  const fed = management.groups.filter((group) => group.arrivesDay <= 0);
  const food = fed.reduce((sum, group) => sum + group.foodGPerDay * group.proteinShare * NITROGEN_PER_PROTEIN, 0);
  if (food > 0) return { foodGN: food, tanShare: ammoniaShare(retainedByGrowth(fed)) };
  return { foodGN: TEST_LOAD_GN_PER_M3_DAY * volumeM3, tanShare: 1 };
}

/**
 * A system whose alkalinity, carbon and nitrate are continuously restored to fresh water, so that its bacteria reach a
 * steady state.
 */
class KeptFresh implements StiffProblem {
  readonly size: number;
  readonly pattern: SparsePattern;
  private readonly system: NitrogenSystem;
  private readonly kept: { readonly index: number; readonly diagonal: number; readonly fresh: number }[] = [];

  /** @param freshState state with the alkalinity, carbon and nitrate of fresh water */
  constructor(system: NitrogenSystem, freshState: Float64Array) {
    this.system = system;
    this.size = system.size;
    this.pattern = system.pattern;
    const { rowStart, columns } = system.pattern;
    for (const c of system.wiring.cells.keys())
      for (const substance of ["alk", "dic", "no3"] as const) {
        const index = system.cellIndex(c, substance);
        this.kept.push({ index, diagonal: columns.indexOf(index, rowStart[index]), fresh: freshState[index] });
      }
  }

  derivative(t: number, y: Float64Array, out: Float64Array): void {
    this.system.derivative(t, y, out);
    for (const { index, fresh } of this.kept) out[index] += RENEWAL_PER_DAY * (fresh - y[index]);
  }

  jacobian(t: number, y: Float64Array, values: Float64Array): void {
    this.system.jacobian(t, y, values);
    for (const { diagonal } of this.kept) values[diagonal] -= RENEWAL_PER_DAY;
  }

  componentName(index: number): string {
    return this.system.componentName(index);
  }
}

/**
 * Areal biomass of every film after 300 days of the same daily food, with alkalinity and nitrate kept at the level of
 * fresh water.
 * @throws GaveUpError when the integrator fails
 */
export function matureStock(aquarium: NitrogenModel): BiofilmStock {
  const { management, exchange, layout, parameters } = aquarium;
  const volume = exchange.volumesM3.reduce((a, b) => a + b, 0);
  const load = settledLoad(management, volume);
  const groups = management.groups.filter((group) => group.arrivesDay <= 0);
  const kept = coefficients(aquarium, { ...initialOperatingState(aquarium), groups });
  const [animals, dead] = kept.guts;
  const trickle = { tanShare: load.tanShare, wasteShare: load.tanShare === 1 ? 0 : FAECES_SHARE, ratePerDay: TRICKLE_PER_DAY };
  const system = new NitrogenSystem(layout.wiring, parameters, { ...kept, guts: [{ ...animals, ...trickle }, dead] });
  const y = new Float64Array(system.size);
  fill(system, y, {
    ...management.start,
    ph: Math.max(management.start.ph, 7.5),
    alkalinityEqPerM3: Math.max(management.start.alkalinityEqPerM3, 2),
    tanGPerM3: 0,
    no2GPerM3: 0,
  });
  const area = kept.films.reduce((sum, film) => sum + film.areaM2, 0);
  const each = load.foodGN / area;
  for (const f of system.wiring.films.keys()) {
    y[system.filmIndex(f, "aob")] = 0.3 * each;
    y[system.filmIndex(f, "sao")] = 0.3 * each;
    y[system.filmIndex(f, "nob")] = 0.05 * each;
    y[system.filmIndex(f, "sno")] = 0.1 * each;
    y[system.filmIndex(f, "het")] = each;
  }
  y[system.gutIndex(0, 1)] = load.foodGN / TRICKLE_PER_DAY;
  const solver = new StiffSolver(new KeptFresh(system, y), {
    tolerances: { relative: 1e-3, absolute: system.absoluteTolerances() },
  });
  const outcome = solver.advance(0, SETTLING_IN_DAYS, y);
  if (outcome.status !== "finished") throw new GaveUpError("the settled colony could not be computed", outcome);
  return system.wiring.films.map((_, f) => eachGuild((guild) => y[system.filmIndex(f, guild)]));
}

/** Biofilm stock at the start for an inoculum of a given share of the mature one. */
export function inoculatedStock(
  aquarium: NitrogenModel,
  mature: BiofilmStock,
  share: number,
  where: Inoculum["where"],
): BiofilmStock {
  const media = new Set([...aquarium.filmOf.towers, ...aquarium.filmOf.submerged]);
  // A tank's own settled film is as it is; a moved one brings its own mix, and stray cells like every seed.
  const [strayShare, ownShare] =
    share >= 1 ? [0, share] : [Math.min(share, MOVED_FILTER_SHARE), Math.max(0, share - MOVED_FILTER_SHARE)];
  return mature.map((film, f) => {
    const here = where === "everywhere" || media.has(f) ? 1 : 0;
    const [ammonia, nitrite] = [here * strayShare * (film.aob + film.sao), here * strayShare * (film.nob + film.sno)];
    const strays: Stock = {
      aob: ammonia,
      sao: SLOW_AMONG_STRAYS * ammonia,
      nob: (1 - SLOW_SHARE_OF_NITRITE_OXIDISERS) * nitrite,
      sno: SLOW_SHARE_OF_NITRITE_OXIDISERS * nitrite,
      het: STRAY_HETEROTROPHS_G_PER_M2,
    };
    const own = eachGuild((guild) => here * ownShare * film[guild]);
    return { ...eachGuild((guild) => strays[guild] + own[guild]), het: Math.max(own.het, STRAY_HETEROTROPHS_G_PER_M2) };
  });
}
