// The depth-resolved film compared with closed forms and published cases; the effectiveness factor of the tank model
// compared with the resolved film.
import { describe, expect, it } from "vitest";
import { type Bulk, FilmAlone } from "../../../models/nitrogen/analysis/capacity.ts";
import { ResolvedFilm } from "../../../models/nitrogen/analysis/resolved-film.ts";
import { eachGuild, type Stock } from "../../../models/nitrogen/kinetics/guilds.ts";
import { parameterValues } from "../../../models/nitrogen/kinetics/parameters.ts";
import { floodedBedCoefficientMPerS } from "../../../models/tower/mass-transfer.ts";
import { biofilmDiffusivityM2PerDay, diffusivityM2PerS } from "../../../models/water/diffusivity.ts";
import { oxygenSaturationGPerM3 } from "../../../models/water/oxygen.ts";
import { csvRecords } from "../../data/reference-rows.ts";
import { compared } from "../../validation/compared.ts";
import { growFilm, monod } from "./growing-film.ts";

const SECONDS_PER_DAY = 86400;
/** A film of one solute with Monod uptake of at most k [g/m³/d] and half-saturation `half`. */
function monodFilm(layers: number, thicknessM: number, d: number, k: number, half: number, bulk: number): number {
  const film = new ResolvedFilm(layers, thicknessM, 0, [{ inFilmM2PerDay: d, inWaterM2PerDay: d }], (_, s, used, slopes) => {
    const x = Math.max(s[0], 0);
    used[0] = (k * x) / (half + x);
    slopes[0] = (k * half) / (half + x) ** 2;
  });
  film.bulk[0] = bulk;
  film.profile.fill(bulk);
  return film.settle()[0];
}

describe("the resolved film", () => {
  it("agrees with zero- and half-order theory (Harremoës 1978) and with an independent solution of every row", () => {
    for (const row of csvRecords("zero_half_order_film.csv")) {
      const [d, k, thick, surface] = [Number(row.D), Number(row.k), Number(row.L_um) * 1e-6, Number(row.C_surface)];
      const flux = monodFilm(300, thick, d, k, 1e-3 * surface, surface);
      compared({
        set: "Resolved film, zero and half order",
        what: `${row.limit} ${row.regime} ${row.L_um} µm`,
        unit: "g/m2/d",
        source: "Harremoës (1978); finite differences by another program",
        kind: "computed elsewhere",
        outside: Number(row.J_numeric),
        model: flux,
      });
      expect(Math.abs(flux / Number(row.J_numeric) - 1), `${row.limit} ${row.regime} ${row.L_um} µm`).toBeLessThan(0.01);
      expect(Math.abs(flux / Number(row.J) - 1)).toBeLessThan(0.015);
    }
  });

  it("agrees with the first-order solution J = √(kD) tanh(L √(k/D)) C (Thiele 1939), at second order in the layer thickness", () => {
    const [d, rate, thick, surface] = [1.5e-4, 4000, 3e-4, 1];
    // A half-saturation far above the concentration gives first order with k/half.
    const flux = (layers: number) => monodFilm(layers, thick, d, rate * 1e6, 1e6, surface);
    const exact = Math.sqrt(rate * d) * Math.tanh(thick * Math.sqrt(rate / d)) * surface;
    const [coarse, fine] = [flux(20) - exact, flux(40) - exact];
    expect(Math.abs(fine / exact)).toBeLessThan(2e-3);
    expect(Math.log2(Math.abs(coarse / fine))).toBeGreaterThan(1.8);
  });

  const published = (name: string, quantity: string) => {
    const row = csvRecords("biofilm_1d_cases.csv").find((r) => r.case === name && r.quantity === quantity)!;
    return { value: Number(row.expected), tolerance: Number(row.tol_abs), independent: Number(row.independent) };
  };

  it("C1: one species, one solute, with detachment, in a stirred tank", () => {
    const end = growFilm({
      layers: 40,
      days: 1,
      growth: [monod(20, 3).growth],
      growthSlope: [monod(20, 3).slope],
      turnsIntoNext: [0],
      densityGPerM3: 2e4,
      startShare: [0.08],
      detachmentPerMDay: 2e4,
      inflowS: [100],
      yield: 2.646,
      solutes: [{ inFilmM2PerDay: 6.9e-5, inWaterM2PerDay: 4e-5 }],
      boundaryM: 1e-7,
      startThicknessM: 1e-5,
      startX: [10],
      startS: [10],
    });
    const [x, s, l] = [published("C1", "Xt g/m3"), published("C1", "St g/m3"), published("C1", "Lf m")];
    expect(Math.abs(end.x[0] - x.value)).toBeLessThan(x.tolerance);
    expect(Math.abs(end.s[0] - s.value)).toBeLessThan(s.tolerance);
    expect(Math.abs(end.thicknessM / l.value - 1)).toBeLessThan(0.01);
  });

  it("C2: a boundary layer and a second, inert solute", () => {
    const end = growFilm({
      layers: 30,
      days: 1,
      growth: [monod(20, 3).growth],
      growthSlope: [monod(20, 3).slope],
      turnsIntoNext: [0],
      densityGPerM3: 1e5,
      startShare: [0.2],
      detachmentPerMDay: 1900,
      inflowS: [25, 25],
      yield: 0.5,
      solutes: [
        { inFilmM2PerDay: 1e-5, inWaterM2PerDay: 4e-5 },
        { inFilmM2PerDay: 1.5e-5, inWaterM2PerDay: 6e-5 },
      ],
      boundaryM: 1e-4,
      startThicknessM: 5e-6,
      startX: [10],
      startS: [25, 25],
    });
    const [s1, s2, l] = [published("C2", "St1 g/m3"), published("C2", "St2 g/m3"), published("C2", "Lf m")];
    expect(Math.abs(end.s[0] - s1.value)).toBeLessThan(s1.tolerance);
    expect(Math.abs(end.s[1] - s2.value)).toBeLessThan(1e-3);
    expect(Math.abs(end.thicknessM / l.value - 1)).toBeLessThan(0.01);
  });

  it("C3: active bacteria that turn into inert matter", () => {
    const end = growFilm({
      layers: 24,
      days: 100,
      growth: [monod(2, 1).growth, () => 0],
      growthSlope: [monod(2, 1).slope, () => 0],
      turnsIntoNext: [0.1, 0],
      densityGPerM3: 2e5,
      startShare: [0.08, 0],
      detachmentPerMDay: 1980,
      inflowS: [25],
      yield: 0.378,
      solutes: [{ inFilmM2PerDay: 6.9e-5, inWaterM2PerDay: 1.38e-4 }],
      boundaryM: 1e-5,
      startThicknessM: 5e-6,
      startX: [10, 0],
      startS: [25],
    });
    const [p1, p2] = [published("C3", "surface P1"), published("C3", "surface P2")];
    expect(Math.abs(end.surfaceShare[0] - p1.value)).toBeLessThan(p1.tolerance);
    expect(Math.abs(end.surfaceShare[1] - p2.value)).toBeLessThan(p2.tolerance);
  });
});

