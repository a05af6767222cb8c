// The process table of a place as one compiled formula: the effect of its processes on every state, and the exact
// derivatives. The same equations as `kinetics/rate-evaluator.ts`, which interprets the table process by process (a
// test compares them).
import { assertNever } from "../../../sim/assert-never.ts";
import { Formulas } from "../../../sim/formula/compile.ts";
import { Graph, type Output, type Ref } from "../../../sim/formula/graph.ts";
import { CO2, DCO2_DALK, DCO2_DAMMONIA, DCO2_DDIC, DPH_DALK, DPH_DAMMONIA, DPH_DDIC, PH } from "../../water/carbonate.ts";
import { NITROGEN_G_PER_MOL } from "../../water/molar-mass.ts";
import { TRACE } from "../kinetics/effectiveness.ts";
import { ammoniaOxidisers, nitrifiers, nitriteOxidisers } from "../kinetics/guilds.ts";
import type { ParameterValues } from "../kinetics/parameters.ts";
import { type Depth, type Process, processes, type Term, type Variable } from "../kinetics/processes.ts";
import { cellVariables, filmVariables, NEGLIGIBLE_UPTAKE, SMOOTH_NET } from "../kinetics/rate-evaluator.ts";
import { isBacteria, isCellVariable, isFilmVariable, isSink, sinks } from "./state-layout.ts";

/** Base addresses with which the programs of a place are called, in this order. */
export enum Base {
  /** State of the cell, and of the film. */
  Cell,
  Film,
  /** Result slots of `solvePh` in the cell. */
  Acid,
  /** The numbers of the place: see `placeData`. */
  Data,
  /** The numbers of the process table: see `tableNumbers`. */
  Numbers,
  /** Derivatives of the cell, of the film, of the stores and of the gas over the water. */
  CellOut,
  FilmOut,
  StoreOut,
  GasOut,
}
export const BASES = 9;
/** The Jacobian is called with the first five, and with the address of a table of addresses, one for each of its `entries`. */
export const TABLE = 5;

/** Scale of a coefficient from the rate's own unit (per m³ of water, per m² of film) to that of the row. */
export enum Scale {
  Own,
  FilmWater,
  FilmToCell,
  CellToStore,
  FilmToStore,
  CellToGas,
}
export const SCALES = 6;

/** Positions in a place's numbers: the rate coefficient of each process, then these. */
export const placeData = (processCount: number) => ({
  ammoniumPka: processCount,
  nitrousPka: processCount + 1,
  leastM: processCount + 2,
  density: processCount + 3,
  /** 1/(2 D) of TAN, nitrite, organics, oxygen. */
  depth: processCount + 4,
  scale: processCount + 8,
  length: processCount + 8 + SCALES,
});

/** A state that a place's processes change. */
export interface PlaceRow {
  readonly of: "film" | "cell" | "store" | "gas";
  /** Variable of film or cell; index of the sink. */
  readonly name: string;
}

/** A row and the local variable (see `cellVariables`, `filmVariables`) of the derivative. */
export interface JacobianEntry {
  readonly row: PlaceRow;
  readonly by: string;
}

export interface RatePrograms {
  /** `derivative` and `jacobian`. */
  readonly formulas: Formulas;
  /** Meaning of each address in the table. */
  readonly entries: readonly JacobianEntry[];
}

const diffusing = ["tan", "no2", "ss", "o2"] as const;
const OXYGEN = 3;
const LN10 = Math.LN10;

/** The numbers of a term, in a fixed order. */
function termNumbers(term: Term): readonly number[] {
  switch (term.kind) {
    case "linear":
      return [];
    case "monod":
    case "inhibition":
      return [term.half];
    case "slowed":
      return [term.half, term.base];
    case "ph bell":
      return [term.low, term.high];
    case "covered":
      return [term.half, term.share];
    case "crowding":
      return [term.full];
    default:
      return assertNever(term);
  }
}

/** All numbers of a process table: of each process those of its terms, then its stoichiometric coefficients. */
export const tableNumbers = (list: readonly Process[]): Float64Array =>
  Float64Array.from(list.flatMap(({ terms, stoichiometry }) => [...terms.flatMap(termNumbers), ...Object.values(stoichiometry)]));

const built: Partial<Record<Process["place"], RatePrograms>> = {};

