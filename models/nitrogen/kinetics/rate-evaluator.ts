// Rates and exact rate derivatives at one place, from the process table. Table-driven, so that the Jacobian follows from the
// matrix by construction: a rate is a product of factors of one variable each, so its gradient is the product rule.

import { assertNever } from "../../../sim/assert-never.ts";
import { exp, fourthRoot } from "../../../sim/elementary.ts";
import { CO2, DCO2_DALK, DCO2_DAMMONIA, DCO2_DDIC, DPH_DALK, DPH_DAMMONIA, DPH_DDIC, PH } from "../../water/carbonate.ts";
import { type FilmDepth, HALF_FACTOR, reach, reachSlope } from "./effectiveness.ts";
import type { Depth, Process, Term, Variable } from "./processes.ts";

/** Order of the local variables; substances first, then those that follow from them. */
export const cellVariables = ["tan", "no2", "no3", "o2", "alk", "dic", "ss", "xs", "xd", "xh"] as const;
/** `around`: total ammonia of the water around the film, which sets the pH there with its alkalinity and carbon. */
export const filmVariables = ["tan", "no2", "o2", "ss", "aob", "cmx", "nob", "het", "no3", "alk", "dic", "xs", "around"] as const;
const MOL_PER_G_N = 1 / 14.007;
const derivedVariables = ["ph", "co2", "freeAmmonia", "nitrousAcid", "amo"] as const;
const depths: readonly Depth[] = ["tan", "no2", "ss", "anoxic"];

enum Kind {
  Linear,
  /** Of what the process makes more of: what is not there does not grow. */
  Breeding,
  Monod,
  Inhibition,
  Slowed,
  Bell,
  Crowding,
  Covered,
}

const kinds: Record<Term["kind"], Kind> = {
  linear: Kind.Linear,
  monod: Kind.Monod,
  inhibition: Kind.Inhibition,
  slowed: Kind.Slowed,
  "ph bell": Kind.Bell,
  crowding: Kind.Crowding,
  covered: Kind.Covered,
};

/** Rounding of max(0, net nitrite use) [g/m2/d], so that its slope has no jump. */
const SMOOTH_NET = 1e-3;

/** The process table of one kind of place (all cells share one, all films another), ready to evaluate. Allocates only here. */
export class RateEvaluator {
  readonly count: number;
  readonly locals: readonly string[];
  readonly rates: Float64Array;
  /** Row p: gradient of rate p over the local variables. */
  readonly gradients: Float64Array;
  readonly width: number;
  private readonly values: Float64Array;
  private readonly termKind: Uint8Array;
  private readonly termOf: Uint8Array;
  private readonly termA: Float64Array;
  private readonly termB: Float64Array;
  private readonly termValue: Float64Array;
  private readonly termSlope: Float64Array;
  private readonly start: Int32Array;
  private readonly factor: Int32Array;
  private readonly depth: Int8Array;
  private readonly tanUse: Float64Array;
  private readonly o2Use: Float64Array;
  private readonly no2Make: Float64Array;
  private readonly ssUse: Float64Array;
  private readonly halves = new Float64Array(4);
  private readonly at: Record<Variable, number>;
  private readonly isFilm: boolean;
  /** Local total ammonia that the pH depends on. */
  private readonly waterTan: number;
  private readonly useGradient: Float64Array;
  private readonly eta = new Float64Array(4);

