// Every process rate by hand, with the constants as their sources print them, or as section 7 of DEVELOPERS.md says that they were set.
import { describe, expect, it } from "vitest";
import { penetrationIntegral, penetrationIntegralSlope } from "../../../models/nitrogen/kinetics/effectiveness.ts";
import { parameterValues } from "../../../models/nitrogen/kinetics/parameters.ts";
import { type CellCoefficients, plainCoefficients } from "../../../models/nitrogen/reactor/coefficients.ts";
import { NitrogenSystem } from "../../../models/nitrogen/reactor/system.ts";

const wiring = {
  cells: [{ id: "water", name: "water" }],
  films: [{ id: "film", name: "film", cell: 0, filmM: 1e-4, waterM: 3e-4, boundaryM: 5e-5 }],
  ways: [],
  gasCells: [],
  guts: [],
};

type Values = Readonly<Record<string, number>>;
const WATER: Values = { tan: 0.35, no2: 0.2, no3: 0.3, o2: 0.5, alk: 3, dic: 3.1, ss: 4, xs: 5, xd: 7, xh: 2 };
/** So little biomass that nothing runs short inside the film. */
const TRACES: Values = { aob: 1e-5, sao: 1e-5, nob: 1e-5, sno: 1e-5, het: 1e-6 };

/** Process rates of a square metre of film under a cubic metre of water, with the water's pH. */
function ratesOf(water: Values, film: Values, cell: Partial<CellCoefficients> = {}, salinityGPerKg = 0) {
  const plain = plainCoefficients(wiring);
  const system = new NitrogenSystem(wiring, parameterValues(), {
    ...plain,
    salinityGPerKg,
    cells: [{ ...plain.cells[0], volumeM3: 1, temperatureC: 20, ...cell }],
  });
  const y = new Float64Array(system.size);
  for (const [name, value] of Object.entries({ ...WATER, ...water })) {
    y[system.cellIndex(0, name as "tan")] = value;
    if (["tan", "no2", "o2", "ss"].includes(name)) y[system.filmIndex(0, name as "tan")] = value;
  }
  for (const [name, value] of Object.entries({ ...TRACES, ...film })) y[system.filmIndex(0, name as "aob")] = value;
  const ph = new Float64Array(1);
  system.ph(y, ph);
  const rates = system.processRates(y);
  return { rate: (id: string) => rates.get(id)!, ph: ph[0] };
}

const monod = (s: number, half: number) => s / (s + half);
/** Half-saturation of nitrite oxidisers for oxygen: under Hiatt & Grady's 1.2, within Sin et al.'s 0.3-1.5 [g/m3]. */
const K_O_NOB = 1;
/** Slow ammonia oxidisers are taken to decay like the fast ones [1/d]. */
const SAO_DECAY = 0.1;

const agree = (model: number, byHand: number) => expect(model / byHand).toBeCloseTo(1, 3);