/**
 * The programs of a kind of place, made once: they read all numbers of the process table, so they serve every set of parameters.
 * @param parameters any set
 */
export function ratePrograms(place: Process["place"], parameters: ParameterValues): RatePrograms {
  built[place] ??= new Builder(
    processes(allDistinct(parameters)).filter((process) => process.place === place),
    place,
  ).build();
  return built[place];
}

/** The parameters with values of which no two are equal by chance, so that equal numbers of the table are the same number. */
const allDistinct = (parameters: ParameterValues): ParameterValues =>
  Object.fromEntries(
    Object.entries(parameters).map(([id, value], n) => [id, value === 0 ? 1e-9 * (n + 1) : value * (1 + 1e-5 * (n + 1))]),
  ) as ParameterValues;

class Builder {
  private readonly graph = new Graph();
  private readonly list: readonly Process[];
  private readonly inFilm: boolean;
  private readonly data: ReturnType<typeof placeData>;
  /** Place of each process's first number. */
  private readonly firstNumber: readonly number[];
  /** Node of the first of equal terms. */
  private readonly knownTerms = new Map<string, Ref>();
  private readonly locals = new Map<string, Ref>();
  private readonly derived: Partial<Record<Variable, Ref>>;

  constructor(list: readonly Process[], place: "cell" | "film") {
    this.list = list;
    this.inFilm = place === "film";
    this.data = placeData(list.length);
    let next = 0;
    this.firstNumber = list.map((process) => {
      const at = next;
      next += tableNumbers([process]).length;
      return at;
    });
    const { graph: g, locals } = this;
    for (const name of this.inFilm ? filmVariables : cellVariables) {
      const own = this.inFilm && isFilmVariable(name);
      const place = own ? ownFilmVariables.indexOf(name) : (cellVariables as readonly string[]).indexOf(cellVariableOf(name));
      locals.set(name, g.load(own ? Base.Film : Base.Cell, place));
    }
    const water = { alk: this.local("alk"), dic: this.local("dic"), ammonia: this.local(this.inFilm ? "around" : "tan") };
    const acid = (slot: number, byAlk: number, byDic: number, byAmmonia: number): Ref =>
      g.given(Base.Acid, slot, [
        { of: water.alk, slope: g.load(Base.Acid, byAlk) },
        { of: water.dic, slope: g.load(Base.Acid, byDic) },
        { of: water.ammonia, slope: g.multiply(g.load(Base.Acid, byAmmonia), g.constant(1 / NITROGEN_G_PER_MOL)) },
      ]);
    const ph = acid(PH, DPH_DALK, DPH_DDIC, DPH_DAMMONIA);
    // 1/(1 + 10^(pKa - pH)) and 1/(1 + 10^(pH - pKa)).
    const share = (exponent: Ref): Ref => g.divide(g.one, g.add(g.one, g.exp(g.multiply(g.constant(LN10), exponent))));
    const of = (names: readonly string[]): Ref => g.sum(names.map((name) => this.local(name)));
    this.derived = {
      ph,
      co2: acid(CO2, DCO2_DALK, DCO2_DDIC, DCO2_DAMMONIA),
      freeAmmonia: g.multiply(this.local("tan"), share(g.subtract(this.number(this.data.ammoniumPka), ph))),
      nitrousAcid: g.multiply(this.local("no2"), share(g.subtract(ph, this.number(this.data.nitrousPka)))),
      ...(this.inFilm ? { ammoniaOxidisers: of(ammoniaOxidisers), nitriteOxidisers: of(nitriteOxidisers) } : {}),
    };
  }

  build(): RatePrograms {
    const { graph, list, locals } = this;
    const rates = list.map(({ terms }, p) => graph.product([this.number(p), ...terms.map((_, t) => this.termOf(p, t))]));
    const reach = this.reach(rates);
    const rows = this.rows(rates, reach);
    const derivative: Output[] = rows.map(({ row, node }) => ({ node, ...outputOf(row), indirect: false }));
    const entries: JacobianEntry[] = [];
    const jacobian: Output[] = [];
    for (const { row, node } of rows)
      for (const [by, local] of locals) {
        const slope = graph.derivative(node, local);
        if (slope === graph.zero) continue;
        jacobian.push({ node: slope, base: TABLE, place: entries.length, indirect: true });
        entries.push({ row, by });
      }
    const formulas = new Formulas(graph, [
      { name: "derivative", bases: BASES, outputs: derivative },
      { name: "jacobian", bases: TABLE + 1, outputs: jacobian },
    ]);
    return { formulas, entries };
  }