  constructor(processList: readonly Process[], place: "cell" | "film") {
    this.isFilm = place === "film";
    this.locals = place === "cell" ? cellVariables : filmVariables;
    this.width = this.locals.length;
    this.count = processList.length;
    const order: string[] = [...this.locals, ...derivedVariables];
    this.at = Object.fromEntries(order.map((name, i) => [name, i])) as Record<Variable, number>;
    this.waterTan = order.indexOf(this.isFilm ? "around" : "tan");
    this.values = new Float64Array(order.length);
    const terms: Term[] = [];
    const keys = new Map<string, number>();
    const factors: number[] = [];
    const breeding: boolean[] = [];
    this.start = new Int32Array(this.count + 1);
    processList.forEach((process, p) => {
      for (const term of process.terms) {
        const breeds = term.kind === "linear" && ((process.stoichiometry as Record<string, number>)[term.of] ?? 0) > 0;
        const key = `${breeds} ${JSON.stringify(term)}`;
        let index = keys.get(key);
        if (index === undefined) {
          index = terms.push(term) - 1;
          breeding.push(breeds);
          keys.set(key, index);
        }
        factors.push(index);
      }
      this.start[p + 1] = factors.length;
    });
    this.factor = Int32Array.from(factors);
    this.termKind = Uint8Array.from(terms, (term, t) => (breeding[t] ? Kind.Breeding : kinds[term.kind]));
    this.termOf = Uint8Array.from(terms, (term) => {
      const index = this.at[term.of];
      if (index === undefined) throw new Error(`no ${term.of} at a ${place}`);
      return index;
    });
    this.termA = Float64Array.from(terms, (t) => ("half" in t ? t.half : "low" in t ? t.low : "full" in t ? t.full : 0));
    this.termB = Float64Array.from(terms, (t) => ("base" in t ? t.base : "high" in t ? t.high : "share" in t ? t.share : 0));
    this.termValue = new Float64Array(terms.length);
    this.termSlope = new Float64Array(terms.length);
    this.rates = new Float64Array(this.count);
    this.gradients = new Float64Array(this.count * this.width);
    this.depth = Int8Array.from(processList, (process) => (process.depth ? depths.indexOf(process.depth) : -1));
    const use = (name: "tan" | "o2" | "no2" | "ss", sign: number) =>
      Float64Array.from(processList, (process) =>
        process.depth && process.depth !== "anoxic" ? sign * (process.stoichiometry[name] ?? 0) : 0,
      );
    this.tanUse = use("tan", -1).map((x) => Math.max(0, x));
    this.o2Use = use("o2", -1).map((x) => Math.max(0, x));
    this.no2Make = use("no2", -1);
    this.ssUse = use("ss", -1).map((x) => Math.max(0, x));
    this.useGradient = new Float64Array(4 * this.width);
    const half = (of: Variable) =>
      Math.max(
        0,
        ...processList
          .filter((q) => q.depth)
          .flatMap((q) => q.terms.flatMap((t) => (t.kind === "monod" && t.of === of ? [t.half] : []))),
      );
    this.halves.set([half("tan"), half("no2"), half("ss"), half("o2")].map((k) => HALF_FACTOR * k));
  }

  /**
   * Rates of all processes at one place, in `rates`.
   * @param y state; @param index where each local variable sits in it; @param k rate coefficient of each process here
   * @param acid result slots of `solvePh` here; @param pka of ammonium and nitrous acid
   * @param film penetration data for a film, undefined for a cell; @param withGradients also fill `gradients`
   */
  evaluate(
    y: Float64Array,
    index: Int32Array,
    k: Float64Array,
    acid: Float64Array,
    ammoniumPka: number,
    nitrousPka: number,
    film: FilmDepth | undefined,
    withGradients: boolean,
  ): void {
    const { values, at, width } = this;
    for (let i = 0; i < width; i++) values[i] = y[index[i]];
    const ph = acid[PH];
    const freeShare = 1 / (1 + exp(Math.LN10 * (ammoniumPka - ph)));
    const acidShare = 1 / (1 + exp(Math.LN10 * (ph - nitrousPka)));
    values[at.ph] = ph;
    values[at.co2] = acid[CO2];
    values[at.freeAmmonia] = values[at.tan] * freeShare;
    values[at.nitrousAcid] = values[at.no2] * acidShare;
    if (this.isFilm) values[at.amo] = values[at.aob] + values[at.cmx];
    this.evaluateTerms();
    const { start, factor, termValue, rates, count } = this;
    for (let p = 0; p < count; p++) {
      let rate = k[p];
      for (let f = start[p]; f < start[p + 1]; f++) rate *= termValue[factor[f]];
      rates[p] = rate;
    }
    if (withGradients) this.differentiate(k, acid, freeShare, acidShare);
    if (film) this.penetrate(film, withGradients);
  }

