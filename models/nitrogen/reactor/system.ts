// The whole nitrogen model as one stiff problem: cells connected by flows, films on surfaces, animals' guts, and
// sinks. The wiring is fixed at construction; `setCoefficients` replaces the coefficients that events change.

import { exp } from "../../../sim/elementary.ts";
import type { Compiled } from "../../../sim/formula/compile.ts";
import type { StiffProblem } from "../../../sim/integrators/problem.ts";
import type { SparsePattern } from "../../../sim/linear-algebra/sparse-pattern.ts";
import { createVectorLoops, mayCompile, type VectorLoops } from "../../../sim/linear-algebra/vector-loops.ts";
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
import { Base, placeData, type RatePrograms, ratePrograms, tableNumbers } from "./rate-programs.ts";
import { compileSite, localIndex, type ReactionSite, refreshSite, rowIndex } from "./reaction-sites.ts";
import { StateLayout } from "./state-layout.ts";
import { LinearPart, soluteDiffusivity } from "./transport.ts";
import type { Wiring } from "./wiring.ts";

/** The process table of a kind of place: as rows, read process by process, and compiled. */
interface PlaceTable {
  readonly list: readonly Process[];
  readonly numbers: Float64Array;
  readonly evaluator: () => RateEvaluator;
  readonly programs: RatePrograms;
}

interface Tables {
  readonly rows: readonly Process[];
  readonly cell: PlaceTable;
  readonly film: PlaceTable;
}

/** By set of parameters, since a run and the questions about it share theirs. */
const knownTables = new WeakMap<ParameterValues, Tables>();

function tablesFor(parameters: ParameterValues): Tables {
  const known = knownTables.get(parameters);
  if (known) return known;
  const rows = processes(parameters);
  const table = (place: "cell" | "film"): PlaceTable => {
    const list = rows.filter((row) => row.place === place);
    let evaluator: RateEvaluator | undefined;
    return {
      list,
      numbers: tableNumbers(list),
      evaluator: () => {
        evaluator ??= new RateEvaluator(list, place);
        return evaluator;
      },
      programs: ratePrograms(place, parameters),
    };
  };
  const made = { rows, cell: table("cell"), film: table("film") };
  knownTables.set(parameters, made);
  return made;
}

/** A place with its programs and the addresses that they are called with. */
interface CompiledPlace {
  readonly site: ReactionSite;
  readonly derivative: Compiled;
  readonly jacobian: Compiled;
  /** See `Base`; the last one is the address of the place's table. */
  readonly bases: readonly number[];
  readonly table: number;
}

export class NitrogenSystem extends StateLayout implements StiffProblem {
  readonly pattern: SparsePattern;
  readonly parameters: ParameterValues;
  readonly rows: readonly Process[];
  private current: Coefficients;
  private readonly places: readonly ReactionSite[];
  private readonly compiled: readonly CompiledPlace[];
  private readonly kernel: VectorLoops;
  private readonly linear: LinearPart;
  /**
   * In the memory of the vector loops: state, its derivative, and the entries of the Jacobian; the last two have an
   * extra element for discarded values.
   */
  private readonly state: Float64Array;
  private readonly slopes: Float64Array;
  private readonly ownSlopes: Float64Array;
  private readonly slopesByState: Float64Array;
  private readonly ownSlopesByState: Float64Array;
  private readonly acid: readonly Float64Array[];
  private readonly constants: CarbonateConstants[] = [];
  private readonly pka: Float64Array;
  private readonly nitrousPka: Float64Array;
  private readonly filmDepth: FilmDepth[] = [];

