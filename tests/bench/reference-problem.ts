// The reference aquarium problem of the benchmarks: a tank over a wet-dry tower and a sump, with bacteria growing in
// the films, fed twice a day for 90 days. It is self-contained so that reference.c can implement the same equations;
// the product's model is in models/.

import type { StiffProblem } from "../../sim/integrators/problem.ts";
import type { SparsePattern } from "../../sim/linear-algebra/sparse-pattern.ts";

/*
 * Flow: display -> tower cells -> sump -> display. Every tower cell and the sump has one film.
 * Units: day, m3, g/m3 (nitrogen as N, organics and bacteria as COD), alkalinity eq/m3.
 * Kinetic constants: nitrifiers after Sin et al. 2008 and ASM3 at 20 C (Henze et al. 2000, from memory), heterotrophs after ASM1
 * (Henze et al. 1987, from memory). Geometry: a modelling assumption, a 300 L tank with 10 m2 of media in each place.
 */
const SOLUTES = 6;
const [TAN, NO2, NO3, O2, COD, ALK, AOB, NOB, HET] = [0, 1, 2, 3, 4, 5, 6, 7, 8];
const FILM = 9;
/** Process order of rates and derivatives: AOB growth, NOB growth, aerobic and anoxic HET growth. */
const PROCESSES = 4;

const muAob = 0.75;
const muNob = 0.65;
const muHet = 6;
const anoxic = 0.6;
const kTan = 0.3;
const kNo2 = 0.3;
const kNo3 = 0.5;
const kO2Aob = 0.5;
const kO2Nob = 1.0;
const kO2Het = 0.2;
const kCod = 20;
const kAlk = 0.5;
const yAob = 0.15;
const yNob = 0.05;
const yHet = 0.63;
const nInBiomass = 0.086;
const decay = [0.1, 0.1, 0.3];
const debris = 0.08;
/** COD density of a film at which detachment reaches `detach` per day. */
const fullFilm = 3e4;
const detach = 1.2;
const filmVolume = 1e-3;
/** Diffusive exchange between a film and its water, area times D / L, by solute. */
const exchange = [12, 12, 12, 14, 6, 10];
const displayVolume = 0.3;
const sumpVolume = 0.08;
const flow = 36;
const towerHoldUp = 36 / 8640;
const saturation = 8.3;
const kLaDisplay = 24;
const kLaTower = 1500;
const kLaSump = 12;
const respiration = 60;
const gutEmptying = 6;
/** g N and g COD released to the water per unit of digesta; ammonia consumes acid, which appears as alkalinity. */
const tanPerGut = 1;
const codPerGut = 6;
export const feed = 0.2;
export const days = 90;
export const feedEvery = 0.5;

/** Net stoichiometry of each process: [component, coefficient]. */
const stoichiometry: readonly (readonly (readonly [number, number])[])[] = [
  [
    [TAN, -1 / yAob - nInBiomass],
    [NO2, 1 / yAob],
    [O2, -(3.43 - yAob) / yAob],
    [ALK, -2 / 14 / yAob],
    [AOB, 1],
  ],
  [
    [TAN, -nInBiomass],
    [NO2, -1 / yNob],
    [NO3, 1 / yNob],
    [O2, -(1.14 - yNob) / yNob],
    [NOB, 1],
  ],
  [
    [TAN, -nInBiomass],
    [O2, -(1 - yHet) / yHet],
    [COD, -1 / yHet],
    [HET, 1],
  ],
  [
    [TAN, -nInBiomass],
    [NO3, -(1 - yHet) / (2.86 * yHet)],
    [COD, -1 / yHet],
    [ALK, (1 - yHet) / (2.86 * yHet * 14)],
    [HET, 1],
  ],
];
/** Components on which the rate of each process depends. */
const dependsOn = [
  [TAN, O2, ALK, AOB],
  [NO2, O2, NOB],
  [O2, COD, HET],
  [NO3, O2, COD, HET],
];