  private evaluateTerms(): void {
    const { termKind, termOf, termA, termB, termValue, termSlope, values } = this;
    for (let t = 0; t < termKind.length; t++) {
      const x = values[termOf[t]];
      const a = termA[t];
      const kind: Kind = termKind[t];
      switch (kind) {
        case Kind.Linear:
          termValue[t] = x;
          termSlope[t] = 1;
          break;
        case Kind.Breeding:
          termValue[t] = Math.max(x, 0);
          termSlope[t] = x > 0 ? 1 : 0;
          break;
        case Kind.Monod: {
          const s = Math.max(x, 0);
          const d = 1 / (a + s);
          // Below zero the slope of zero is kept going, so that the Jacobian sees what pulls the state back.
          termValue[t] = x > 0 ? s * d : x / a;
          termSlope[t] = a * d * d;
          break;
        }
        case Kind.Inhibition: {
          const s = Math.max(x, 0);
          const d = 1 / (a + s);
          termValue[t] = a * d;
          termSlope[t] = x > 0 ? -a * d * d : 0;
          break;
        }
        case Kind.Slowed: {
          const s = Math.max(x, 0);
          const d = 1 / (a + s);
          const base = termB[t];
          termValue[t] = base + (1 - base) * s * d;
          termSlope[t] = x > 0 ? (1 - base) * a * d * d : 0;
          break;
        }
        case Kind.Bell: {
          const low = exp(Math.LN10 * (a - x));
          const high = exp(Math.LN10 * (x - termB[t]));
          const value = 1 / (1 + low + high);
          termValue[t] = value;
          termSlope[t] = Math.LN10 * (low - high) * value * value;
          break;
        }
        case Kind.Covered: {
          const s = Math.max(x, 0);
          const d = 1 / (a + s);
          const room = 1 / (1 - termB[t] * s * d);
          const cube = room * room * room;
          termValue[t] = cube;
          termSlope[t] = x > 0 ? 3 * cube * room * termB[t] * a * d * d : 0;
          break;
        }
        case Kind.Crowding: {
          const r = x > 0 ? x / a : 0;
          termValue[t] = r * r * r;
          termSlope[t] = (3 * r * r) / a;
          break;
        }
        default:
          assertNever(kind);
      }
    }
  }

  private differentiate(k: Float64Array, acid: Float64Array, freeShare: number, acidShare: number): void {
    const { gradients, width, at, start, factor, termValue, termSlope, termOf, count, values } = this;
    gradients.fill(0);
    const { tan, no2, ph, co2, freeAmmonia, nitrousAcid, amo } = at;
    const freeSlope = Math.LN10 * values[tan] * freeShare * (1 - freeShare);
    const acidSlope = -Math.LN10 * values[no2] * acidShare * (1 - acidShare);
    for (let p = 0; p < count; p++) {
      const row = p * width;
      for (let f = start[p]; f < start[p + 1]; f++) {
        const slope = termSlope[factor[f]];
        if (slope === 0) continue;
        let d = k[p] * slope;
        for (let g = start[p]; g < start[p + 1]; g++) if (g !== f) d *= termValue[factor[g]];
        const of = termOf[factor[f]];
        if (of < width) gradients[row + of] += d;
        else if (of === ph) this.slopeOfPh(row, d, acid);
        else if (of === co2) {
          gradients[row + at.alk] += d * acid[DCO2_DALK];
          gradients[row + at.dic] += d * acid[DCO2_DDIC];
          gradients[row + this.waterTan] += d * acid[DCO2_DAMMONIA] * MOL_PER_G_N;
        } else if (of === freeAmmonia) {
          gradients[row + tan] += d * freeShare;
          this.slopeOfPh(row, d * freeSlope, acid);
        } else if (of === nitrousAcid) {
          gradients[row + no2] += d * acidShare;
          this.slopeOfPh(row, d * acidSlope, acid);
        } else if (of === amo) {
          gradients[row + at.aob] += d;
          gradients[row + at.cmx] += d;
        }
      }
    }
  }