  constructor(wiring: Wiring, parameters: ParameterValues, coefficients: Coefficients = plainCoefficients(wiring)) {
    super(wiring);
    const { cells, films } = wiring;
    this.parameters = parameters;
    const tables = tablesFor(parameters);
    this.rows = tables.rows;
    this.current = coefficients;
    this.pka = new Float64Array(cells.length);
    this.nitrousPka = new Float64Array(cells.length);
    const sites = [...cells.map((_, c) => ({ cell: c, film: -1 })), ...films.map(({ cell }, f) => ({ cell, film: f }))];
    const tableOf = (film: number): PlaceTable => (film < 0 ? tables.cell : tables.film);
    const linear = new LinearPart(this, coefficients, parameters);
    const { pattern, entries, linearEntries } = entriesOf(
      this,
      linear,
      sites.map((site) => ({ ...site, programs: tableOf(site.film).programs })),
      tables.film.programs,
    );
    this.pattern = pattern;
    const dataLength = (film: number): number => placeData(tableOf(film).list.length).length;
    this.kernel = createVectorLoops(
      8 * (2 * this.size + 1 + pattern.columns.length + 1 + cells.length * PH_RESULT_LENGTH) +
        sites.reduce((sum, { film }, n) => sum + 8 * dataLength(film) + 4 * entries[n].length + 8, 0) +
        8 * (tables.cell.numbers.length + tables.film.numbers.length) +
        linear.bytes,
      mayCompile(),
    );
    const { kernel } = this;
    this.state = kernel.floats(this.size);
    this.slopes = kernel.floats(this.size + 1);
    this.ownSlopes = this.slopes.subarray(0, this.size);
    this.slopesByState = kernel.floats(pattern.columns.length + 1);
    this.ownSlopesByState = this.slopesByState.subarray(0, pattern.columns.length);
    this.acid = cells.map(() => {
      const slots = kernel.floats(PH_RESULT_LENGTH);
      slots[PH] = 7.5;
      return slots;
    });
    this.places = sites.map(({ cell, film }) =>
      compileSite(this, tableOf(film).evaluator, tableOf(film).list, cell, film, kernel.floats(dataLength(film))),
    );
    const kept = ({ numbers }: PlaceTable): number => {
      const list = kernel.floats(numbers.length);
      list.set(numbers);
      return list.byteOffset;
    };
    const numbers = { cell: kept(tables.cell), film: kept(tables.film) };
    const cellFunctions = tables.cell.programs.formulas.over(kernel);
    const filmFunctions = tables.film.programs.formulas.over(kernel);
    this.compiled = this.places.map((site, n) => {
      const { derivative, jacobian } = site.film < 0 ? cellFunctions : filmFunctions;
      const table = kernel.integers(entries[n].length);
      entries[n].forEach((entry, e) => {
        table[e] = this.slopesByState.byteOffset + 8 * (entry ?? pattern.columns.length);
      });
      return {
        site,
        derivative,
        jacobian,
        bases: this.basesOf(site, site.film < 0 ? numbers.cell : numbers.film),
        table: table.byteOffset,
      };
    });
    this.linear = linear;
    linear.place(kernel, this.state, this.slopes, this.slopesByState, linearEntries);
    this.refresh();
  }

  private basesOf({ cell, film, data }: ReactionSite, numbers: number): readonly number[] {
    const gas = this.wiring.gasCells.indexOf(cell);
    const own = film < 0 ? 0 : this.filmIndex(film, "tan");
    const water = this.cellIndex(cell, "tan");
    const [from, to] = [this.state.byteOffset, this.slopes.byteOffset];
    const bases: Record<Base, number> = {
      [Base.Cell]: from + 8 * water,
      [Base.Film]: from + 8 * own,
      [Base.Acid]: this.acid[cell].byteOffset,
      [Base.Data]: data.byteOffset,
      [Base.Numbers]: numbers,
      [Base.CellOut]: to + 8 * water,
      [Base.FilmOut]: to + 8 * own,
      [Base.StoreOut]: to + 8 * this.endIndex("n2"),
      // Water without a gas space keeps no gas: the value goes to the extra element.
      [Base.GasOut]: to + 8 * (gas < 0 ? this.size : this.gasIndex(gas, "co2")),
    };
    return Object.values(bases);
  }

  get coefficients(): Coefficients {
    return this.current;
  }