  private local(name: string): Ref {
    const ref = this.locals.get(name);
    if (ref === undefined) throw new Error(`no ${name} at a ${this.inFilm ? "film" : "cell"}`);
    return ref;
  }

  private number(place: number): Ref {
    return this.graph.load(Base.Data, place);
  }

  /** Number n of term t of process p. */
  private termNumber(p: number, t: number, n: number): Ref {
    const before = this.list[p].terms.slice(0, t).reduce((sum, term) => sum + termNumbers(term).length, 0);
    return this.graph.load(Base.Numbers, this.firstNumber[p] + before + n);
  }

  /** Stoichiometric coefficient of a process. */
  private coefficient(p: number, substance: string): Ref {
    const { terms, stoichiometry } = this.list[p];
    const after = terms.reduce((sum, term) => sum + termNumbers(term).length, 0);
    return this.graph.load(Base.Numbers, this.firstNumber[p] + after + Object.keys(stoichiometry).indexOf(substance));
  }

  private termOf(p: number, t: number): Ref {
    const { terms, stoichiometry } = this.list[p];
    const term = terms[t];
    // What is not there does not grow.
    const breeds = term.kind === "linear" && ((stoichiometry as Record<string, number>)[term.of] ?? 0) > 0;
    const key = `${breeds} ${term.kind} ${term.of} ${termNumbers(term)}`;
    const ref = this.knownTerms.get(key) ?? this.term(term, breeds, (n) => this.termNumber(p, t, n));
    this.knownTerms.set(key, ref);
    return ref;
  }

  private term(term: Term, breeds: boolean, numberAt: (n: number) => Ref): Ref {
    const { graph: g } = this;
    const x = this.derived[term.of] ?? this.local(term.of);
    const s = g.most(x, g.zero);
    const ten = (exponent: Ref): Ref => g.exp(g.multiply(g.constant(LN10), exponent));
    switch (term.kind) {
      case "linear":
        return breeds ? s : x;
      case "monod": {
        const half = numberAt(0);
        const d = g.divide(g.one, g.add(half, s));
        // Below zero, continue with the slope at zero, so that the Jacobian contains the restoring effect.
        const value = g.choose(x, g.multiply(s, d), g.divide(x, half));
        return g.withSlopes(value, [{ of: x, slope: g.multiply(g.multiply(half, d), d) }]);
      }
      case "inhibition": {
        const half = numberAt(0);
        const d = g.divide(g.one, g.add(half, s));
        const value = g.multiply(half, d);
        const slope = g.multiply(g.constant(-1), g.multiply(value, d));
        return g.withSlopes(value, [{ of: x, slope: g.choose(x, slope, g.zero) }]);
      }
      case "slowed": {
        const [half, base] = [numberAt(0), numberAt(1)];
        const rest = g.subtract(g.one, base);
        const d = g.divide(g.one, g.add(half, s));
        const value = g.add(base, g.multiply(g.multiply(rest, s), d));
        const slope = g.multiply(g.multiply(g.multiply(rest, half), d), d);
        return g.withSlopes(value, [{ of: x, slope: g.choose(x, slope, g.zero) }]);
      }
      case "ph bell": {
        const [low, high] = [ten(g.subtract(numberAt(0), x)), ten(g.subtract(x, numberAt(1)))];
        const value = g.divide(g.one, g.add(g.add(g.one, low), high));
        const slope = g.multiply(g.multiply(g.multiply(g.constant(LN10), g.subtract(low, high)), value), value);
        return g.withSlopes(value, [{ of: x, slope }]);
      }
      case "covered": {
        const [half, share] = [numberAt(0), numberAt(1)];
        const d = g.divide(g.one, g.add(half, s));
        const room = g.divide(g.one, g.subtract(g.one, g.multiply(g.multiply(share, s), d)));
        const value = g.product([room, room, room]);
        const slope = g.product([g.constant(3), share, half, value, room, d, d]);
        return g.withSlopes(value, [{ of: x, slope: g.choose(x, slope, g.zero) }]);
      }
      case "crowding": {
        const full = numberAt(0);
        const r = g.choose(x, g.divide(x, full), g.zero);
        const value = g.product([r, r, r]);
        return g.withSlopes(value, [{ of: x, slope: g.divide(g.product([g.constant(3), r, r]), full) }]);
      }
      default:
        return assertNever(term);
    }
  }