describe("growth by hand, each substance near its half-saturation", () => {
  /** Bell of pH, with half points 6.5 and 9.5, and alkalinity with half-saturation 0.1 eq/m3 (modelling assumptions). */
  const suited = (ph: number, alk: number) => monod(alk, 0.1) / (1 + 10 ** (6.5 - ph) + 10 ** (ph - 9.5));
  /** pKa of ammonium 9.40 and of nitrous acid 3.40 at 20 °C (Emerson et al. 1975; Anthonisen et al. 1976). */
  const freeAmmonia = (tan: number, ph: number) => tan / (1 + 10 ** (9.4 - ph));
  const nitrousAcid = (no2: number, ph: number) => no2 / (1 + 10 ** (ph - 3.4));

  it.each([
    ["clean water", { tan: 0.35, no2: 0.2, alk: 3, dic: 3.05 }],
    ["much ammonia at a high pH", { tan: 30, no2: 0.2, alk: 4, dic: 3.4 }],
    ["much nitrite in acid water", { tan: 0.35, no2: 60, alk: 0.2, dic: 2 }],
  ] as const)("%s: both guilds of both steps", (_, water) => {
    const { rate, ph } = ratesOf(water, {});
    const { tan, no2, alk } = water;
    const [fa, fna] = [freeAmmonia(tan, ph), nitrousAcid(no2, ph)];
    // Fast ammonia oxidisers: 0.75 1/d between Hiatt & Grady's 0.78 and Solis et al.'s 0.61; K_NH 0.35; K_O 0.5 near Hiatt & Grady's 0.6. Free ammonia
    // halves them at 9 (the mean of Park & Bae's 4.1 to 22), nitrous acid at 0.17 g N/m3.
    const ammonia = suited(ph, alk) * monod(0.5, 0.5) * (9 / (9 + fa)) * (0.17 / (0.17 + fna));
    // Nitrite oxidisers: K_O between Hiatt & Grady's 1.2 and the low end of Sin et al.; free ammonia 0.2 (Hiatt & Grady), nitrous acid 0.05.
    const nitrite = suited(ph, alk) * monod(0.5, K_O_NOB) * (0.2 / (0.2 + fa)) * (0.05 / (0.05 + fna));
    const near = (id: string, byHand: number) => {
      expect(rate(id) / byHand, `${id} at pH ${ph.toFixed(2)}`).toBeGreaterThan(0.97);
      expect(rate(id) / byHand, id).toBeLessThan(1.03);
    };
    near("aob growth", 1e-5 * 0.75 * monod(tan, 0.35) * ammonia);
    near("sao growth", 1e-5 * 0.25 * monod(tan, 0.03) * ammonia);
    near("nob growth", 1e-5 * 0.7 * monod(no2, 0.2) * nitrite);
    near("sno growth", 1e-5 * 0.375 * monod(no2, 0.06) * nitrite);
  });

  it("heterotrophs as in ASM2d: 6 1/d, K_S 4, K_O 0.2; on nitrate 0.28 and on nitrite 0.16 of it, half-saturations 0.2 (Hiatt & Grady 2008)", () => {
    const { rate } = ratesOf({}, {});
    agree(rate("het growth"), 1e-6 * 6 * monod(4, 4) * monod(0.5, 0.2));
    agree(rate("free growth"), 2 * 6 * monod(4, 4) * monod(0.5, 0.2));
    agree(rate("no3 reduction in oxygen-free water"), 1e-6 * 6 * 0.28 * 0.5 * monod(0.3, 0.2) * (0.2 / 0.7));
    agree(rate("no2 reduction in oxygen-free water"), 1e-6 * 6 * 0.16 * 0.5 * monod(0.2, 0.2) * (0.2 / 0.7));
  });
});

describe("penetration of a film", () => {
  it("rests on the integral of Monod's law up to the surface, over its value there (Simpson's rule, 2000 steps)", () => {
    for (const half of [0.03, 0.35, 4])
      for (const s of [1e-3, 0.1, 0.35, 2, 20]) {
        const steps = 2000;
        const weight = (n: number) => (n === 0 || n === steps ? 1 : n % 2 === 1 ? 4 : 2);
        let sum = 0;
        for (let n = 0; n <= steps; n++) sum += weight(n) * monod((n * s) / steps, half);
        const integral = (sum * s) / steps / 3;
        // 5e-5 g/m3 is added so that nothing is divided by zero.
        expect((penetrationIntegral(s, half) - 5e-5) / (integral / monod(s, half)), `S ${s}, K ${half}`).toBeCloseTo(1, 4);
        expect(penetrationIntegralSlope(s, half)).toBeCloseTo(
          (penetrationIntegral(s * 1.0001, half) - penetrationIntegral(s * 0.9999, half)) / (2e-4 * s),
          4,
        );
      }
  });
});