  /** Uses other coefficients from now on. */
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
    for (const place of this.places) {
      refreshSite(place, this, coefficients, parameters);
      const at = placeData(place.list.length);
      place.data[at.ammoniumPka] = this.pka[place.cell];
      place.data[at.nitrousPka] = this.nitrousPka[place.cell];
      if (place.film < 0) continue;
      const { leastM, densityGPerM3, tan, no2, ss, o2 } = this.filmDepth[place.film];
      place.data[at.leastM] = leastM;
      place.data[at.density] = densityGPerM3;
      place.data.set([tan, no2, ss, o2], at.depth);
    }
  }

  /**
   * pH of every cell. A stage of too long a step may have contents that no pH satisfies. It then gives NaN, for which the
   * integrator takes a smaller step, or fails with the component's name when no step is small enough.
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
    this.state.set(y);
    this.slopes.fill(0);
    this.solveAcids(y);
    this.linear.addDerivative();
    for (const { derivative, bases } of this.compiled)
      derivative(bases[0], bases[1], bases[2], bases[3], bases[4], bases[5], bases[6], bases[7], bases[8]);
    out.set(this.ownSlopes);
  }

  jacobian(_t: number, y: Float64Array, values: Float64Array): void {
    this.state.set(y);
    this.slopesByState.fill(0);
    this.solveAcids(y);
    this.linear.addJacobian();
    for (const { jacobian, bases, table } of this.compiled) jacobian(bases[0], bases[1], bases[2], bases[3], bases[4], table);
    values.set(this.ownSlopesByState);
  }

  private evaluate(place: ReactionSite, y: Float64Array, withGradients: boolean): void {
    place
      .evaluator()
      .evaluate(
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

  /** Thickness of a film in a state [m]. */
  filmThicknessM(y: Float64Array, film: number): number {
    let biomass = 0;
    for (const guild of nitrifiers) biomass += y[this.filmIndex(film, guild)];
    return this.wiring.films[film].filmM + Math.max(biomass, 0) / this.parameters.filmDensity;
  }

  /** Ammonia oxidation of a film in a state [g N/d]. */
  ammoniaOxidation(y: Float64Array, film: number): number {
    return this.turnover(y, film, "tan", "no2");
  }

  /** Nitrite oxidation of a film in a state [g N/d]. */
  nitriteOxidation(y: Float64Array, film: number): number {
    return this.turnover(y, film, "no2", "no3");
  }

  /**
   * The most nitrogen that the nitrifiers of all films could oxidise within some days [g N]: nothing scarce, and every guild grown as fast as it can.
   * @param of ammonia, or nitrite
   */
  mostOxidised(y: Float64Array, of: "tan" | "no2", days: number): number {
    const product = of === "tan" ? "no2" : "no3";
    let most = 0;
    for (const { film, list, k } of this.places) {
      if (film < 0) continue;
      const { areaM2 } = this.coefficients.films[film];
      list.forEach(({ depth, guild, stoichiometry, terms: [first] }, p) => {
        if (depth !== of || !guild || first.kind !== "linear") return;
        const stock = Math.max(0, y[this.filmIndex(film, first.of)]);
        most += areaM2 * stock * (exp(k[p] * days) - 1) * (stoichiometry[product] ?? 0);
      });
    }
    return most;
  }

  private turnover(y: Float64Array, film: number, of: Depth, product: "no2" | "no3"): number {
    this.solveAcids(y);
    const place = this.places[this.wiring.cells.length + film];
    this.evaluate(place, y, false);
    let made = 0;
    for (const [p, process] of place.list.entries())
      if (process.depth === of) made += place.evaluator().rates[p] * (process.stoichiometry[product] ?? 0);
    return made * this.coefficients.films[film].areaM2;
  }

  /** Largest rate of each process in a state, by its id, over all cells [1/(m³ d)] or films [1/(m² d)]. */
  processRates(y: Float64Array): ReadonlyMap<string, number> {
    this.solveAcids(y);
    const rates = new Map<string, number>();
    for (const place of this.places) {
      this.evaluate(place, y, false);
      for (const [p, { id }] of place.list.entries()) rates.set(id, Math.max(rates.get(id) ?? 0, place.evaluator().rates[p]));
    }
    return rates;
  }

  /**
   * Uptake of a film's bacteria at given concentrations without limitation by diffusion: the same process table without
   * the effectiveness factor, for a depth-resolved film.
   * @returns a function that writes the uptake of TAN, nitrite, oxygen, dissolved organics [g/m²/d] and its derivatives
   * with respect to these four (row-major) for concentrations in that order; all other values come from state `y`,
   * which it keeps a reference to
   */
  uptakeAtDepth(y: Float64Array, film: number): (s: Float64Array, uptake: Float64Array, slopes: Float64Array) => void {
    this.solveAcids(y);
    const place = this.places[this.wiring.cells.length + film];
    const { list, k, index, cell } = place;
    const kernel = place.evaluator();
    const local = Float64Array.from(index, (i) => y[i]);
    const own = Int32Array.from(index, (_, i) => i);
    const uses = ["tan", "no2", "o2", "ss"] as const;
    // Reactions without oxygen depend on the oxygen of the layer itself ("anoxic water"), not on a share of the depth.
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

  /** Writes the pH of each cell in a state into `out`. */
  ph(y: Float64Array, out: Float64Array): void {
    this.solveAcids(y);
    for (let c = 0; c < out.length; c++) out[c] = this.acid[c][PH];
  }
}

