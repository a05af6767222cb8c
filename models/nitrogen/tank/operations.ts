// Operations of events on the state vector: each moves, adds or removes matter. Nothing here integrates.
import { carbonateConstants, dicMolPerM3 } from "../../water/carbonate.ts";
import { CHLORINE_GAS_G_PER_MOL, NITROGEN_G_PER_MOL } from "../../water/molar-mass.ts";
import { content, N_IN_ORGANICS } from "../kinetics/composition.ts";
import { type Guild, guilds } from "../kinetics/guilds.ts";
import { cellVariables } from "../kinetics/rate-evaluator.ts";
import type { DoseSubstance, TapWater, WaterQuality } from "../management.ts";
import type { NitrogenSystem } from "../reactor/system.ts";

/** Fills every cell and film with water of a quality, with oxygen at saturation. */
export function fill(system: NitrogenSystem, y: Float64Array, water: WaterQuality): void {
  const { wiring, coefficients } = system;
  wiring.cells.forEach((_, c) => {
    const at = coefficients.cells[c];
    const constants = carbonateConstants(at.temperatureC, coefficients.salinityGPerKg);
    const dic = dicMolPerM3(constants, water.ph, water.alkalinityEqPerM3, water.tanGPerM3 / NITROGEN_G_PER_MOL);
    const values = {
      tan: water.tanGPerM3,
      no2: water.no2GPerM3,
      no3: water.no3GPerM3,
      o2: at.o2SaturationGPerM3,
      alk: water.alkalinityEqPerM3,
      dic: Math.max(dic, 0),
      ss: 0,
      xs: 0,
      xd: 0,
      xh: 1e-3,
    };
    for (const v of cellVariables) y[system.cellIndex(c, v)] = values[v];
  });
  wiring.films.forEach((_, f) => {
    replaceFilmWater(system, y, f);
  });
  wiring.gasCells.forEach((_, g) => {
    y[system.gasIndex(g, "o2")] = 1;
    y[system.gasIndex(g, "co2")] = 1;
  });
}

/**
 * Replaces a share of the water of all cells except the towers (whose hold-up stays) by tap water. Suspended solids
 * leave, settled solids stay.
 */
export function changeWater(system: NitrogenSystem, y: Float64Array, share: number, tap: TapWater): void {
  const { wiring, coefficients } = system;
  const total = coefficients.cells.reduce((sum, cell) => sum + cell.volumeM3, 0);
  const exchanged = wiring.cells.map((_, c) => !wiring.gasCells.includes(c));
  const reachable = coefficients.cells.reduce((sum, cell, c) => sum + (exchanged[c] ? cell.volumeM3 : 0), 0);
  const each = Math.min(1, (share * total) / reachable);
  wiring.cells.forEach((_, c) => {
    if (exchanged[c]) dilute(system, y, c, each, tap);
  });
}

/** Replaces a share of one cell's water by tap water. Suspended solids leave, settled solids stay. */
export function dilute(system: NitrogenSystem, y: Float64Array, cell: number, share: number, tap: TapWater): void {
  const constants = carbonateConstants(tap.temperatureC ?? system.coefficients.cells[cell].temperatureC, tap.salinityGPerKg);
  const dic = Math.max(0, dicMolPerM3(constants, tap.ph, tap.alkalinityEqPerM3, tap.tanGPerM3 / NITROGEN_G_PER_MOL));
  const nitrogen = chloramineNGPerM3(tap);
  const fresh: Partial<Record<(typeof cellVariables)[number], number>> = {
    tan: tap.tanGPerM3 + nitrogen,
    no2: tap.no2GPerM3,
    no3: tap.no3GPerM3,
    o2: system.coefficients.cells[cell].o2SaturationGPerM3,
    alk: tap.alkalinityEqPerM3 + nitrogen / NITROGEN_G_PER_MOL,
    dic,
    ss: 0,
    xs: 0,
    xh: 0,
  };
  for (const v of cellVariables) {
    const incoming = fresh[v];
    if (incoming === undefined) continue;
    const i = system.cellIndex(cell, v);
    y[i] += share * (incoming - y[i]);
  }
}

/** Ammonia released when a conditioner splits chloramine: 1 mol N per mol Cl2 [g N/m³]. */
const chloramineNGPerM3 = (tap: TapWater): number => (tap.chloramineGPerM3 * NITROGEN_G_PER_MOL) / CHLORINE_GAS_G_PER_MOL;

/** Total nitrogen in tap water [g N/m³]. */
export const tapNitrogenGPerM3 = (tap: TapWater): number =>
  tap.tanGPerM3 + tap.no2GPerM3 + tap.no3GPerM3 + chloramineNGPerM3(tap);

/**
 * Adds a substance evenly to all the water: grams N, equivalents, or (to a level) the difference to it.
 * @returns grams of chloride added
 */
