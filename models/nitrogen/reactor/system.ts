// The whole nitrogen model as one stiff problem: cells joined by flows, films on surfaces, animals' guts, and the places where
// matter goes for good. The wiring is fixed at construction; `setCoefficients` replaces the numbers that events change.

import type { StiffProblem } from "../../../sim/integrators/problem.ts";
import type { SparsePattern } from "../../../sim/linear-algebra/sparse-pattern.ts";
import { SECONDS_PER_DAY } from "../../../sim/time.ts";
import { ammoniumPka } from "../../water/ammonia.ts";
import { type CarbonateConstants, carbonateConstants, NoPhError, PH, PH_RESULT_LENGTH, solvePh } from "../../water/carbonate.ts";
import { NITROGEN_G_PER_MOL } from "../../water/molar-mass.ts";
import { nitrousAcidPka } from "../../water/nitrous-acid.ts";
import type { FilmDepth } from "../kinetics/effectiveness.ts";
import { nitrifiers } from "../kinetics/guilds.ts";
import type { ParameterValues } from "../kinetics/parameters.ts";
import { type Depth, type Process, processes } from "../kinetics/processes.ts";
import { RateEvaluator } from "../kinetics/rate-evaluator.ts";
import { type Coefficients, plainCoefficients } from "./coefficients.ts";
import { compileSite, dependencies, type ReactionSite, refreshSite } from "./reaction-sites.ts";
import { StateLayout } from "./state-layout.ts";
import { LinearPart, soluteDiffusivity } from "./transport.ts";
import type { Wiring } from "./wiring.ts";

export class NitrogenSystem extends StateLayout implements StiffProblem {
  readonly pattern: SparsePattern;
  readonly parameters: ParameterValues;
  readonly rows: readonly Process[];
  private current: Coefficients;
  private readonly places: readonly ReactionSite[];
  private readonly linear: LinearPart;
  private readonly acid: readonly Float64Array[];
  private readonly constants: CarbonateConstants[] = [];
  private readonly pka: Float64Array;
  private readonly nitrousPka: Float64Array;
  private readonly filmDepth: FilmDepth[] = [];

  constructor(wiring: Wiring, parameters: ParameterValues, coefficients: Coefficients = plainCoefficients(wiring)) {
    super(wiring);
    const { cells, films } = wiring;
    this.parameters = parameters;
    this.rows = processes(parameters);
    this.current = coefficients;
    this.acid = cells.map(() => {
      const slots = new Float64Array(PH_RESULT_LENGTH);
      slots[PH] = 7.5;
      return slots;
    });
    this.pka = new Float64Array(cells.length);
    this.nitrousPka = new Float64Array(cells.length);
    const cellRows = this.rows.filter((row) => row.place === "cell");
    const filmRows = this.rows.filter((row) => row.place === "film");
    const cellKernel = new RateEvaluator(cellRows, "cell");
    const filmKernel = new RateEvaluator(filmRows, "film");
    this.places = [
      ...cells.map((_, c) => compileSite(this, cellKernel, cellRows, c, -1)),
      ...films.map((film, f) => compileSite(this, filmKernel, filmRows, film.cell, f)),
    ];
    this.linear = new LinearPart(this, coefficients, parameters);
    this.pattern = jacobianPattern(this.size, this.linear, this.places);
    this.refresh();
  }

  get coefficients(): Coefficients {
    return this.current;
  }

  /** Evaluates the equations with other coefficients from now on. */
  setCoefficients(coefficients: Coefficients): void {
    this.current = coefficients;
    this.refresh();
  }

