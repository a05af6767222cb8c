// Where processes run: every cell and every film is a place with the process table of its kind, the rate coefficients it has there, and
// the state rows that each rate moves.

import { exp } from "../../../sim/elementary.ts";
import { ammoniaOxidisers, nitrifiers, nitriteOxidisers } from "../kinetics/guilds.ts";
import type { ParameterValues } from "../kinetics/parameters.ts";
import type { Process } from "../kinetics/processes.ts";
import type { RateEvaluator } from "../kinetics/rate-evaluator.ts";
import type { CellCoefficients, Coefficients } from "./coefficients.ts";
import { isBacteria, isCellVariable, isFilmVariable, isSink, type StateLayout } from "./state-layout.ts";

const GAS_CONSTANT = 8.314462618;

export interface ReactionSite {
  readonly kernel: RateEvaluator;
  readonly list: readonly Process[];
  /** State index of each local variable of the kernel. */
  readonly index: Int32Array;
  /** Rate coefficient of each process here, now. */
  readonly k: Float64Array;
  readonly cell: number;
  /** Index of the film; -1 for the water of a cell. */
  readonly film: number;
  /** Effects: rate p adds factor[e] to state row[e]; the factor is the stoichiometric coefficient times its scale. */
  readonly effectProcess: Int32Array;
  readonly effectRow: Int32Array;
  readonly effectCoefficient: Float64Array;
  readonly effectFactor: Float64Array;
  readonly effectScale: Uint8Array;
  /** Jacobian entry of each effect: e * width + j, or -1. */
  readonly position: Int32Array;
}

/** What a coefficient is scaled by on its way from the rate's own unit (per m3 of water, per m2 of film) to that of the row. */
enum Scale {
  Own,
  FilmWater,
  FilmToCell,
  CellToStore,
  FilmToStore,
  CellToGas,
}

export function compileSite(
  layout: StateLayout,
  kernel: RateEvaluator,
  list: readonly Process[],
  cell: number,
  film: number,
): ReactionSite {
  const inFilm = film >= 0;
  const index = Int32Array.from(kernel.locals, (name) => {
    if (inFilm && isFilmVariable(name)) return layout.filmIndex(film, name);
    const borrowed = name === "around" ? "tan" : name;
    if (!isCellVariable(borrowed)) throw new Error(`a place has no ${name}`);
    return layout.cellIndex(cell, borrowed);
  });
  const effects: { p: number; row: number; coefficient: number; scale: Scale }[] = [];
  list.forEach((process, p) => {
    for (const [substance, coefficient] of Object.entries(process.stoichiometry)) {
      // What animals burn comes from outside the balance, and carbon dioxide given off to the room leaves it.
      if (coefficient === 0 || substance === "reserve") continue;
      const to = (row: number, scale: Scale) => effects.push({ p, row, coefficient, scale });
      if (substance === "co2air") {
        const gas = layout.wiring.gasCells.indexOf(cell);
        if (gas >= 0) to(layout.gasIndex(gas, "co2"), Scale.CellToGas);
      } else if (isSink(substance)) to(layout.endIndex(substance), inFilm ? Scale.FilmToStore : Scale.CellToStore);
      else if (inFilm && isFilmVariable(substance))
        to(layout.filmIndex(film, substance), isBacteria(substance) ? Scale.Own : Scale.FilmWater);
      else if (isCellVariable(substance)) to(layout.cellIndex(cell, substance), inFilm ? Scale.FilmToCell : Scale.Own);
      else throw new Error(`${process.id} makes ${substance}, which has no place to go`);
    }
  });
  return {
    kernel,
    list,
    index,
    k: new Float64Array(list.length),
    cell,
    film,
    effectProcess: Int32Array.from(effects, (e) => e.p),
    effectRow: Int32Array.from(effects, (e) => e.row),
    effectCoefficient: Float64Array.from(effects, (e) => e.coefficient),
    effectFactor: new Float64Array(effects.length),
    effectScale: Uint8Array.from(effects, (e) => e.scale),
    position: new Int32Array(effects.length * kernel.width).fill(-1),
  };
}

/** Variables that follow from the pH. */
const acidVariables: ReadonlySet<string> = new Set(["ph", "co2", "freeAmmonia", "nitrousAcid"]);

/** Whether rate p of a place can depend on each local variable. */
export function dependencies(place: ReactionSite, p: number): boolean[] {
  const used = new Set<string>();
  const waterTan = place.film < 0 ? "tan" : "around";
  const add = (process: Process): void => {
    for (const term of process.terms) {
      if (acidVariables.has(term.of)) for (const name of ["alk", "dic", waterTan]) used.add(name);
      if (term.of === "freeAmmonia") used.add("tan");
      else if (term.of === "nitrousAcid") used.add("no2");
      else if (term.of === "ammoniaOxidisers") for (const guild of ammoniaOxidisers) used.add(guild);
      else if (term.of === "nitriteOxidisers") for (const guild of nitriteOxidisers) used.add(guild);
      else used.add(term.of);
    }
  };
  add(place.list[p]);
  // The effectiveness couples every process inside the film to all that share its oxygen and substrate.
  // And through the thickness, to all nitrifiers.
  if (place.list[p].depth) {
    for (const other of place.list) if (other.depth && other.depth !== "anoxic") add(other);
    for (const guild of nitrifiers) used.add(guild);
  }
  return place.kernel.locals.map((name) => used.has(name));
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
  const scales = scalesHere(place, layout, coefficients);
  place.effectCoefficient.forEach((coefficient, e) => {
    place.effectFactor[e] = coefficient * scales[place.effectScale[e]];
  });
}

/** Arrhenius from 20 °C to 30 °C, level to 35, straight down to none at 43 °C (the cap is a modelling choice, after optimum ranges of 29-36 °C). */
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
