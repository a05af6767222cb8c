// The whole nitrogen model as one stiff problem: cells joined by flows, films on surfaces, animals' guts, and the places where
// matter goes for good. The wiring is fixed at construction; numbers that change with events live in `Conditions`.
import type { SparsePattern, StiffProblem } from "../../sim/problem.ts";
import { ammoniumPka } from "../water/ammonia.ts";
import { type CarbonateConstants, carbonateConstants, PH, PH_RESULT_LENGTH, solvePh } from "../water/carbonate.ts";
import { nitrousAcidPka } from "../water/nitrous.ts";
import type { FilmDepth } from "./film.ts";
import { cellVariables, filmVariables, Kernel } from "./kernel.ts";
import { linearTerms, soluteDiffusivity } from "./linear.ts";
import type { ParameterValues } from "./parameters.ts";
import { type Depth, type Process, processes } from "./processes.ts";
import type { CellConditions, Conditions, Wiring } from "./wiring.ts";

const GAS_CONSTANT = 8.314462618;
/** Diffusivity in a film relative to water: 0.5-0.8 (from memory, e.g. Stewart 1998). */
const FILM_DIFFUSIVITY = 0.8;
const SECONDS_PER_DAY = 86400;
const G_N_PER_MOL = 14.007;
const CELL = cellVariables.length;
const FILM = 8; // tan, no2, o2, ss, aob, cmx, nob, het
const cellSlot = Object.fromEntries(cellVariables.map((name, i) => [name, i])) as Record<(typeof cellVariables)[number], number>;
const filmSlot = Object.fromEntries(filmVariables.slice(0, FILM).map((name, i) => [name, i])) as Record<string, number>;
/** Places where nitrogen goes for good, g N: nitrogen gas, ammonia gas, plants, foam, kept in animals. Foam is counted in g COD. */
export const endStores = ["n2", "nh3air", "plant", "foam", "kept"] as const;
export type EndStore = (typeof endStores)[number];
const GAS = 2; // oxygen g/m3, carbon dioxide mol/m3

const activation = (kJPerMol: number, temperatureC: number): number => {
  // Arrhenius to 30 °C, level to 35, straight down to none at 43 °C (the cap is a modelling choice, after optimum ranges of 29-36 °C).
  const t = Math.min(temperatureC, 30);
  const rise = Math.exp(((kJPerMol * 1000) / GAS_CONSTANT) * (1 / 293.15 - 1 / (t + 273.15)));
  return temperatureC <= 35 ? rise : rise * Math.max(0, (43 - temperatureC) / 8);
};

/** Variables that follow from the pH. */
const acidVariables: ReadonlySet<string> = new Set(["ph", "co2", "freeAmmonia", "nitrousAcid"]);

/** A place where processes run: one cell or one film. */
interface Place {
  readonly kernel: Kernel;
  readonly list: readonly Process[];
  readonly index: Int32Array;
  readonly k: Float64Array;
  readonly cell: number;
  readonly film: number;
  /** Effects: rate p adds factor[e] to state row[e]. */
  readonly effectProcess: Int32Array;
  readonly effectRow: Int32Array;
  readonly effectCoefficient: Float64Array;
  readonly effectFactor: Float64Array;
  /** What the stoichiometric coefficient is scaled by, recomputed with conditions. */
  readonly effectScale: Uint8Array;
  /** Jacobian triplets of each effect: entry e * width + j, or -1. */
  readonly position: Int32Array;
}

enum Scale {
  Own,
  Water,
  ToCell,
  StoreCell,
  StoreFilm,
  Gas,
}

export class NitrogenSystem implements StiffProblem {
  readonly size: number;
  readonly pattern: SparsePattern;
  readonly wiring: Wiring;
  readonly parameters: ParameterValues;
  readonly rows: readonly Process[];
  readonly conditions: Conditions;
  readonly labels: readonly string[];
  private readonly places: Place[] = [];
  private readonly acid: Float64Array[];
  private readonly constants: CarbonateConstants[] = [];
  private readonly pka: Float64Array;
  private readonly nitrousPka: Float64Array;
  private readonly filmDepth: FilmDepth[] = [];
  /** Linear part: state row += value * y[column] (column -1: constant). */
  private readonly linearRow: Int32Array;
  private readonly linearColumn: Int32Array;
  private readonly linearValue: Float64Array;
  private readonly linearPosition: Int32Array;
  /** Entry that each term of `linearTerms`, in its fixed order, adds to: terms of one row and column are one entry. */
  private readonly linearEntry: Int32Array;
  private readonly filmBase: number;
  private readonly gasBase: number;
  private readonly gutBase: number;
  private readonly endBase: number;