  private refresh(): void {
    const { coefficients, parameters, wiring } = this;
    this.linear.refresh(this, coefficients, parameters);
    wiring.cells.forEach((_, c) => {
      const t = coefficients.cells[c].temperatureC;
      this.constants[c] = carbonateConstants(t, coefficients.salinityGPerKg);
      this.pka[c] = ammoniumPka(t, coefficients.salinityGPerKg);
      this.nitrousPka[c] = nitrousAcidPka(t);
    });
    wiring.films.forEach((film, f) => {
      const t = coefficients.cells[film.cell].temperatureC;
      const over = (substance: "tan" | "no2" | "ss" | "o2") =>
        1 / (2 * parameters.filmDiffusivity * soluteDiffusivity(substance, t) * SECONDS_PER_DAY);
      this.filmDepth[f] = {
        tan: over("tan"),
        no2: over("no2"),
        ss: over("ss"),
        o2: over("o2"),
        leastM: film.filmM,
        densityGPerM3: parameters.filmDensity,
      };
    });
    for (const place of this.places) refreshSite(place, this, coefficients, parameters);
  }

  /**
   * pH of every cell. A stage of a step too bold may ask for water that cannot be (no pH fits); it gets not-a-number, on which the
   * integrator takes a smaller step, or fails by name when none is small enough.
   */
  private solveAcids(y: Float64Array): void {
    for (let c = 0; c < this.acid.length; c++) {
      const slots = this.acid[c];
      try {
        const tan = y[this.cellIndex(c, "tan")];
        solvePh(
          this.constants[c],
          y[this.cellIndex(c, "alk")],
          y[this.cellIndex(c, "dic")],
          tan / NITROGEN_G_PER_MOL,
          slots[PH],
          slots,
        );
      } catch (error) {
        if (!(error instanceof NoPhError)) throw error;
        slots.fill(Number.NaN);
      }
    }
  }

  derivative(_t: number, y: Float64Array, out: Float64Array): void {
    out.fill(0);
    this.solveAcids(y);
    this.linear.addDerivative(y, out);
    for (const place of this.places) {
      this.evaluate(place, y, false);
      const { effectProcess, effectRow, effectFactor } = place;
      const { rates } = place.kernel;
      for (let e = 0; e < effectRow.length; e++) out[effectRow[e]] += effectFactor[e] * rates[effectProcess[e]];
    }
  }

  jacobian(_t: number, y: Float64Array, values: Float64Array): void {
    values.fill(0);
    this.solveAcids(y);
    this.linear.addJacobian(values);
    for (const place of this.places) {
      this.evaluate(place, y, true);
      const { effectProcess, effectFactor, position } = place;
      const { gradients, width } = place.kernel;
      for (let e = 0; e < effectProcess.length; e++) {
        const row = effectProcess[e] * width;
        const factor = effectFactor[e];
        for (let j = 0; j < width; j++) {
          const at = position[e * width + j];
          if (at >= 0) values[at] += factor * gradients[row + j];
        }
      }
    }
  }

  private evaluate(place: ReactionSite, y: Float64Array, withGradients: boolean): void {
    place.kernel.evaluate(
      y,
      place.index,
      place.k,
      this.acid[place.cell],
      this.pka[place.cell],
      this.nitrousPka[place.cell],
      place.film < 0 ? undefined : this.filmDepth[place.film],
      withGradients,
    );
  }

  /** Thickness of a film at a state [m]. */
  filmThicknessM(y: Float64Array, film: number): number {
    let biomass = 0;
    for (const guild of nitrifiers) biomass += y[this.filmIndex(film, guild)];
    return this.wiring.films[film].filmM + Math.max(biomass, 0) / this.parameters.filmDensity;
  }

  /** Ammonia that a film oxidises at a state [g N/d]. */
  ammoniaOxidation(y: Float64Array, film: number): number {
    return this.turnover(y, film, "tan", "no2");
  }

  /** Nitrite that a film oxidises at a state [g N/d]. */
  nitriteOxidation(y: Float64Array, film: number): number {
    return this.turnover(y, film, "no2", "no3");
  }

  private turnover(y: Float64Array, film: number, of: Depth, product: "no2" | "no3"): number {
    this.solveAcids(y);
    const place = this.places[this.wiring.cells.length + film];
    this.evaluate(place, y, false);
    let made = 0;
    for (const [p, process] of place.list.entries())
      if (process.depth === of) made += place.kernel.rates[p] * (process.stoichiometry[product] ?? 0);
    return made * this.coefficients.films[film].areaM2;
  }

