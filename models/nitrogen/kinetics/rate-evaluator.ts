// Rates and exact derivatives at one place, from the process table. Because it is table-driven, the Jacobian follows from the
// matrix by construction: a rate is a product of factors of one variable each, so its gradient is given by the product rule.

import { assertNever } from "../../../sim/assert-never.ts";
import { exp, fourthRoot } from "../../../sim/elementary.ts";
import { CO2, DCO2_DALK, DCO2_DAMMONIA, DCO2_DDIC, DPH_DALK, DPH_DAMMONIA, DPH_DDIC, PH } from "../../water/carbonate.ts";
import { NITROGEN_G_PER_MOL } from "../../water/molar-mass.ts";
import { type FilmDepth, penetrationIntegral, penetrationIntegralSlope } from "./effectiveness.ts";
import {
  ammoniaOxidisers as ammoniaGuilds,
  type Guild,
  guilds,
  nitrifiers,
  nitriteOxidisers as nitriteGuilds,
} from "./guilds.ts";
import type { Depth, Process, Term, Variable } from "./processes.ts";

/** Order of the local variables: substances first, then derived quantities. */
export const cellVariables = ["tan", "no2", "no3", "o2", "alk", "dic", "ss", "xs", "xd", "xh"] as const;
/**
 * `around`: total ammonia in the water around the film, which determines the pH there together with its alkalinity and
 * carbon.
 */
export const filmVariables = ["tan", "no2", "o2", "ss", ...guilds, "no3", "alk", "dic", "xs", "around"] as const;
const MOL_PER_G_N = 1 / NITROGEN_G_PER_MOL;
const derivedVariables = ["ph", "co2", "freeAmmonia", "nitrousAcid", "ammoniaOxidisers", "nitriteOxidisers"] as const;
const depths: readonly Depth[] = ["tan", "no2", "ss", "anoxic"];
/** The substances whose penetration into a film counts, in the order of `depths`, oxygen last. */
const diffusing = ["tan", "no2", "ss", "o2"] as const;
const O2 = 3;

enum Kind {
  Linear,
  /** Of a substance that the process itself produces: with a negative amount there is no growth. */
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

function sumOf(values: Float64Array, indices: Int32Array): number {
  let sum = 0;
  for (let i = 0; i < indices.length; i++) sum += values[indices[i]];
  return sum;
}

/** Smaller uptakes count as zero [g²/m⁵/d]. */
export const NEGLIGIBLE_UPTAKE = 1e-60;
/** Rounding of max(0, net nitrite uptake) [g/m²/d], so that its derivative is continuous. */
export const SMOOTH_NET = 1e-3;

/**
 * The process table of one kind of place (all cells share one, all films another), prepared for evaluation. It
 * allocates only at construction.
 */
export class RateEvaluator {
  readonly count: number;
  readonly locals: readonly string[];
  readonly rates: Float64Array;
  /** Row p: gradient of rate p with respect to the local variables. */
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
  /**
   * By diffusing substance and process: net uptake inside the film (nitrite: minus the production of others), and gross
   * uptake.
   */
  private readonly netUse: Float64Array;
  private readonly grossUse: Float64Array;
  /** By diffusing substance and process: index in `integralOf`, -1 for none. */
  private readonly integral: Int8Array;
  private readonly integralOf: Uint8Array;
  private readonly integralHalf: Float64Array;
  private readonly integralValue: Float64Array;
  private readonly integralSlope: Float64Array;
  private readonly at: Record<Variable, number>;
  private readonly isFilm: boolean;
  /** Local total ammonia on which the pH depends. */
  private readonly waterTan: number;
  /** Local variables that determine the film thickness. */
  private readonly stocks: Int32Array;
  private readonly ammoniaStocks: Int32Array;
  private readonly nitriteStocks: Int32Array;
  private readonly thiele = new Float64Array(4);
  /** By diffusing substance: derivative of its x with respect to each local variable. */
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
    const processCount = this.count;
    this.netUse = new Float64Array(4 * processCount);
    this.grossUse = new Float64Array(4 * processCount);
    this.integral = new Int8Array(4 * processCount).fill(-1);
    const integrals: { of: number; half: number }[] = [];
    processList.forEach((process, p) => {
      if (!process.depth || process.depth === "anoxic") return;
      diffusing.forEach((name, d) => {
        const use = -(process.stoichiometry[name] ?? 0);
        const monod = process.terms.find((term) => term.kind === "monod" && term.of === name);
        if (name === "no2") this.netUse[d * processCount + p] = use;
        if (use <= 0 || monod?.kind !== "monod") return;
        this.netUse[d * processCount + p] = use;
        this.grossUse[d * processCount + p] = use;
        const known = integrals.findIndex(({ of, half }) => of === this.at[name] && half === monod.half);
        this.integral[d * processCount + p] = known >= 0 ? known : integrals.push({ of: this.at[name], half: monod.half }) - 1;
      });
    });
    this.integralOf = Uint8Array.from(integrals, ({ of }) => of);
    this.integralHalf = Float64Array.from(integrals, ({ half }) => half);
    this.integralValue = new Float64Array(integrals.length);
    this.integralSlope = new Float64Array(integrals.length);
    this.useGradient = new Float64Array(4 * this.width);
    const stocksOf = (names: readonly Guild[]): Int32Array => Int32Array.from(this.isFilm ? names : [], (name) => this.at[name]);
    this.stocks = stocksOf(nitrifiers);
    this.ammoniaStocks = stocksOf(ammoniaGuilds);
    this.nitriteStocks = stocksOf(nitriteGuilds);
  }

