// The colony of a settled tank: what grows on the surfaces when the same food has come every day for most of a year.
import { StiffSolver } from "../../sim/stiff.ts";
import { NITROGEN_PER_PROTEIN, TAN_PER_PROTEIN } from "../life/excretion.ts";
import { fill } from "./actions.ts";
import { type Aquarium, applyUpkeep, startingUpkeep, wettedAreas } from "./aquarium.ts";
import type { Husbandry, Seed } from "./plan.ts";
import type { Colony } from "./timeline.ts";

const SETTLING_IN_DAYS = 300;
const PIECE_DAYS = 10;
/** Slow release that turns the gut's second stage into a constant source [1/d]. */
const TRICKLE_PER_DAY = 1e-6;
/** Without planned food, the colony that handles the usual test dose every day: 2 mg/L as NH3 [g N/m3/d] (common practice, no published source). */
const TEST_LOAD_GN_PER_M3_DAY = 2 / 1.2159;
/** Above this share a seed is a moved or settled filter with its own mix of guilds; below, stray cells (modelling assumption). */
const MOVED_FILTER_SHARE = 0.02;
/** Among stray cells, slow ammonia oxidisers are this share of the fast ones (modelling assumption). */
const SLOW_AMONG_STRAYS = 0.1;
const STRAY_HETEROTROPHS_G_PER_M2 = 5e-3;

/** Nitrogen in the food of the animals there from the first day [g N/d]; the test load when there are none. */
export function settledLoad(husbandry: Husbandry, volumeM3: number): { readonly foodGN: number; readonly tanShare: number } {
  const food = husbandry.groups
    .filter((group) => group.arrivesDay <= 0)
    .reduce((sum, group) => sum + group.foodGPerDay * group.proteinShare * NITROGEN_PER_PROTEIN, 0);
  if (food > 0) return { foodGN: food, tanShare: TAN_PER_PROTEIN / NITROGEN_PER_PROTEIN };
  return { foodGN: TEST_LOAD_GN_PER_M3_DAY * volumeM3, tanShare: 1 };
}

/**
 * Areal biomass of every film after 300 days of the same daily food, with the water kept fresh (alkalinity and nitrate set back every ten days).
 * Uses the aquarium's own system and leaves its conditions as for the start.
 */
export function matureColony(aquarium: Aquarium): Colony {
  const { system, husbandry, exchange, displayCells } = aquarium;
  const upkeep = startingUpkeep(aquarium);
  wettedAreas(aquarium, upkeep).forEach((area, f) => {
    system.conditions.films[f].areaM2 = area;
  });
  upkeep.groups = husbandry.groups.filter((group) => group.arrivesDay <= 0);
  const volume = exchange.volumesM3.reduce((a, b) => a + b, 0);
  const load = settledLoad(husbandry, volume);
  const gut = system.conditions.guts[0];
  Object.assign(gut, { ratePerDay: TRICKLE_PER_DAY, tanShare: load.tanShare, wasteShare: load.tanShare === 1 ? 0 : 0.19 });
  applyUpkeep(aquarium, upkeep, exchange.volumesM3);
  const y = new Float64Array(system.size);
  const fresh = {
    ...husbandry.start,
    ph: Math.max(husbandry.start.ph, 7.5),
    alkalinityEqPerM3: Math.max(husbandry.start.alkalinityEqPerM3, 2),
    tanGPerM3: 0,
    no2GPerM3: 0,
  };
  const biomass = () =>
    system.wiring.films.map(
      (_, f) =>
        Object.fromEntries(
          (["aob", "cmx", "nob", "het"] as const).map((guild) => [guild, y[system.filmIndex(f, guild)]]),
        ) as unknown as Colony[number],
    );
  fill(system, y, fresh);
  const area = system.conditions.films.reduce((sum, film) => sum + film.areaM2, 0);
  system.wiring.films.forEach((_, f) => {
    const each = load.foodGN / area;
    y[system.filmIndex(f, "aob")] = 0.3 * each;
    y[system.filmIndex(f, "cmx")] = 0.3 * each;
    y[system.filmIndex(f, "nob")] = 0.1 * each;
    y[system.filmIndex(f, "het")] = each;
  });
  const solver = new StiffSolver(system, { tolerances: { relative: 1e-3, absolute: system.absoluteTolerances() } });
  for (let day = 0; day < SETTLING_IN_DAYS; day += PIECE_DAYS) {
    y[system.gutIndex(0, 1)] = load.foodGN / TRICKLE_PER_DAY;
    const outcome = solver.advance(day, day + PIECE_DAYS, y);
    if (outcome.status !== "finished")
      throw new Error(
        `the settled colony could not be computed: ${outcome.status === "failed" ? outcome.message : outcome.status}`,
      );
    const keep = { tan: y[system.cellIndex(displayCells[0], "tan")], no2: y[system.cellIndex(displayCells[0], "no2")] };
    const organics = system.wiring.cells.map((_, c) =>
      (["ss", "xs", "xd", "xh", "o2"] as const).map((v) => y[system.cellIndex(c, v)]),
    );
    fill(system, y, { ...fresh, tanGPerM3: keep.tan, no2GPerM3: keep.no2 });
    organics.forEach((values, c) => {
      (["ss", "xs", "xd", "xh", "o2"] as const).forEach((v, i) => {
        y[system.cellIndex(c, v)] = values[i];
      });
    });
    solver.restart();
  }
  return biomass();
}

/** The colony at the start for a seed of a given share of the mature one. */
export function seededColony(aquarium: Aquarium, mature: Colony, share: number, where: Seed["where"]): Colony {
  const media = new Set([...aquarium.filmOf.towers, ...aquarium.filmOf.submerged]);
  const moved = share >= MOVED_FILTER_SHARE;
  return mature.map((film, f) => {
    const here = where === "everywhere" || media.has(f) ? share : 0;
    const ammonia = film.aob + film.cmx;
    return moved
      ? {
          aob: here * film.aob,
          cmx: here * film.cmx,
          nob: here * film.nob,
          het: Math.max(here * film.het, STRAY_HETEROTROPHS_G_PER_M2),
        }
      : { aob: here * ammonia, cmx: SLOW_AMONG_STRAYS * here * ammonia, nob: here * film.nob, het: STRAY_HETEROTROPHS_G_PER_M2 };
  });
}