  constructor(wiring: Wiring, parameters: ParameterValues) {
    this.wiring = wiring;
    this.parameters = parameters;
    const { cells, films, gasCells, guts } = wiring;
    this.rows = processes(parameters);
    this.filmBase = cells.length * CELL;
    this.gasBase = this.filmBase + films.length * FILM;
    this.gutBase = this.gasBase + gasCells.length * GAS;
    this.endBase = this.gutBase + guts.length * 2;
    this.size = this.endBase + endStores.length;
    this.labels = [
      ...cells.flatMap((cell) => cellVariables.map((v) => `${v} in ${cell.name}`)),
      ...films.flatMap((film) => filmVariables.slice(0, FILM).map((v) => `${v} in the film on ${film.name}`)),
      ...gasCells.flatMap((c) => [`oxygen in the air of ${cells[c].name}`, `carbon dioxide in the air of ${cells[c].name}`]),
      ...guts.flatMap((gut) => [`food in ${gut.id}, first`, `food in ${gut.id}, second`]),
      ...endStores.map((name) => `nitrogen gone to ${name}`),
    ];
    this.acid = cells.map(() => {
      const slots = new Float64Array(PH_RESULT_LENGTH);
      slots[PH] = 7.5;
      return slots;
    });
    this.pka = new Float64Array(cells.length);
    this.nitrousPka = new Float64Array(cells.length);
    this.conditions = {
      cells: cells.map(() => ({
        volumeM3: 0.1,
        temperatureC: 25,
        o2TransferPerDay: 0,
        co2TransferPerDay: 0,
        nh3TransferPerDay: 0,
        o2SaturationGPerM3: 8,
        co2SaturationMolPerM3: 0.015,
        respirationGPerM3Day: 0,
        excretionGNPerM3Day: 0,
        plantUptakeGNPerM3Day: 0,
        settlingPerDay: 0,
        skimmingPerDay: 0,
        captureShare: 0,
      })),
      films: films.map(() => ({ areaM2: 1, aobActivity: 1, nobActivity: 1 })),
      gas: gasCells.map(() => ({ volumeM3: 0.01, exchangePerDay: 100, roomO2GPerM3: 275, roomCo2MolPerM3: 0.017 })),
      flows: new Float64Array(wiring.ways.length),
      salinityGPerKg: 0,
      guts: guts.map(() => ({ ratePerDay: 5, tanShare: 0.575, wasteShare: 0.19, eatenGNPerDay: 0, uneatenGNPerDay: 0 })),
    };
    const cellRows = this.rows.filter((row) => row.place === "cell");
    const filmRows = this.rows.filter((row) => row.place === "film");
    const cellKernel = new Kernel(cellRows, "cell");
    const filmKernel = new Kernel(filmRows, "film");
    for (const c of cells.keys()) this.places.push(this.place(cellKernel, cellRows, c, -1));
    for (const [f, film] of films.entries()) this.places.push(this.place(filmKernel, filmRows, film.cell, f));

    const linear: [number, number][] = [];
    const entryOf = new Map<string, number>();
    const entries: number[] = [];
    linearTerms(this, (row, column) => {
      const key = `${row} ${column}`;
      const entry = entryOf.get(key) ?? linear.push([row, column]) - 1;
      entryOf.set(key, entry);
      entries.push(entry);
    });
    this.linearEntry = Int32Array.from(entries);
    this.linearRow = Int32Array.from(linear, ([row]) => row);
    this.linearColumn = Int32Array.from(linear, ([, column]) => column);
    this.linearValue = new Float64Array(linear.length);
    this.linearPosition = new Int32Array(linear.length);
    this.pattern = this.buildPattern(linear);
    this.refresh();
  }