/** Thickness of film, water and boundary layer as in a tower of the tank model. */
const filmShape = { filmM: 1e-4, waterM: 3e-4, boundaryM: 5e-5 };
const bulk = (more: Partial<Bulk>): Bulk => ({
  tanGPerM3: 1,
  no2GPerM3: 0.1,
  o2GPerM3: 8,
  temperatureC: 24,
  salinityGPerKg: 0,
  ph: 7.8,
  alkalinityEqPerM3: 3,
  ...more,
});

/** Fluxes of ammonia and nitrite into the same film, depth-resolved [g N/m²/d]; the ammonia flux equals its oxidation. */
function resolvedFlux(alone: FilmAlone, water: Bulk, layers = 60): { tan: number; no2: number } {
  const at = alone.system.uptakeAtDepth(alone.y, 0);
  const thicknessM = alone.system.filmThicknessM(alone.y, 0);
  const solutes = (["ammonium", "nitrite", "oxygen", "organic"] as const).map((name) => ({
    inFilmM2PerDay: biofilmDiffusivityM2PerDay(name, water.temperatureC, 0, parameterValues().filmDiffusivity),
    inWaterM2PerDay: diffusivityM2PerS(name, water.temperatureC, 0) * SECONDS_PER_DAY,
  }));
  const film = new ResolvedFilm(layers, thicknessM, filmShape.boundaryM, solutes, (_, s, used, slopes) => {
    at(s, used, slopes);
    for (let i = 0; i < used.length; i++) used[i] /= thicknessM;
    for (let i = 0; i < slopes.length; i++) slopes[i] /= thicknessM;
  });
  film.bulk.set([water.tanGPerM3, water.no2GPerM3, water.o2GPerM3, 0]);
  for (let l = 0; l < layers; l++) film.profile.set(film.bulk, 4 * l);
  const flux = film.settle();
  return { tan: flux[0], no2: flux[1] };
}