const monod = (c: number, k: number) => (c > 0 ? c / (k + c) : 0);
const monodSlope = (c: number, k: number) => (c > 0 ? k / ((k + c) * (k + c)) : 0);
const inhibition = (c: number, k: number) => (c > 0 ? k / (k + c) : 1);
const inhibitionSlope = (c: number, k: number) => (c > 0 ? -k / ((k + c) * (k + c)) : 0);

export interface ReferenceProblem extends StiffProblem {
  readonly start: Float64Array;
  readonly gut: number;
  readonly absolute: Float64Array;
  /** Index of the component of a solute in a cell. */
  cell(cell: number, solute: number): number;
  film(film: number, component: number): number;
}

/**
 * @param cells 4 in the reference problem: display, two tower cells, sump; more cells divide the tower more finely
 * @param growth factor on the nitrifiers' growth rates, for ensembles
 */
export function referenceProblem(cells: number, growth: number): ReferenceProblem {
  const films = cells - 1;
  const size = cells * SOLUTES + films * FILM + 1;
  const gut = size - 1;
  const cell = (c: number, s: number) => c * SOLUTES + s;
  const film = (f: number, s: number) => cells * SOLUTES + f * FILM + s;
  const towerCells = cells - 2;
  const volume = Float64Array.from({ length: cells }, (_, c) =>
    c === 0 ? displayVolume : c === cells - 1 ? sumpVolume : towerHoldUp / towerCells,
  );
  const kLa = Float64Array.from({ length: cells }, (_, c) => (c === 0 ? kLaDisplay : c === cells - 1 ? kLaSump : kLaTower));
  /** Two thirds of the media are in the tower, one third in the sump. */
  const share = Float64Array.from({ length: films }, (_, f) => (f === films - 1 ? 1 : 2 / towerCells));

  const entries = Array.from({ length: size }, (_, i) => new Set([i]));
  for (let c = 0; c < cells; c++)
    for (let s = 0; s < SOLUTES; s++) {
      entries[cell(c, s)].add(cell((c + cells - 1) % cells, s));
      if (c === 0) continue;
      entries[cell(c, s)].add(film(c - 1, s));
      entries[film(c - 1, s)].add(cell(c, s));
    }
  for (const s of [TAN, COD, ALK]) entries[cell(0, s)].add(gut);
  for (let f = 0; f < films; f++) {
    for (let k = 0; k < PROCESSES; k++)
      for (const [i] of stoichiometry[k]) for (const j of dependsOn[k]) entries[film(f, i)].add(film(f, j));
    for (const i of [TAN, COD, AOB, NOB, HET]) for (const j of [AOB, NOB, HET]) entries[film(f, i)].add(film(f, j));
  }
  const rows = entries.map((set) => [...set].sort((a, b) => a - b));
  const pattern: SparsePattern = {
    size,
    rowStart: Int32Array.from([0, ...rows.map((_, i) => rows.slice(0, i + 1).reduce((n, row) => n + row.length, 0))]),
    columns: Int32Array.from(rows.flat()),
  };
  const slot = (i: number, j: number) => {
    const at = rows[i].indexOf(j);
    if (at < 0) throw new Error(`no entry ${i}, ${j}`);
    return pattern.rowStart[i] + at;
  };

  // The constant part of the Jacobian: flow, exchange, gas, digestion.
  const fixed = new Float64Array(pattern.columns.length);
  for (let c = 0; c < cells; c++)
    for (let s = 0; s < SOLUTES; s++) {
      const i = cell(c, s);
      fixed[slot(i, i)] -= flow / volume[c] + (s === O2 ? kLa[c] : 0);
      fixed[slot(i, cell((c + cells - 1) % cells, s))] += flow / volume[c];
      if (c === 0) continue;
      const j = film(c - 1, s);
      const e = exchange[s] * share[c - 1];
      fixed[slot(i, i)] -= e / volume[c];
      fixed[slot(i, j)] += e / volume[c];
      fixed[slot(j, j)] -= e / (filmVolume * share[c - 1]);
      fixed[slot(j, i)] += e / (filmVolume * share[c - 1]);
    }
  fixed[slot(cell(0, TAN), gut)] += (gutEmptying * tanPerGut) / displayVolume;
  fixed[slot(cell(0, COD), gut)] += (gutEmptying * codPerGut) / displayVolume;
  fixed[slot(cell(0, ALK), gut)] += (gutEmptying * tanPerGut) / 14 / displayVolume;
  fixed[slot(gut, gut)] -= gutEmptying;

  // Where the derivatives of the rates are added: for each film [slot, process derivative, coefficient].
  const dSlots: number[] = [];
  const dWhich: number[] = [];
  const dFactor: number[] = [];
  let base = 0;
  for (let k = 0; k < PROCESSES; k++) {
    for (const [i, nu] of stoichiometry[k])
      dependsOn[k].forEach((j, which) => {
        for (let f = 0; f < films; f++) dSlots.push(slot(film(f, i), film(f, j)));
        dWhich.push(base + which);
        dFactor.push(nu);
      });
    base += dependsOn[k].length;
  }
  const slots = Int32Array.from(dSlots);
  const which = Int32Array.from(dWhich);
  const factor = Float64Array.from(dFactor);
  const lossSlots = Int32Array.from(
    Array.from({ length: films }, (_, f) =>
      [AOB, NOB, HET]
        .flatMap((i) => [AOB, NOB, HET].map((j) => slot(film(f, i), film(f, j))))
        .concat([TAN, COD].flatMap((i) => [AOB, NOB, HET].map((j) => slot(film(f, i), film(f, j))))),
    ).flat(),
  );
  const respirationSlot = slot(cell(0, O2), cell(0, O2));
  const partial = new Float64Array(base);
  const [muA, muN] = [muAob * growth, muNob * growth];
  const [b0, b1, b2] = decay;

  function derivative(_t: number, y: Float64Array, out: Float64Array): void {
    for (let c = 0; c < cells; c++) {
      const here = c * SOLUTES;
      const up = (c === 0 ? cells - 1 : c - 1) * SOLUTES;
      const rate = flow / volume[c];
      for (let s = 0; s < SOLUTES; s++) out[here + s] = rate * (y[up + s] - y[here + s]);
      out[here + O2] += kLa[c] * (saturation - y[here + O2]);
    }
    out[O2] -= respiration * monod(y[O2], kO2Aob);
    const release = (gutEmptying * y[gut]) / displayVolume;
    out[TAN] += tanPerGut * release;
    out[COD] += codPerGut * release;
    out[ALK] += (tanPerGut / 14) * release;
    out[gut] = -gutEmptying * y[gut];
    for (let f = 0; f < films; f++) {
      const m = cells * SOLUTES + f * FILM;
      const w = (f + 1) * SOLUTES;
      const toWater = share[f] / volume[f + 1];
      for (let s = 0; s < SOLUTES; s++) {
        const d = exchange[s] * (y[w + s] - y[m + s]);
        out[m + s] = d / filmVolume;
        out[w + s] -= d * toWater;
      }
      const oxygen = y[m + O2];
      const [a, n, h] = [y[m + AOB], y[m + NOB], y[m + HET]];
      const rA = muA * monod(y[m + TAN], kTan) * monod(oxygen, kO2Aob) * monod(y[m + ALK], kAlk) * a;
      const rN = muN * monod(y[m + NO2], kNo2) * monod(oxygen, kO2Nob) * n;
      const feeding = muHet * monod(y[m + COD], kCod) * h;
      const rH = feeding * monod(oxygen, kO2Het);
      const rX = anoxic * feeding * inhibition(oxygen, kO2Het) * monod(y[m + NO3], kNo3);
      out[m + TAN] -= rA / yAob + nInBiomass * (rA + rN + rH + rX);
      out[m + NO2] += rA / yAob - rN / yNob;
      out[m + NO3] += rN / yNob - ((1 - yHet) / (2.86 * yHet)) * rX;
      out[m + O2] -= ((3.43 - yAob) / yAob) * rA + ((1.14 - yNob) / yNob) * rN + ((1 - yHet) / yHet) * rH;
      out[m + COD] -= (rH + rX) / yHet;
      out[m + ALK] -= (2 / 14 / yAob) * rA - ((1 - yHet) / (2.86 * yHet * 14)) * rX;
      const lost = (detach * (a + n + h)) / fullFilm;
      out[m + AOB] = rA - (b0 + lost) * a;
      out[m + NOB] = rN - (b1 + lost) * n;
      out[m + HET] = rH + rX - (b2 + lost) * h;
      const dead = b0 * a + b1 * n + b2 * h;
      out[m + TAN] += debris * nInBiomass * dead;
      out[m + COD] += (1 - debris) * dead;
    }
  }

  function jacobian(_t: number, y: Float64Array, values: Float64Array): void {
    values.set(fixed);
    values[respirationSlot] -= respiration * monodSlope(y[O2], kO2Aob);
    for (let f = 0; f < films; f++) {
      const m = cells * SOLUTES + f * FILM;
      const [tan, no2, no3, oxygen, cod, alk] = [y[m], y[m + 1], y[m + 2], y[m + 3], y[m + 4], y[m + 5]];
      const [a, n, h] = [y[m + AOB], y[m + NOB], y[m + HET]];
      const [mTan, mO, mAlk] = [monod(tan, kTan), monod(oxygen, kO2Aob), monod(alk, kAlk)];
      partial[0] = muA * monodSlope(tan, kTan) * mO * mAlk * a;
      partial[1] = muA * mTan * monodSlope(oxygen, kO2Aob) * mAlk * a;
      partial[2] = muA * mTan * mO * monodSlope(alk, kAlk) * a;
      partial[3] = muA * mTan * mO * mAlk;
      const [mNo2, mOn] = [monod(no2, kNo2), monod(oxygen, kO2Nob)];
      partial[4] = muN * monodSlope(no2, kNo2) * mOn * n;
      partial[5] = muN * mNo2 * monodSlope(oxygen, kO2Nob) * n;
      partial[6] = muN * mNo2 * mOn;
      const [mCod, mOh] = [monod(cod, kCod), monod(oxygen, kO2Het)];
      const dCod = monodSlope(cod, kCod);
      partial[7] = muHet * mCod * monodSlope(oxygen, kO2Het) * h;
      partial[8] = muHet * dCod * mOh * h;
      partial[9] = muHet * mCod * mOh;
      const muX = anoxic * muHet;
      const [mNo3, inhibited] = [monod(no3, kNo3), inhibition(oxygen, kO2Het)];
      partial[10] = muX * mCod * inhibited * monodSlope(no3, kNo3) * h;
      partial[11] = muX * mCod * inhibitionSlope(oxygen, kO2Het) * mNo3 * h;
      partial[12] = muX * dCod * inhibited * mNo3 * h;
      partial[13] = muX * mCod * inhibited * mNo3;
      for (let e = 0, s = f; e < which.length; e++, s += films) values[slots[s]] += factor[e] * partial[which[e]];
      const l = f * 15;
      const density = detach / fullFilm;
      const lost = density * (a + n + h);
      values[lossSlots[l]] -= b0 + lost + density * a;
      values[lossSlots[l + 1]] -= density * a;
      values[lossSlots[l + 2]] -= density * a;
      values[lossSlots[l + 3]] -= density * n;
      values[lossSlots[l + 4]] -= b1 + lost + density * n;
      values[lossSlots[l + 5]] -= density * n;
      values[lossSlots[l + 6]] -= density * h;
      values[lossSlots[l + 7]] -= density * h;
      values[lossSlots[l + 8]] -= b2 + lost + density * h;
      for (let j = 0; j < 3; j++) {
        values[lossSlots[l + 9 + j]] += debris * nInBiomass * decay[j];
        values[lossSlots[l + 12 + j]] += (1 - debris) * decay[j];
      }
    }
  }

  const start = new Float64Array(size);
  const absolute = new Float64Array(size).fill(1e-3);
  const water = [0.1, 0.01, 5, 8, 1, 2.5];
  for (let c = 0; c < cells; c++) start.set(water, cell(c, 0));
  for (let f = 0; f < films; f++) {
    start.set(water, film(f, 0));
    start.set([1, 0.5, 50], film(f, AOB));
    absolute.fill(1e-1, film(f, AOB), film(f, HET) + 1);
  }
  return { size, pattern, derivative, jacobian, start, gut, absolute, cell, film };
}