  /**
   * Rates of all processes at one place, written to `rates`.
   * @param y state
   * @param index position of each local variable in the state
   * @param k rate coefficient of each process here
   * @param acid results of `solvePh` here
   * @param pka of ammonium and nitrous acid
   * @param film penetration data of a film, undefined for a cell
   * @param withGradients whether to compute `gradients` too
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
    if (this.isFilm) {
      values[at.ammoniaOxidisers] = sumOf(values, this.ammoniaStocks);
      values[at.nitriteOxidisers] = sumOf(values, this.nitriteStocks);
    }
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
          // Below zero, continue with the slope at zero, so that the Jacobian contains the restoring effect.
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
    const { ammoniaStocks, nitriteStocks } = this;
    gradients.fill(0);
    const { tan, no2, ph, co2, freeAmmonia, nitrousAcid, ammoniaOxidisers, nitriteOxidisers } = at;
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
        } else if (of === ammoniaOxidisers) {
          for (let i = 0; i < ammoniaStocks.length; i++) gradients[row + ammoniaStocks[i]] += d;
        } else if (of === nitriteOxidisers) {
          for (let i = 0; i < nitriteStocks.length; i++) gradients[row + nitriteStocks[i]] += d;
        }
      }
    }
  }

  /** Adds the derivative of a rate with respect to pH, distributed over the variables on which pH depends. */
  private slopeOfPh(row: number, byPh: number, acid: Float64Array): void {
    const { gradients, at } = this;
    gradients[row + at.alk] += byPh * acid[DPH_DALK];
    gradients[row + at.dic] += byPh * acid[DPH_DDIC];
    gradients[row + this.waterTan] += byPh * acid[DPH_DAMMONIA] * MOL_PER_G_N;
  }