describe("the film of the tank model", () => {
  // The fast guilds of a start-up, and the slow ones of a mature tank, from a thin film to a full one [g COD/m²].
  const mixes: Record<string, Stock> = {
    "start-up": { aob: 0.18, sao: 0.02, nob: 0.06, sno: 0.01, het: 0 },
    settled: { aob: 0.005, sao: 0.12, nob: 0.005, sno: 0.08, het: 0 },
  };
  for (const [name, full] of Object.entries(mixes))
    it(`agrees with the resolved film over the working range, with the guilds of a ${name} film; the error is stated`, () => {
      const errors: number[] = [];
      let worst = { error: 0, where: "" };
      for (const tan of [0.05, 0.1, 0.2, 0.5, 1, 2, 4])
        for (const o2 of [2, 4, 8])
          for (const fullness of [0.2, 0.6, 1]) {
            const water = bulk({ tanGPerM3: tan, o2GPerM3: o2, no2GPerM3: 0.2 });
            const stock = eachGuild((guild) => full[guild] * fullness);
            const alone = new FilmAlone(filmShape, water, parameterValues());
            alone.flux(stock);
            // Both as fluxes from the water: decay releases a little ammonia inside, which either film oxidises too.
            const enters = (diffusivityM2PerS("ammonium", 24, 0) * SECONDS_PER_DAY) / filmShape.boundaryM;
            const fast = enters * (tan - alone.y[alone.system.filmIndex(0, "tan")]);
            const error = fast / resolvedFlux(alone, water, 40).tan - 1;
            errors.push(error);
            if (Math.abs(error) > Math.abs(worst.error)) worst = { error, where: `TAN ${tan}, DO ${o2}, fullness ${fullness}` };
          }
      const rms = Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length);
      const mean = errors.reduce((sum, e) => sum + e, 0) / errors.length;
      console.info(
        `fast film against resolved (${name}): rms ${(100 * rms).toFixed(1)} %, mean ${(100 * mean).toFixed(1)} %, worst ${(100 * worst.error).toFixed(1)} % at ${worst.where}`,
      );
      expect(rms).toBeLessThan(0.05);
      expect(Math.abs(worst.error)).toBeLessThan(0.13);
    });
});