/** Entries of the Jacobian, and where in its pattern each entry of each site's program and each linear term stands (null: nowhere). */
interface Entries {
  readonly pattern: SparsePattern;
  readonly entries: readonly (readonly (number | null)[])[];
  readonly linearEntries: readonly (number | null)[];
}

interface Site {
  readonly cell: number;
  readonly film: number;
  readonly programs: RatePrograms;
}

/** By wiring, for the programs of the films: the runs around one aquarium are wired alike. */
const knownEntries = new WeakMap<RatePrograms, Map<string, Entries>>();
const MOST_WIRINGS = 16;

function entriesOf(layout: StateLayout, linear: LinearPart, sites: readonly Site[], ofFilms: RatePrograms): Entries {
  const known = knownEntries.get(ofFilms) ?? new Map<string, Entries>();
  knownEntries.set(ofFilms, known);
  const places = sites.map(({ cell, film }) => `${cell} ${film}`);
  const key = [layout.size, linear.row, linear.column, places, layout.wiring.gasCells].join(";");
  const made = known.get(key) ?? makeEntries(layout, linear, sites);
  if (known.size >= MOST_WIRINGS) known.clear();
  known.set(key, made);
  return made;
}

function makeEntries(layout: StateLayout, linear: LinearPart, sites: readonly Site[]): Entries {
  const { size } = layout;
  const columnsOf: Set<number>[] = Array.from({ length: size }, (_, i) => new Set([i]));
  linear.column.forEach((column, i) => {
    if (column >= 0) columnsOf[linear.row[i]].add(column);
  });
  const places = sites.map(({ cell, film, programs }) =>
    programs.entries.map(({ row, by }) => {
      const index = rowIndex(layout, row, cell, film);
      return index === null ? null : { row: index, column: localIndex(layout, by, cell, film) };
    }),
  );
  for (const place of places.flat()) if (place) columnsOf[place.row].add(place.column);
  const rowStart = new Int32Array(size + 1);
  const columns: number[] = [];
  columnsOf.forEach((set, row) => {
    columns.push(...[...set].sort((a, b) => a - b));
    rowStart[row + 1] = columns.length;
  });
  const find = (row: number, column: number): number => columns.indexOf(column, rowStart[row]);
  return {
    pattern: { size, rowStart, columns: Int32Array.from(columns) },
    entries: places.map((list) => list.map((place) => (place ? find(place.row, place.column) : null))),
    linearEntries: Array.from(linear.column, (column, i) => (column < 0 ? null : find(linear.row[i], column))),
  };
}