  /** Largest rate of each process at a state, by its id, over all cells [1/(m3 d)] or films [1/(m2 d)]. */
  processRates(y: Float64Array): ReadonlyMap<string, number> {
    this.solveAcids(y);
    const rates = new Map<string, number>();
    for (const place of this.places) {
      this.evaluate(place, y, false);
      for (const [p, { id }] of place.list.entries()) rates.set(id, Math.max(rates.get(id) ?? 0, place.kernel.rates[p]));
    }
    return rates;
  }

  /**
   * What a film's bacteria would use at given concentrations if nothing were scarce inside: the same process table without the penetration
   * formula, for a film resolved in depth. @returns a function that writes uptake of TAN, nitrite, oxygen, dissolved organics [g/m2/d] and
   * its slopes over these four (row-major) for concentrations given in that order; the rest is taken from state `y`, which it borrows.
   */
  uptakeAtDepth(y: Float64Array, film: number): (s: Float64Array, uptake: Float64Array, slopes: Float64Array) => void {
    this.solveAcids(y);
    const place = this.places[this.wiring.cells.length + film];
    const { kernel, list, k, index, cell } = place;
    const local = Float64Array.from(index, (i) => y[i]);
    const own = Int32Array.from(index, (_, i) => i);
    const uses = ["tan", "no2", "o2", "ss"] as const;
    // Reactions where oxygen has run out are told by the oxygen of the layer itself ("anoxic water"), not by a share of the depth.
    const coefficients = uses.map((name) =>
      list.map((process) => (process.depth === "anoxic" ? 0 : (process.stoichiometry[name] ?? 0))),
    );
    return (s, uptake, slopes) => {
      local.set(s);
      kernel.evaluate(local, own, k, this.acid[cell], this.pka[cell], this.nitrousPka[cell], undefined, true);
      uses.forEach((_, i) => {
        let sum = 0;
        for (let p = 0; p < list.length; p++) sum -= coefficients[i][p] * kernel.rates[p];
        uptake[i] = sum;
        for (let j = 0; j < 4; j++) {
          let slope = 0;
          for (let p = 0; p < list.length; p++) slope -= coefficients[i][p] * kernel.gradients[p * kernel.width + j];
          slopes[i * 4 + j] = slope;
        }
      });
    };
  }

  /** pH of each cell at a state, into `out`. */
  ph(y: Float64Array, out: Float64Array): void {
    this.solveAcids(y);
    for (let c = 0; c < out.length; c++) out[c] = this.acid[c][PH];
  }
}

/** Every entry the Jacobian can have; writes into the linear part and the places where theirs stand. */
function jacobianPattern(size: number, linear: LinearPart, places: readonly ReactionSite[]): SparsePattern {
  const columnsOf: Set<number>[] = Array.from({ length: size }, (_, i) => new Set([i]));
  linear.column.forEach((column, i) => {
    if (column >= 0) columnsOf[linear.row[i]].add(column);
  });
  const depends = places.map((place) => place.list.map((_, p) => dependencies(place, p)));
  const eachEntry = (visit: (place: ReactionSite, e: number, j: number) => void): void =>
    places.forEach((place, n) => {
      place.effectProcess.forEach((p, e) => {
        depends[n][p].forEach((yes, j) => {
          if (yes) visit(place, e, j);
        });
      });
    });
  eachEntry((place, e, j) => columnsOf[place.effectRow[e]].add(place.index[j]));
  const rowStart = new Int32Array(size + 1);
  const columns: number[] = [];
  columnsOf.forEach((set, row) => {
    columns.push(...[...set].sort((a, b) => a - b));
    rowStart[row + 1] = columns.length;
  });
  const pattern = { size, rowStart, columns: Int32Array.from(columns) };
  const find = (row: number, column: number): number => pattern.columns.indexOf(column, rowStart[row]);
  linear.column.forEach((column, i) => {
    linear.position[i] = column < 0 ? -1 : find(linear.row[i], column);
  });
  eachEntry((place, e, j) => {
    place.position[e * place.kernel.width + j] = find(place.effectRow[e], place.index[j]);
  });
  return pattern;
}