  /** Adds the slope of a rate by pH, by what pH depends on. */
  private slopeOfPh(row: number, byPh: number, acid: Float64Array): void {
    const { gradients, at } = this;
    gradients[row + at.alk] += byPh * acid[DPH_DALK];
    gradients[row + at.dic] += byPh * acid[DPH_DDIC];
    gradients[row + this.waterTan] += byPh * acid[DPH_DAMMONIA] * MOL_PER_G_N;
  }

  /** Slows the processes inside a film by how far their substrates reach: the formula of `film.ts`, and its exact slopes. */
  private penetrate(film: FilmDepth, withGradients: boolean): void {
    const { rates, gradients, width, count, depth, at, values, halves, useGradient, eta } = this;
    let tanUse = 0;
    let no2Net = 0;
    let ssUse = 0;
    let o2Use = 0;
    for (let p = 0; p < count; p++) {
      const r = rates[p];
      if (depth[p] < 0) continue;
      tanUse += this.tanUse[p] * r;
      no2Net += this.no2Make[p] * r;
      ssUse += this.ssUse[p] * r;
      o2Use += this.o2Use[p] * r;
    }
    // Only nitrite that must come from outside counts; a smooth max(0, net).
    const root = Math.sqrt(no2Net * no2Net + SMOOTH_NET * SMOOTH_NET);
    const no2Use = 0.5 * (no2Net + root);
    const scale0 = film.tan / reach(values[at.tan], halves[0]);
    const scale1 = film.no2 / reach(values[at.no2], halves[1]);
    const scale2 = film.ss / reach(values[at.ss], halves[2]);
    const scale3 = film.o2 / reach(values[at.o2], halves[3]);
    const x0 = scale0 * tanUse;
    const x1 = scale1 * no2Use;
    const x2 = scale2 * ssUse;
    const x3 = scale3 * o2Use;
    eta[0] = 1 / fourthRoot(1 + x0 * x0 + x3 * x3);
    eta[1] = 1 / fourthRoot(1 + x1 * x1 + x3 * x3);
    eta[2] = 1 / fourthRoot(1 + x2 * x2 + x3 * x3);
    const oxic = 1 / fourthRoot(1 + x3 * x3);
    eta[3] = 1 - oxic;
    if (withGradients) {
      useGradient.fill(0);
      const no2Share = 0.5 * (1 + no2Net / root);
      for (let p = 0; p < count; p++) {
        if (depth[p] < 0) continue;
        const a = this.tanUse[p] * scale0;
        const b = this.no2Make[p] * scale1 * no2Share;
        const c = this.ssUse[p] * scale2;
        const d = this.o2Use[p] * scale3;
        for (let j = 0; j < width; j++) {
          const g = gradients[p * width + j];
          if (g === 0) continue;
          useGradient[j] += a * g;
          useGradient[width + j] += b * g;
          useGradient[2 * width + j] += c * g;
          useGradient[3 * width + j] += d * g;
        }
      }
      useGradient[at.tan] -= x0 * reachSlope(values[at.tan], halves[0]);
      useGradient[width + at.no2] -= x1 * reachSlope(values[at.no2], halves[1]);
      useGradient[2 * width + at.ss] -= x2 * reachSlope(values[at.ss], halves[2]);
      useGradient[3 * width + at.o2] -= x3 * reachSlope(values[at.o2], halves[3]);
    }
    for (let p = 0; p < count; p++) {
      const q = depth[p];
      if (q < 0) continue;
      const e = eta[q];
      const rate = rates[p];
      if (withGradients) {
        const own = q === 0 ? x0 : q === 1 ? x1 : q === 2 ? x2 : 0;
        const base = q === 3 ? -oxic : e;
        const fifth = base * base * base * base * base;
        const row = p * width;
        for (let j = 0; j < width; j++) {
          const slope = -0.5 * fifth * (own * useGradient[q * width + j] * (q === 3 ? 0 : 1) + x3 * useGradient[3 * width + j]);
          gradients[row + j] = e * gradients[row + j] + rate * slope;
        }
      }
      rates[p] = e * rate;
    }
  }
}