describe("areal removal of ammonia by a mature film", () => {
  const settled = (more: Partial<Bulk>, boundaryM = filmShape.boundaryM) =>
    new FilmAlone({ ...filmShape, boundaryM }, bulk(more), parameterValues()).settled().tan;

  // Fish water: dissolved organics as the model gives them in a mature tank, enough for the heterotrophic cover of a tower.
  const fishWater = { organicsGPerM3: 0.8 };

  it("reaches 0.69 g N/m2/d in fresh and 0.28 in sea water at 24 °C (Nijhof & Bovendeur 1990)", () => {
    // Sea water of 24 °C at rest with air holds less oxygen than fresh: 6.9 against 8.4 g/m3.
    // At 4 g TAN/m3, twice where the rate levels off, and the pH 7.5 of fish farms: free ammonia is no matter there.
    const fresh = settled({ ...fishWater, tanGPerM3: 4, ph: 7.5, o2GPerM3: 8.4 });
    const sea = settled({ ...fishWater, tanGPerM3: 4, o2GPerM3: 6.9, salinityGPerKg: 35, ph: 8.1 });
    const nijhof = {
      set: "Films, areal rate",
      unit: "g N/m2/d",
      source: "Nijhof & Bovendeur (1990); the model is set on both",
      kind: "measured",
    } as const;
    compared({ ...nijhof, what: "full film, fresh, 24 °C", outside: 0.69, model: fresh });
    compared({ ...nijhof, what: "full film, sea, 24 °C", outside: 0.28, model: sea });
    for (const [t, outside] of [
      [5, 0.3],
      [10, 0.5],
      [15, 0.7],
      [20, 0.9],
      [25, 1],
    ]) {
      const model = settled({
        ...fishWater,
        ph: 7.5,
        tanGPerM3: 2,
        temperatureC: t,
        o2GPerM3: oxygenSaturationGPerM3(t, 0, 101_325),
      });
      compared({
        set: "Films, areal rate",
        what: `guideline of fish farms at ${t} °C`,
        unit: "g N/m2/d",
        source: "reference table of areal guidelines",
        kind: "practice",
        outside,
        model,
      });
    }
    expect(fresh / 0.69).toBeCloseTo(1, 1);
    expect(sea / 0.28).toBeCloseTo(1, 1);
  });

  it("is of about half order below 2 g TAN/m3 and levels off above (Nijhof & Bovendeur 1990; C* about 2, from memory)", () => {
    const flux = (tan: number) => settled({ tanGPerM3: tan, o2GPerM3: 8.4 });
    const order = (low: number, high: number) => Math.log(flux(high) / flux(low)) / Math.log(high / low);
    expect(order(0.5, 2)).toBeGreaterThan(0.4);
    expect(order(0.5, 2)).toBeLessThan(0.75);
    // Disagrees in part: nearly no order is published there; the formula joins its two limits smoothly.
    expect(order(4, 8)).toBeGreaterThan(0.2);
    expect(order(4, 8)).toBeLessThan(0.3);
  });

  it("loses less in the cold than its bacteria: θ 1.06 to 1.08 of a full film, where the bacteria's own is 1.097", () => {
    const theta = (low: number, high: number, at: (temperatureC: number) => Partial<Bulk>) =>
      (settled({ ...fishWater, ph: 7.5, ...at(high), temperatureC: high }) /
        settled({ ...fishWater, ph: 7.5, ...at(low), temperatureC: low })) **
      (1 / (high - low));
    const airy = theta(10, 24, (t) => ({ tanGPerM3: 2, o2GPerM3: oxygenSaturationGPerM3(t, 0, 101_325) }));
    const short = theta(14, 27, () => ({ tanGPerM3: 2, o2GPerM3: 5 }));
    const bacteria = Math.exp((68_000 / 8.314) * (1 / 283.15 - 1 / 297.15)) ** (1 / 14);
    console.info(
      `theta ${airy.toFixed(3)} at rest with air, ${short.toFixed(3)} at 5 g/m3 of oxygen, bacteria ${bacteria.toFixed(3)}`,
    );
    const cold = { set: "Films, temperature factor", unit: "-", kind: "measured" } as const;
    compared({
      ...cold,
      what: "short of oxygen, 14 to 27 °C",
      source: "Zhu & Chen (2002), from memory",
      outside: [1.02, 1.05],
      model: short,
    });
    compared({
      ...cold,
      what: "trickling filters, 10 to 17 °C",
      source: "trickling filter literature, 1.096",
      outside: 1.096,
      model: airy,
    });
    // Published: 1.02 to 1.05 where transfer limits (Zhu & Chen 2002, from memory), 1.096 in trickling filters at 10-17 °C. The root of rate times
    // diffusivity gives 1.06; growth of the heterotrophic cover in the cold adds the rest. Disagrees with the lower limit.
    expect(airy).toBeGreaterThan(1.05);
    expect(airy).toBeLessThan(1.08);
    expect(short).toBeGreaterThan(1.05);
    expect(short).toBeLessThan(1.08);
    expect(airy).toBeLessThan(bacteria - 0.015);
  });

  it("is limited by oxygen below 3 to 4 g of it per g of TAN, by ammonia above (from memory)", () => {
    const gain = (tan: number, o2: number, name: "tan" | "o2") => {
      const up = name === "tan" ? { tanGPerM3: 1.3 * tan, o2GPerM3: o2 } : { tanGPerM3: tan, o2GPerM3: 1.3 * o2 };
      return settled(up) / settled({ tanGPerM3: tan, o2GPerM3: o2 });
    };
    expect(gain(4, 4, "o2")).toBeGreaterThan(gain(4, 4, "tan"));
    expect(gain(0.5, 6, "tan")).toBeGreaterThan(gain(0.5, 6, "o2"));
  });

  it("rises with the velocity of the water over the film, with the direction and order of magnitude of Prehn et al. (2012): 0.065 to 0.192 m/d over 2.5 to 40 m/h at 18 °C", () => {
    const constant = (metresPerHour: number): number => {
      const ammonium = diffusivityM2PerS("ammonium", 18, 0);
      const coefficient = floodedBedCoefficientMPerS(metresPerHour / 3600, 0.02, 0.9, ammonium);
      return settled({ tanGPerM3: 0.25, temperatureC: 18, o2GPerM3: 9 }, ammonium / coefficient) / 0.25;
    };
    const [slow, fast] = [constant(2.5), constant(40)];
    const exponent = Math.log(fast / slow) / Math.log(16);
    console.info(
      `first-order constant ${slow.toFixed(3)} to ${fast.toFixed(3)} m/d, exponent ${exponent.toFixed(2)} (published 0.065, 0.192, 0.39)`,
    );
    expect(slow).toBeGreaterThan(0.065 / 3);
    expect(slow).toBeLessThan(0.065 * 3);
    expect(fast).toBeGreaterThan(0.192 / 3);
    expect(fast).toBeLessThan(0.192 * 3);
    expect(exponent).toBeGreaterThan(0.1);
    expect(exponent).toBeLessThan(0.5);
  });
});