export function dose(
  system: NitrogenSystem,
  y: Float64Array,
  substance: DoseSubstance,
  amount: number | null,
  toLevel: number | null,
): number {
  const { wiring, coefficients } = system;
  const total = coefficients.cells.reduce((sum, cell) => sum + cell.volumeM3, 0);
  if (substance === "chloride") return amount ?? (toLevel ?? 0) * total;
  const variable = substance === "bicarbonate" ? "alk" : substance === "nitrite" ? "no2" : "tan";
  const mean = coefficients.cells.reduce((sum, cell, c) => sum + cell.volumeM3 * y[system.cellIndex(c, variable)], 0) / total;
  const rise = amount !== null ? amount / total : Math.max(0, (toLevel ?? 0) - mean);
  wiring.cells.forEach((_, c) => {
    y[system.cellIndex(c, variable)] += rise;
    // Ammonia solution adds alkalinity; sodium bicarbonate adds carbon; salts of ammonium and nitrite add neither.
    if (substance === "ammonia") y[system.cellIndex(c, "alk")] += rise / NITROGEN_G_PER_MOL;
    if (substance === "bicarbonate") y[system.cellIndex(c, "dic")] += rise;
  });
  return 0;
}

/** Adds waste with a given nitrogen content to some cells, in proportion to their volume [g N]. */
export function depositOrganics(system: NitrogenSystem, y: Float64Array, cells: readonly number[], gN: number): void {
  const volumeM3 = cells.reduce((sum, c) => sum + system.coefficients.cells[c].volumeM3, 0);
  for (const c of cells) y[system.cellIndex(c, "xd")] += gN / N_IN_ORGANICS / volumeM3;
}

/** Washes bacteria from a film out of the system. */
export function rinse(system: NitrogenSystem, y: Float64Array, film: number, lostShare: number): void {
  for (const guild of guilds) y[system.filmIndex(film, guild)] *= 1 - lostShare;
}

/** Replaces the water in a film by that of its cell. */
export function replaceFilmWater(system: NitrogenSystem, y: Float64Array, film: number): void {
  const { cell } = system.wiring.films[film];
  for (const v of ["tan", "no2", "o2", "ss"] as const) y[system.filmIndex(film, v)] = y[system.cellIndex(cell, v)];
}

/** Kills bacteria in a film: they become waste in the water of their cell. */
export function kill(
  system: NitrogenSystem,
  y: Float64Array,
  film: number,
  lost: Readonly<Partial<Record<Guild, number>>>,
): void {
  const { wiring, coefficients } = system;
  const { cell } = wiring.films[film];
  for (const guild of guilds) {
    const share = lost[guild] ?? 0;
    if (share <= 0) continue;
    const i = system.filmIndex(film, guild);
    shed(system, y, cell, (coefficients.films[film].areaM2 * y[i] * share) / coefficients.cells[cell].volumeM3);
    y[i] *= 1 - share;
  }
}

/** Adds dead biomass [g COD/m³] as waste; the nitrogen that organics do not contain goes to ammonia, with its alkalinity. */
function shed(system: NitrogenSystem, y: Float64Array, cell: number, codGPerM3: number): void {
  const freed = codGPerM3 * ((content.aob.nitrogen ?? 0) - N_IN_ORGANICS);
  y[system.cellIndex(cell, "xs")] += codGPerM3;
  y[system.cellIndex(cell, "tan")] += freed;
  y[system.cellIndex(cell, "alk")] += freed / NITROGEN_G_PER_MOL;
}

/**
 * Adapts a film's state to another wetted area; the caller then sets the coefficients with that area. A film that gains
 * surface spreads over it and keeps its mass. In a film that loses surface, the dried part dies and its water returns
 * to the cell.
 */
export function setFilmArea(system: NitrogenSystem, y: Float64Array, film: number, areaM2: number): void {
  const { wiring, coefficients } = system;
  const old = coefficients.films[film].areaM2;
  if (areaM2 === old) return;
  const { cell, waterM } = wiring.films[film];
  const volume = coefficients.cells[cell].volumeM3;
  if (areaM2 < old) kill(system, y, film, Object.fromEntries(guilds.map((guild) => [guild, 1 - areaM2 / old])));
  for (const guild of guilds) y[system.filmIndex(film, guild)] *= old / areaM2;
  for (const v of ["tan", "no2", "o2", "ss"] as const) {
    const i = system.filmIndex(film, v);
    if (areaM2 > old) y[i] *= old / areaM2;
    else y[system.cellIndex(cell, v)] += ((old - areaM2) * waterM * y[i]) / volume;
  }
}

/**
 * Moves water and everything in it between cells: share[to][from], last row = lost to the floor. The caller then sets
 * the coefficients with `volumesM3`.
 */
export function moveWater(
  system: NitrogenSystem,
  y: Float64Array,
  share: readonly (readonly number[])[],
  volumesM3: readonly number[],
): void {
  const { wiring, coefficients } = system;
  const n = wiring.cells.length;
  const old = coefficients.cells.map((cell) => cell.volumeM3);
  for (const v of cellVariables) {
    const mass = wiring.cells.map((_, c) => (v === "xd" ? 0 : y[system.cellIndex(c, v)] * old[c]));
    for (let to = 0; to < n; to++) {
      const i = system.cellIndex(to, v);
      // Settled solids do not move.
      if (v === "xd") y[i] *= old[to] / volumesM3[to];
      else y[i] = mass.reduce((sum, m, from) => sum + share[to][from] * m, 0) / volumesM3[to];
    }
  }
}