  /**
   * Multiplies the rates inside a film by their effectiveness factors (`effectiveness.ts`), and computes the exact
   * derivatives.
   */
  private penetrate(film: FilmDepth, withGradients: boolean): void {
    const { rates, gradients, width, count, depth, values, stocks, thiele, eta, useGradient } = this;
    const { integralOf, integralHalf, integralValue, integralSlope } = this;
    for (let i = 0; i < integralOf.length; i++) {
      const s = values[integralOf[i]];
      integralValue[i] = penetrationIntegral(s, integralHalf[i]);
      if (withGradients) integralSlope[i] = penetrationIntegralSlope(s, integralHalf[i]);
    }
    let biomass = 0;
    for (let i = 0; i < stocks.length; i++) biomass += values[stocks[i]];
    const thicknessM = film.leastM + Math.max(biomass, 0) / film.densityGPerM3;
    if (withGradients) useGradient.fill(0);
    for (let d = 0; d < 4; d++) thiele[d] = this.modulus(d, film[diffusing[d]] * thicknessM, withGradients);
    if (withGradients && biomass > 0) {
      const perStock = 1 / (film.densityGPerM3 * thicknessM);
      for (let d = 0; d < 4; d++)
        for (let i = 0; i < stocks.length; i++) useGradient[d * width + stocks[i]] += thiele[d] * perStock;
    }
    const oxygen = thiele[O2] * thiele[O2];
    for (let d = 0; d < O2; d++) eta[d] = 1 / fourthRoot(1 + thiele[d] * thiele[d] + oxygen);
    const oxic = 1 / fourthRoot(1 + oxygen);
    eta[3] = 1 - oxic;
    for (let p = 0; p < count; p++) {
      const q = depth[p];
      if (q < 0) continue;
      const e = eta[q];
      const rate = rates[p];
      if (withGradients) {
        const own = q === 3 ? 0 : thiele[q];
        const base = q === 3 ? -oxic : e;
        const fifth = base * base * base * base * base;
        const row = p * width;
        for (let j = 0; j < width; j++) {
          const slope =
            -0.5 * fifth * ((q === 3 ? 0 : own * useGradient[q * width + j]) + thiele[O2] * useGradient[O2 * width + j]);
          gradients[row + j] = e * gradients[row + j] + rate * slope;
        }
      }
      rates[p] = e * rate;
    }
  }

  /**
   * x of one diffusing substance, L R / (2 D I), from the rates without limitation; adds its derivatives (except those
   * of the thickness) to `useGradient`.
   * @param scale L/(2 D)
   */
  private modulus(d: number, scale: number, withGradients: boolean): number {
    const { rates, gradients, width, count, netUse, grossUse, integral, integralValue, integralSlope, integralOf, useGradient } =
      this;
    const first = d * count;
    let net = 0;
    let gross = 0;
    let moment = 0;
    for (let p = 0; p < count; p++) {
      net += netUse[first + p] * rates[p];
      const i = integral[first + p];
      if (i < 0) continue;
      // Absolute values: biomass that rounding has made negative must not reduce the weight of the others.
      const used = grossUse[first + p] * Math.abs(rates[p]);
      gross += used;
      moment += used * integralValue[i];
    }
    // Long after oxygen has run out, the rates are so small that their reciprocal overflows.
    if (!(moment > NEGLIGIBLE_UPTAKE)) return 0;
    // Only nitrite that must diffuse in counts; a smooth max(0, net).
    const root = Math.sqrt(net * net + SMOOTH_NET * SMOOTH_NET);
    const nitrite = diffusing[d] === "no2";
    const use = nitrite ? 0.5 * (net + root) : net;
    const perUse = (scale * gross) / moment;
    const x = perUse * use;
    if (withGradients) {
      const byNet = perUse * (nitrite ? 0.5 * (1 + net / root) : 1);
      for (let p = 0; p < count; p++) {
        const i = integral[first + p];
        let byRate = netUse[first + p] * byNet;
        if (i >= 0) {
          const used = grossUse[first + p];
          byRate += x * used * (rates[p] < 0 ? -1 : 1) * (1 / gross - integralValue[i] / moment);
          useGradient[d * width + integralOf[i]] -= (x * used * Math.abs(rates[p]) * integralSlope[i]) / moment;
        }
        if (byRate === 0) continue;
        for (let j = 0; j < width; j++) useGradient[d * width + j] += byRate * gradients[p * width + j];
      }
    }
    return x;
  }
}