  cellIndex(cell: number, substance: (typeof cellVariables)[number]): number {
    return cell * CELL + cellSlot[substance];
  }
  filmIndex(film: number, substance: string): number {
    const slot = filmSlot[substance];
    if (slot === undefined) throw new Error(`no ${substance} in a film`);
    return this.filmBase + film * FILM + slot;
  }
  gasIndex(gas: number, which: "o2" | "co2"): number {
    return this.gasBase + gas * GAS + (which === "o2" ? 0 : 1);
  }
  gutIndex(gut: number, stage: 0 | 1): number {
    return this.gutBase + gut * 2 + stage;
  }
  endIndex(store: EndStore): number {
    return this.endBase + endStores.indexOf(store);
  }
  /** Below these the numbers do not matter: hundredths of what a kit shows, and of the smallest inoculum. */
  absoluteTolerances(): Float64Array {
    const out = new Float64Array(this.size).fill(1e-5);
    this.wiring.films.forEach((_, f) => {
      for (const guild of ["aob", "cmx", "nob"]) out[this.filmIndex(f, guild)] = 1e-8;
    });
    return out;
  }
  componentName(index: number): string {
    return this.labels[index];
  }

  private place(kernel: Kernel, list: readonly Process[], cell: number, film: number): Place {
    const index = Int32Array.from(kernel.locals, (name) =>
      film >= 0 && name in filmSlot
        ? this.filmIndex(film, name)
        : this.cellIndex(cell, name === "around" ? "tan" : (name as keyof typeof cellSlot)),
    );
    const effects: { p: number; row: number; coefficient: number; scale: Scale }[] = [];
    list.forEach((process, p) => {
      for (const [substance, coefficient] of Object.entries(process.stoichiometry)) {
        if (coefficient === 0 || substance === "reserve") continue;
        if (substance === "co2air") {
          const gas = this.wiring.gasCells.indexOf(cell);
          if (gas >= 0) effects.push({ p, row: this.gasIndex(gas, "co2"), coefficient, scale: Scale.Gas });
          continue;
        }
        if ((endStores as readonly string[]).includes(substance))
          effects.push({
            p,
            row: this.endIndex(substance as EndStore),
            coefficient,
            scale: film >= 0 ? Scale.StoreFilm : Scale.StoreCell,
          });
        else if (film >= 0 && substance in filmSlot) {
          const isBiomass = filmSlot[substance] >= 4;
          effects.push({ p, row: this.filmIndex(film, substance), coefficient, scale: isBiomass ? Scale.Own : Scale.Water });
        } else if (substance in cellSlot)
          effects.push({
            p,
            row: cell * CELL + cellSlot[substance as keyof typeof cellSlot],
            coefficient,
            scale: film >= 0 ? Scale.ToCell : Scale.Own,
          });
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

  /** Local variables on which rate p of a place can depend. */
  private dependencies(place: Place, p: number): boolean[] {
    const { locals } = place.kernel;
    const used = new Set<string>();
    const waterTan = place.film < 0 ? "tan" : "around";
    const add = (process: Process) => {
      for (const term of process.terms) {
        if (acidVariables.has(term.of)) for (const name of ["alk", "dic", waterTan]) used.add(name);
        if (term.of === "freeAmmonia") used.add("tan");
        else if (term.of === "nitrousAcid") used.add("no2");
        else if (term.of === "amo") used.add("aob").add("cmx");
        else used.add(term.of);
      }
    };
    add(place.list[p]);
    // The effectiveness couples every process inside the film to all that share its oxygen and substrate.
    if (place.list[p].depth) for (const other of place.list) if (other.depth && other.depth !== "anoxic") add(other);
    return locals.map((name) => used.has(name));
  }

  private buildPattern(linear: readonly [number, number][]): SparsePattern {
    const columnsOf: Set<number>[] = Array.from({ length: this.size }, (_, i) => new Set([i]));
    for (const [row, column] of linear) if (column >= 0) columnsOf[row].add(column);
    const depends = this.places.map((place) => place.list.map((_, p) => this.dependencies(place, p)));
    this.places.forEach((place, n) => {
      place.effectProcess.forEach((p, e) => {
        depends[n][p].forEach((yes, j) => {
          if (yes) columnsOf[place.effectRow[e]].add(place.index[j]);
        });
      });
    });
    const rowStart = new Int32Array(this.size + 1);
    const columns: number[] = [];
    columnsOf.forEach((set, row) => {
      columns.push(...[...set].sort((a, b) => a - b));
      rowStart[row + 1] = columns.length;
    });
    const pattern = { size: this.size, rowStart, columns: Int32Array.from(columns) };
    const find = (row: number, column: number): number => pattern.columns.indexOf(column, rowStart[row]);
    linear.forEach(([row, column], i) => {
      this.linearPosition[i] = column < 0 ? -1 : find(row, column);
    });
    this.places.forEach((place, n) => {
      const { width } = place.kernel;
      place.effectProcess.forEach((p, e) => {
        depends[n][p].forEach((yes, j) => {
          if (yes) place.position[e * width + j] = find(place.effectRow[e], place.index[j]);
        });
      });
    });
    return pattern;
  }

  /** Recomputes every coefficient from `conditions`; call after changing them. */
  refresh(): void {
    const { conditions, parameters, wiring } = this;
    let n = 0;
    this.linearValue.fill(0);
    linearTerms(this, (_row, _column, value) => {
      this.linearValue[this.linearEntry[n++]] += value;
    });
    const salt = 1 - (1 - parameters.saltRate) * Math.min(1, conditions.salinityGPerKg / 35);
    wiring.cells.forEach((_, c) => {
      const t = conditions.cells[c].temperatureC;
      this.constants[c] = carbonateConstants(t, conditions.salinityGPerKg);
      this.pka[c] = ammoniumPka(t, conditions.salinityGPerKg);
      this.nitrousPka[c] = nitrousAcidPka(t);
    });
    wiring.films.forEach((film, f) => {
      const t = conditions.cells[film.cell].temperatureC;
      const over = (substance: "tan" | "no2" | "ss" | "o2") =>
        film.filmM / (2 * FILM_DIFFUSIVITY * soluteDiffusivity(substance, t) * SECONDS_PER_DAY);
      this.filmDepth[f] = { tan: over("tan"), no2: over("no2"), ss: over("ss"), o2: over("o2") };
    });
    for (const place of this.places) {
      const at = conditions.cells[place.cell];
      const film = place.film < 0 ? undefined : conditions.films[place.film];
      place.list.forEach((process, p) => {
        const energy = process.energy === "none" ? 0 : parameters[`${process.energy}Energy`];
        let k = process.rate * activation(energy, at.temperatureC);
        if (process.slowedBySalt) k *= salt;
        if (process.guild) k *= process.guild === "aob" ? (film?.aobActivity ?? 1) : (film?.nobActivity ?? 1);
        if (process.coefficient) k *= this.coefficient(process.coefficient, at);
        place.k[p] = k;
      });
      place.effectCoefficient.forEach((coefficient, e) => {
        const scale: Scale = place.effectScale[e];
        const area = film?.areaM2 ?? 0;
        place.effectFactor[e] = coefficient * this.scale(scale, place, at, area);
      });
    }
  }

  private scale(scale: Scale, place: Place, at: CellConditions, areaM2: number): number {
    switch (scale) {
      case Scale.Own:
        return 1;
      case Scale.Water:
        return 1 / this.wiring.films[place.film].waterM;
      case Scale.ToCell:
        return areaM2 / at.volumeM3;
      case Scale.StoreCell:
        return at.volumeM3;
      case Scale.StoreFilm:
        return areaM2;
      default: {
        const gas = this.conditions.gas[this.wiring.gasCells.indexOf(place.cell)];
        return at.volumeM3 / (gas.volumeM3 * gas.roomCo2MolPerM3);
      }
    }
  }

  private coefficient(name: NonNullable<Process["coefficient"]>, at: CellConditions): number {
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
      default:
        return 0;
    }
  }

  /**
   * pH of every cell. A stage of a step too bold may ask for water that cannot be (no pH fits); it gets not-a-number, on which the
   * integrator takes a smaller step, or fails by name when none is small enough.
   */
  private solveAcids(y: Float64Array): void {
    for (let c = 0; c < this.acid.length; c++) {
      const slots = this.acid[c];
      try {
        const at = c * CELL;
        solvePh(
          this.constants[c],
          y[at + cellSlot.alk],
          y[at + cellSlot.dic],
          y[at + cellSlot.tan] / G_N_PER_MOL,
          slots[PH],
          slots,
        );
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        slots.fill(Number.NaN);
      }
    }
  }

  derivative(_t: number, y: Float64Array, out: Float64Array): void {
    out.fill(0);
    this.solveAcids(y);
    const { linearRow, linearColumn, linearValue } = this;
    for (let i = 0; i < linearRow.length; i++) {
      const column = linearColumn[i];
      out[linearRow[i]] += column < 0 ? linearValue[i] : linearValue[i] * y[column];
    }
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
    const { linearPosition, linearValue } = this;
    for (let i = 0; i < linearPosition.length; i++) if (linearPosition[i] >= 0) values[linearPosition[i]] += linearValue[i];
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

  private evaluate(place: Place, y: Float64Array, withGradients: boolean): void {
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
    return made * this.conditions.films[film].areaM2;
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