describe("losses by hand", () => {
  it("decay of fed bacteria: 0.096 to 0.1 1/d (Hiatt & Grady 2008), 0.12 (centre of Sin et al. 2008), 0.08 and 0.4 (ASM2d); without oxygen 0.15 of it (Siegrist et al. 1999: 0.03 of 0.2)", () => {
    const fed = { tan: 100, no2: 100 };
    const { rate } = ratesOf({ ...fed, o2: 1e4 }, {});
    for (const [id, perDay] of [
      ["aob", 0.1],
      ["sao", SAO_DECAY],
      ["nob", 0.12],
      ["sno", 0.08],
    ] as const)
      agree(rate(`${id} decay`), 1e-5 * perDay);
    agree(rate("het decay"), 1e-6 * 0.4);
    const still = ratesOf({ ...fed, o2: 0 }, {});
    agree(still.rate("aob decay"), 1e-5 * 0.1 * (0.03 / 0.2));
    agree(still.rate("het decay"), 1e-6 * 0.4 * (0.03 / 0.2));
    // Half way at 0.2 g/m3, where heterotrophs are half starved of oxygen.
    agree(ratesOf({ ...fed, o2: 0.2 }, {}).rate("aob decay"), 1e-5 * 0.1 * (0.15 + 0.85 * 0.5));
  });

  it("starved nitrifiers decay at a fifth of that, and half way at 0.01 g N/m3 (modelling assumptions)", () => {
    const { rate } = ratesOf({ tan: 0, no2: 0, o2: 1e4 }, {});
    agree(rate("aob decay"), 1e-5 * 0.1 * 0.2);
    agree(rate("sno decay"), 1e-5 * 0.08 * 0.2);
    agree(ratesOf({ tan: 0.01, no2: 0, o2: 1e4 }, {}).rate("sao decay"), 1e-5 * SAO_DECAY * (0.2 + 0.8 * 0.5));
  });

  it("2 % a day wash off, of which a tenth of the nitrifiers lands again; waste dissolves at 0.2 1/d; free bacteria are lost at 1 1/d (modelling assumptions)", () => {
    const { rate } = ratesOf({}, {});
    agree(rate("aob sloughing"), 1e-5 * 0.02 * 0.9);
    agree(rate("het sloughing"), 1e-6 * 0.02);
    agree(rate("hydrolysis"), 5 * 0.2);
    agree(rate("deposit hydrolysis"), 7 * 0.2);
    agree(rate("free loss"), 2 * 1);
  });

  it("in a full film crowding takes what grows: net growth of the fast guild at the full stock of 0.315 and 0.22 g COD/m2, cubed beside it; a cover of 0.4 g COD/m2 of heterotrophs takes half of 0.59 of the room", () => {
    const full = { aob: 0.2, sao: 0.115, nob: 0.22, sno: 0, het: 0 };
    const { rate } = ratesOf({}, full);
    agree(rate("aob crowded off"), 0.2 * (0.75 - 0.1));
    agree(rate("sao crowded off"), 0.115 * (0.75 - 0.1));
    agree(rate("nob crowded off"), 0.22 * (0.7 - 0.12));
    agree(ratesOf({}, { ...full, aob: 0.1, sao: 0.0575 }).rate("aob crowded off"), (0.1 * 0.65) / 8);
    agree(ratesOf({}, { ...full, het: 0.4 }).rate("aob crowded off"), (0.2 * 0.65) / (1 - 0.59 / 2) ** 3);
    agree(ratesOf({}, { het: 8 }).rate("het crowded off"), 8 * 6);
  });
});

describe("what animals and plants take, and strays bring", () => {
  it("half of what they want at 0.5 g/m3 of oxygen, 0.05 of ammonia and 0.5 of nitrate (modelling assumptions); 3e-7 g COD/m2/d settle", () => {
    const cell = { respirationGPerM3Day: 10, plantUptakeGNPerM3Day: 3 };
    const { rate } = ratesOf({ tan: 0.05, no3: 0.5, o2: 0.5, xs: 0.01 }, {}, cell);
    agree(rate("respiration"), 5);
    agree(rate("plant ammonia"), 1.5);
    agree(rate("plant nitrate"), 0.75);
    agree(rate("aob arrival"), 3e-7 / 2);
  });
});

describe("warmth and salt", () => {
  it("from 10 to 20 °C rates rise by exp(E/R (1/283.15 - 1/293.15)): 2.68 at 68, 1.89 at 44, 1.84 at 42 and 2.06 at 50 kJ/mol (Vannecke & Volcke 2015; Henze et al. 2000)", () => {
    const [warm, cold] = [20, 10].map((temperatureC) => ratesOf({ tan: 1e-3, o2: 1e4 }, {}, { temperatureC }));
    const rise = (id: string) => warm.rate(id) / cold.rate(id);
    expect(rise("aob crowded off")).toBeCloseTo(2.68, 2);
    expect(rise("nob crowded off")).toBeCloseTo(1.89, 2);
    expect(rise("aob decay")).toBeCloseTo(1.84, 2);
    expect(rise("hydrolysis")).toBeCloseTo(2.06, 2);
    expect(rise("aob sloughing")).toBeCloseTo(1, 6);
  });

  it("they rise up to 30 °C: 1.97 times from 20 °C at 50 kJ/mol, and no further", () => {
    const [at20, at30, at33] = [20, 30, 33].map((temperatureC) => ratesOf({}, {}, { temperatureC }).rate("hydrolysis"));
    expect(at30 / at20).toBeCloseTo(1.97, 2);
    expect(at33 / at30).toBeCloseTo(1, 9);
  });

  it("in the sea nitrifiers live at 0.7 of the pace, in 0.35 of the room, whose cube crowds them", () => {
    const film = { aob: 0.1, sao: 0, nob: 0.1 };
    const [fresh, sea] = [0, 35].map((salinity) => ratesOf({ tan: 100, no2: 100 }, film, {}, salinity));
    const ratio = (id: string) => sea.rate(id) / fresh.rate(id);
    expect(ratio("aob decay")).toBeCloseTo(0.7, 3);
    expect(ratio("aob crowded off")).toBeCloseTo(0.7 / 0.35 ** 3, 3);
    expect(ratio("het decay")).toBeCloseTo(1, 6);
  });
});
