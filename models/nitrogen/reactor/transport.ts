// The linear part of the equations: water flow between cells, exchange with films, gas and air, emptying of guts.
import type { VectorLoops } from "../../../sim/linear-algebra/vector-loops.ts";
import { SECONDS_PER_DAY } from "../../../sim/time.ts";
import { diffusivityM2PerS } from "../../water/diffusivity.ts";
import { NITROGEN_G_PER_MOL } from "../../water/molar-mass.ts";
import { N_IN_ORGANICS } from "../kinetics/composition.ts";
import { nitrifiers } from "../kinetics/guilds.ts";
import type { ParameterValues } from "../kinetics/parameters.ts";
import { cellVariables } from "../kinetics/rate-evaluator.ts";
import type { Coefficients } from "./coefficients.ts";
import type { StateLayout } from "./state-layout.ts";

const solutes = { tan: "ammonium", no2: "nitrite", o2: "oxygen", ss: "organic" } as const;

/** Diffusivity in fresh water of the substances that diffuse into films [m²/s]. */
export const soluteDiffusivity = (substance: keyof typeof solutes, temperatureC: number): number =>
  diffusivityM2PerS(solutes[substance], temperatureC, 0);

/** The linear part of the equations: state row += value * y[column] (column -1: a constant). */
export class LinearPart {
  readonly row: Int32Array;
  readonly column: Int32Array;
  /** Bytes of memory of the vector loops that `place` takes. */
  readonly bytes: number;
  /** The negative of each value, because the vector loops subtract; then 1. Set by `place`. */
  private value: Float64Array = new Float64Array(0);
  private kernel: VectorLoops | undefined;
  /** Byte addresses of the operations: those on the derivative, those on the Jacobian, their end. */
  private operations: readonly number[] = [];
  /** Entry to which each term of `linearTerms`, in its fixed order, is added: terms of one row and column share an entry. */
  private readonly entry: Int32Array;

  constructor(layout: StateLayout, coefficients: Coefficients, parameters: ParameterValues) {
    const places: [number, number][] = [];
    const known = new Map<string, number>();
    const entry: number[] = [];
    linearTerms(layout, coefficients, parameters, (row, column) => {
      const key = `${row} ${column}`;
      const index = known.get(key) ?? places.push([row, column]) - 1;
      known.set(key, index);
      entry.push(index);
    });
    this.entry = Int32Array.from(entry);
    this.row = Int32Array.from(places, ([row]) => row);
    this.column = Int32Array.from(places, ([, column]) => column);
    this.bytes = 8 * (places.length + 1) + 4 * 3 * 2 * places.length + 8;
  }

  /** Takes its memory of the vector loops. @param entries position of each entry in the Jacobian (null: not stored) */
  place(
    kernel: VectorLoops,
    state: Float64Array,
    slopes: Float64Array,
    slopesByState: Float64Array,
    entries: readonly (number | null)[],
  ): void {
    const { row, column } = this;
    this.kernel = kernel;
    this.value = kernel.floats(row.length + 1);
    this.value[row.length] = 1;
    const at = (list: Float64Array, i: number): number => list.byteOffset + 8 * i;
    const one = at(this.value, row.length);
    const list: number[] = [];
    for (let i = 0; i < row.length; i++)
      list.push(at(slopes, row[i]), at(this.value, i), column[i] < 0 ? one : at(state, column[i]));
    const between = list.length;
    entries.forEach((entry, i) => {
      if (entry !== null) list.push(at(slopesByState, entry), at(this.value, i), one);
    });
    const words = kernel.integers(list.length);
    words.set(list);
    this.operations = [0, between, list.length].map((i) => words.byteOffset + 4 * i);
  }

  refresh(layout: StateLayout, coefficients: Coefficients, parameters: ParameterValues): void {
    const { value, entry, row } = this;
    let n = 0;
    value.fill(0, 0, row.length);
    linearTerms(layout, coefficients, parameters, (_row, _column, x) => {
      value[entry[n++]] -= x;
    });
  }

  addDerivative(): void {
    this.kernel?.run(this.operations[0], this.operations[1]);
  }

  addJacobian(): void {
    this.kernel?.run(this.operations[1], this.operations[2]);
  }
}

/**
 * Emits every term d y[row]/dt += value × y[column] (column -1: a constant), always in the same order, from the coefficients.
 * A row and column may occur more than once; their values add.
 */