  /** Effectiveness factor for each kind of depth of the processes of a film: `effectiveness.ts`. */
  private reach(rates: readonly Ref[]): Partial<Record<Depth, Ref>> {
    if (!this.inFilm) return {};
    const { graph: g } = this;
    const biomass = g.sum(nitrifiers.map((name) => this.local(name)));
    const thickness = g.add(this.number(this.data.leastM), g.divide(g.most(biomass, g.zero), this.number(this.data.density)));
    const thiele = diffusing.map((name, d) => this.modulus(name, g.multiply(this.number(this.data.depth + d), thickness), rates));
    const oxygen = g.multiply(thiele[OXYGEN], thiele[OXYGEN]);
    /** (1 + x²)^(-1/4) */
    const eta = (square: Ref): Ref => {
      const whole = g.add(g.one, square);
      const value = g.divide(g.one, g.root(g.root(whole)));
      const fifth = g.product([value, value, value, value, value]);
      return g.withSlopes(value, [{ of: whole, slope: g.multiply(g.constant(-0.25), fifth) }]);
    };
    const both = (d: number): Ref => eta(g.add(g.multiply(thiele[d], thiele[d]), oxygen));
    return { tan: both(0), no2: both(1), ss: both(2), anoxic: g.subtract(g.one, eta(oxygen)) };
  }

  /** x of one diffusing substance, L R / (2 D I), from the rates without limitation. @param scale L/(2 D) */
  private modulus(name: (typeof diffusing)[number], scale: Ref, rates: readonly Ref[]): Ref {
    const { graph: g } = this;
    const nets: Ref[] = [];
    const used: Ref[] = [];
    const moments: Ref[] = [];
    this.list.forEach(({ depth, stoichiometry, terms }, p) => {
      if (!depth || depth === "anoxic") return;
      const use = -(stoichiometry[name] ?? 0);
      const monod = terms.findIndex((term) => term.kind === "monod" && term.of === name);
      const takes = use > 0 && monod >= 0;
      const perRate = use === 0 ? g.zero : g.subtract(g.zero, this.coefficient(p, name));
      if (takes || name === "no2") nets.push(g.multiply(perRate, rates[p]));
      if (!takes) return;
      // By size: a stock that rounding has made negative must not take weight from the others.
      const gross = g.multiply(perRate, g.size(rates[p]));
      used.push(gross);
      moments.push(g.multiply(gross, this.integralOf(p, monod)));
    });
    const [net, moment] = [g.sum(nets), g.sum(moments)];
    const perUse = g.divide(g.multiply(scale, g.sum(used)), moment);
    // Only nitrite that must diffuse in counts; a smooth max(0, net).
    const root = g.root(g.add(g.multiply(net, net), g.constant(SMOOTH_NET * SMOOTH_NET)));
    const use = name === "no2" ? g.multiply(g.constant(0.5), g.add(net, root)) : net;
    // Long after oxygen has run out, the rates are so small that their reciprocal overflows.
    return g.choose(g.subtract(moment, g.constant(NEGLIGIBLE_UPTAKE)), g.multiply(perUse, use), g.zero);
  }

  private integralOf(p: number, t: number): Ref {
    const term = this.list[p].terms[t];
    const key = `integral ${term.of} ${termNumbers(term)}`;
    const ref = this.knownTerms.get(key) ?? this.integral(this.local(term.of), this.termNumber(p, t, 0));
    this.knownTerms.set(key, ref);
    return ref;
  }

