// Reaction sites: every cell and every film has the process table of its kind, its own rate coefficients, and
// the state rows that its processes change.

import { exp } from "../../../sim/elementary.ts";
import type { ParameterValues } from "../kinetics/parameters.ts";
import type { Process } from "../kinetics/processes.ts";
import { cellVariables, filmVariables, type RateEvaluator } from "../kinetics/rate-evaluator.ts";
import type { CellCoefficients, Coefficients } from "./coefficients.ts";
import { cellVariableOf, type PlaceRow, placeData, Scale } from "./rate-programs.ts";
import { isCellVariable, isFilmVariable, type Sink, type StateLayout } from "./state-layout.ts";

const GAS_CONSTANT = 8.314462618;

export interface ReactionSite {
  /** Reads the process table of this kind of place, process by process; made when first asked for. */
  readonly evaluator: () => RateEvaluator;
  readonly list: readonly Process[];
  /** State index of each local variable of the kernel. */
  readonly index: Int32Array;
  /** Present rate coefficient of each process here: the first part of `data`. */
  readonly k: Float64Array;
  /** The numbers of the place's compiled programs: see `placeData`. */
  readonly data: Float64Array;
  readonly cell: number;
  /** Index of the film; -1 for the water of a cell. */
  readonly film: number;
}

/** @param data an array of the length given by `placeData` */
export function compileSite(
  layout: StateLayout,
  evaluator: () => RateEvaluator,
  list: readonly Process[],
  cell: number,
  film: number,
  data: Float64Array,
): ReactionSite {
  const locals: readonly string[] = film < 0 ? cellVariables : filmVariables;
  const index = Int32Array.from(locals, (name) => localIndex(layout, name, cell, film));
  return { evaluator, list, index, k: data.subarray(0, list.length), data, cell, film };
}

/** State index of a local variable at a place. @param film -1 for the water of a cell */
export function localIndex(layout: StateLayout, name: string, cell: number, film: number): number {
  if (film >= 0 && isFilmVariable(name)) return layout.filmIndex(film, name);
  const water = cellVariableOf(name);
  if (!isCellVariable(water)) throw new Error(`a place has no ${name}`);
  return layout.cellIndex(cell, water);
}

/** State index of a row that the processes of a place change; null for the gas over water that has no gas space. */
export function rowIndex(layout: StateLayout, row: PlaceRow, cell: number, film: number): number | null {
  if (row.of === "film" || row.of === "cell") return localIndex(layout, row.name, cell, row.of === "film" ? film : -1);
  if (row.of === "store") return layout.endIndex(row.name as Sink);
  const gas = layout.wiring.gasCells.indexOf(cell);
  return gas < 0 ? null : layout.gasIndex(gas, "co2");
}

/** Recomputes a place's rate coefficients and factors from the coefficients. */
export function refreshSite(
  place: ReactionSite,
  layout: StateLayout,
  coefficients: Coefficients,
  parameters: ParameterValues,
): void {
  const at = coefficients.cells[place.cell];
  const film = place.film < 0 ? undefined : coefficients.films[place.film];
  const salt = Math.min(1, coefficients.salinityGPerKg / 35);
  const pace = 1 - (1 - parameters.saltRate) * salt;
  const room = 1 - (1 - parameters.saltStock) * salt;
  place.list.forEach((process, p) => {
    const energy = process.energy === "none" ? 0 : parameters[`${process.energy}Energy`];
    let k = process.rate * activation(energy, at.temperatureC);
    if (process.salt) k *= pace;
    if (process.salt === "pace and room") k /= room * room * room;
    if (process.guild) k *= process.guild === "aob" ? (film?.aobActivity ?? 1) : (film?.nobActivity ?? 1);
    if (process.coefficient) k *= coefficientHere(process.coefficient, at);
    place.k[p] = k;
  });
  place.data.set(scalesHere(place, layout, coefficients), placeData(place.list.length).scale);
}

/**
 * Arrhenius from 20 °C to 30 °C, constant to 35, linear to zero at 43 °C (the limit is a modelling choice, based on
 * optimum ranges of 29-36 °C).
 */
function activation(kJPerMol: number, temperatureC: number): number {
  const t = Math.min(temperatureC, 30);
  const rise = exp(((kJPerMol * 1000) / GAS_CONSTANT) * (1 / 293.15 - 1 / (t + 273.15)));
  return temperatureC <= 35 ? rise : rise * Math.max(0, (43 - temperatureC) / 8);
}

function coefficientHere(name: NonNullable<Process["coefficient"]>, at: CellCoefficients): number {
  switch (name) {
    case "co2Transfer":
      return at.co2TransferPerDay;
    case "nh3Transfer":
      return at.nh3TransferPerDay;
    case "respiration":
      return at.respirationGPerM3Day;
    case "plantUptake":
      return at.plantUptakeGNPerM3Day;
    case "settling":
      return at.settlingPerDay;
    case "skimming":
      return at.skimmingPerDay;
  }
}

/** The present scale of each kind of effect of a place, by `Scale`; 0 for kinds that it cannot have. */
function scalesHere({ cell, film }: ReactionSite, { wiring }: StateLayout, coefficients: Coefficients): number[] {
  const { volumeM3 } = coefficients.cells[cell];
  const areaM2 = film < 0 ? 0 : coefficients.films[film].areaM2;
  const gas = coefficients.gas[wiring.gasCells.indexOf(cell)];
  const scales: Record<Scale, number> = {
    [Scale.Own]: 1,
    [Scale.FilmWater]: film < 0 ? 0 : 1 / wiring.films[film].waterM,
    [Scale.FilmToCell]: areaM2 / volumeM3,
    [Scale.CellToStore]: volumeM3,
    [Scale.FilmToStore]: areaM2,
    [Scale.CellToGas]: gas ? volumeM3 / (gas.volumeM3 * gas.roomCo2MolPerM3) : 0,
  };
  return Object.values(scales);
}