function linearTerms(
  layout: StateLayout,
  coefficients: Coefficients,
  parameters: ParameterValues,
  put: (row: number, column: number, value: number) => void,
): void {
  const { cells, films, gasCells, guts, ways } = layout.wiring;
  ways.forEach(({ from, to }, w) => {
    const flow = coefficients.flows[w];
    const capture = coefficients.cells[to].captureShare;
    for (const v of cellVariables) {
      // Solids that have settled, or were retained on a pad or in media, do not move.
      if (v === "xd") continue;
      const source = layout.cellIndex(from, v);
      put(source, source, -flow / coefficients.cells[from].volumeM3);
      const caught = v === "xs" ? capture : 0;
      put(layout.cellIndex(to, v), source, ((1 - caught) * flow) / coefficients.cells[to].volumeM3);
    }
    put(layout.cellIndex(to, "xd"), layout.cellIndex(from, "xs"), (capture * flow) / coefficients.cells[to].volumeM3);
  });
  films.forEach((film, f) => {
    const { temperatureC, volumeM3 } = coefficients.cells[film.cell];
    for (const substance of ["tan", "no2", "o2", "ss"] as const) {
      const velocity = (soluteDiffusivity(substance, temperatureC) * SECONDS_PER_DAY) / film.boundaryM;
      const inside = layout.filmIndex(f, substance);
      const outside = layout.cellIndex(film.cell, substance);
      const perVolume = (velocity * coefficients.films[f].areaM2) / volumeM3;
      put(inside, outside, velocity / film.waterM);
      put(inside, inside, -velocity / film.waterM);
      put(outside, inside, perVolume);
      put(outside, outside, -perVolume);
    }
  });
  const total = coefficients.films.reduce((sum, film) => sum + film.areaM2, 0);
  const landing = parameters.sloughing * parameters.resettling;
  for (const guild of nitrifiers) {
    films.forEach((_, from) => {
      const lost = layout.filmIndex(from, guild);
      put(lost, lost, -landing);
      films.forEach((__, to) => {
        put(layout.filmIndex(to, guild), lost, (landing * coefficients.films[from].areaM2) / Math.max(total, 1e-9));
      });
    });
  }
  cells.forEach((_, c) => {
    const at = coefficients.cells[c];
    const gas = gasCells.indexOf(c);
    const o2 = layout.cellIndex(c, "o2");
    const dic = layout.cellIndex(c, "dic");
    put(o2, o2, -at.o2TransferPerDay);
    if (gas < 0) {
      put(o2, -1, at.o2TransferPerDay * at.o2SaturationGPerM3);
      put(dic, -1, at.co2TransferPerDay * at.co2SaturationMolPerM3);
    } else {
      const { volumeM3, exchangePerDay, roomO2GPerM3, roomCo2MolPerM3 } = coefficients.gas[gas];
      const gasO2 = layout.gasIndex(gas, "o2");
      const gasCo2 = layout.gasIndex(gas, "co2");
      // Saturation is proportional to the oxygen and carbon dioxide in the gas over the water, relative to room air.
      put(o2, gasO2, at.o2TransferPerDay * at.o2SaturationGPerM3);
      put(dic, gasCo2, at.co2TransferPerDay * at.co2SaturationMolPerM3);
      const o2PerGas = (at.o2TransferPerDay * at.volumeM3) / (volumeM3 * roomO2GPerM3);
      const co2PerGas = (at.co2TransferPerDay * at.volumeM3) / (volumeM3 * roomCo2MolPerM3);
      put(gasO2, -1, exchangePerDay);
      put(gasO2, gasO2, -exchangePerDay - o2PerGas * at.o2SaturationGPerM3);
      put(gasO2, o2, o2PerGas);
      put(gasCo2, -1, exchangePerDay);
      put(gasCo2, gasCo2, -exchangePerDay - co2PerGas * at.co2SaturationMolPerM3);
    }
    put(layout.cellIndex(c, "tan"), -1, at.excretionGNPerM3Day);
    put(layout.cellIndex(c, "alk"), -1, at.excretionGNPerM3Day / NITROGEN_G_PER_MOL);
  });
  guts.forEach((gut, g) => {
    const { ratePerDay, tanShare, wasteShare, eatenGNPerDay, uneatenGNPerDay } = coefficients.guts[g];
    const [first, second] = [layout.gutIndex(g, 0), layout.gutIndex(g, 1)];
    const volume = gut.cells.reduce((sum, c) => sum + coefficients.cells[c].volumeM3, 0);
    put(first, -1, eatenGNPerDay);
    put(first, first, -ratePerDay);
    put(second, first, ratePerDay);
    put(second, second, -ratePerDay);
    for (const c of gut.cells) {
      put(layout.cellIndex(c, "xd"), -1, uneatenGNPerDay / N_IN_ORGANICS / volume);
      put(layout.cellIndex(c, "tan"), second, (ratePerDay * tanShare) / volume);
      put(layout.cellIndex(c, "alk"), second, (ratePerDay * tanShare) / volume / NITROGEN_G_PER_MOL);
      put(layout.cellIndex(c, "xs"), second, (ratePerDay * wasteShare) / volume / N_IN_ORGANICS);
    }
    put(layout.endIndex("kept"), second, ratePerDay * (1 - tanShare - wasteShare));
  });
}