  /** I(S) of Monod's law and its slope: `reach` and `penetrationIntegralSlope` of `effectiveness.ts`. */
  private integral(x: Ref, half: Ref): Ref {
    const { graph: g } = this;
    const c = g.most(x, g.zero);
    const u = g.divide(c, half);
    const small = g.subtract(g.constant(0.01), u);
    const w = g.add(g.one, u);
    const inner = g.subtract(g.constant(0.25), g.multiply(g.constant(0.2), u));
    const outer = g.subtract(g.constant(1 / 3), g.multiply(u, inner));
    const series = g.multiply(u, g.subtract(g.constant(0.5), g.multiply(u, outer)));
    const bend = g.choose(small, series, g.subtract(g.one, g.divide(g.log(w), g.subtract(w, g.one))));
    const value = g.add(g.multiply(g.add(c, half), bend), g.constant(0.5 * TRACE));
    const rest = g.divide(g.subtract(g.multiply(w, g.subtract(g.one, bend)), g.one), u);
    const slope = g.choose(small, g.add(g.constant(0.5), g.divide(u, g.constant(3))), g.add(bend, rest));
    return g.withSlopes(value, [{ of: x, slope: g.choose(x, slope, g.zero) }]);
  }

  /**
   * Effect of all processes on each row. Processes with the same depth and coefficient are summed first, so that rows that many
   * processes change in the same way share most of their operations.
   */
  private rows(rates: readonly Ref[], reach: Partial<Record<Depth, Ref>>): { readonly row: PlaceRow; readonly node: Ref }[] {
    const { graph: g, list } = this;
    const rows = new Map<
      string,
      {
        row: PlaceRow;
        scale: Scale;
        parts: Map<Depth | "none", Map<number, { readonly coefficient: Ref; readonly rates: Ref[] }>>;
      }
    >();
    list.forEach(({ id, stoichiometry, depth }, p) => {
      for (const [substance, coefficient] of Object.entries(stoichiometry)) {
        const to = coefficient === 0 ? null : target(substance, this.inFilm, id);
        if (to === null) continue;
        const key = `${to.row.of} ${to.row.name}`;
        const entry = rows.get(key) ?? { ...to, parts: new Map() };
        rows.set(key, entry);
        const part = entry.parts.get(depth ?? "none") ?? new Map<number, { coefficient: Ref; rates: Ref[] }>();
        entry.parts.set(depth ?? "none", part);
        const alike = part.get(coefficient) ?? { coefficient: this.coefficient(p, substance), rates: [] };
        part.set(coefficient, alike);
        alike.rates.push(rates[p]);
      }
    });
    return [...rows.values()].map(({ row, scale, parts }) => {
      const sums = [...parts].map(([depth, part]) => {
        const sum = g.sum([...part.values()].map((alike) => g.multiply(alike.coefficient, g.sum(alike.rates))));
        return depth === "none" ? sum : g.multiply(reach[depth] ?? g.one, sum);
      });
      const total = g.sum(sums);
      return { row, node: scale === Scale.Own ? total : g.multiply(this.number(this.data.scale + scale), total) };
    });
  }
}

const ownFilmVariables = (filmVariables as readonly string[]).filter(isFilmVariable);
/** The cell variable that a film borrows. */
export const cellVariableOf = (name: string): string => (name === "around" ? "tan" : name);

function outputOf({ of, name }: PlaceRow): { readonly base: Base; readonly place: number } {
  switch (of) {
    case "film":
      return { base: Base.FilmOut, place: ownFilmVariables.indexOf(name) };
    case "cell":
      return { base: Base.CellOut, place: (cellVariables as readonly string[]).indexOf(name) };
    case "store":
      return { base: Base.StoreOut, place: (sinks as readonly string[]).indexOf(name) };
    case "gas":
      return { base: Base.GasOut, place: 0 };
  }
}

/** The row to which a substance of a process belongs; null for what leaves or enters the balance. */
function target(substance: string, inFilm: boolean, id: string): { readonly row: PlaceRow; readonly scale: Scale } | null {
  // What animals metabolise comes from outside the balance, and carbon dioxide released to the room leaves it.
  if (substance === "reserve") return null;
  if (substance === "co2air") return { row: { of: "gas", name: "co2" }, scale: Scale.CellToGas };
  if (isSink(substance)) return { row: { of: "store", name: substance }, scale: inFilm ? Scale.FilmToStore : Scale.CellToStore };
  if (inFilm && isFilmVariable(substance))
    return { row: { of: "film", name: substance }, scale: isBacteria(substance) ? Scale.Own : Scale.FilmWater };
  if (isCellVariable(substance)) return { row: { of: "cell", name: substance }, scale: inFilm ? Scale.FilmToCell : Scale.Own };
  throw new Error(`${id} makes ${substance}, which has no place to go`);
}
