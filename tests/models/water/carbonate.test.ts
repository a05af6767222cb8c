import { describe, expect, it } from "vitest";
import {
  alkalinityEqPerM3,
  type CarbonateConstants,
  CO2,
  carbonateConstants,
  co2PartialPressureAtm,
  co2TensionAtm,
  DCO2_DALK,
  DCO2_DAMMONIA,
  DCO2_DDIC,
  DPH_DALK,
  DPH_DAMMONIA,
  DPH_DDIC,
  dicMolPerM3,
  NoPhError,
  openToAir,
  PH,
  PH_RESULT_LENGTH,
  solvePh,
} from "../../../models/water/carbonate.ts";
import {
  carbonatePk,
  freshCarbonatePk,
  lnBoricAcidConstant,
  lnCo2Solubility,
} from "../../../models/water/carbonate-equilibria.ts";
import { lnBisulphateConstant } from "../../../models/water/ph-scale.ts";
import { checkReferenceRows, type Verdict } from "../../data/check-rows.ts";
import { input, type ReferenceRow } from "../../data/reference-rows.ts";
import fc from "../../fast-check.ts";

function solved(constants: CarbonateConstants, alk: number, dic: number, guess = 8, ammonia = 0): Float64Array {
  const out = new Float64Array(PH_RESULT_LENGTH);
  solvePh(constants, alk, dic, ammonia, guess, out);
  return out;
}

/** Rows for dilute fresh water use activity = mol/L, so one litre counts as one kilogram. */
function diluteKgPerM3(constants: CarbonateConstants): number {
  return constants.densityKgPerM3 / 1000;
}

function constantRow(row: ReferenceRow): Verdict {
  const t = input(row, "T_C");
  const s = typeof row.inputs.S === "number" ? row.inputs.S : 0;
  const q = row.quantity;
  if (q.includes("phosphoric") || /K[123]P/.test(q)) return { notApplicable: "phosphate is not a component of the pH model" };
  if (q.includes("KS")) return lnBisulphateConstant(t, s);
  if (q.startsWith("ln(K0)")) return lnCo2Solubility(t, s);
  if (q === "pK0") return -lnCo2Solubility(t, s) / Math.LN10;
  if (q === "K0") return 100 * Math.exp(lnCo2Solubility(t, s));
  if (q.startsWith("ln(KB)")) return lnBoricAcidConstant(t, s);
  if (q === "pKB") return -lnBoricAcidConstant(t, s) / Math.LN10;
  if (q.startsWith("pKH")) return freshCarbonatePk(t).pkHenry;
  if (q.startsWith("log10(K1)")) return -carbonatePk(t, s).pk1;
  if (q.startsWith("log10(K2)")) return -carbonatePk(t, s).pk2;
  if (q === "pK1") return carbonatePk(t, s).pk1;
  if (q === "pK2") return carbonatePk(t, s).pk2;
  throw new Error(`unknown quantity ${q} in ${row.id}`);
}

function freshRow(row: ReferenceRow): number {
  const constants = carbonateConstants(input(row, "T_C"), 0);
  const perLitre = diluteKgPerM3(constants);
  const alk = input(row, "alk_meq_L") * perLitre;
  if (row.table === "C-D") return openToAir(constants, alk, 1e-6 * input(row, "pCO2_uatm")).ph;
  const out = solved(constants, alk, input(row, "DIC_mmol_L") * perLitre);
  return row.quantity === "pH" ? out[PH]! : 1e6 * co2TensionAtm(constants, out[CO2]!);
}

function seaRow(row: ReferenceRow): number {
  const constants = carbonateConstants(input(row, "T_C"), input(row, "S"));
  const perMicromol = constants.densityKgPerM3 * 1e-6;
  const dic = input(row, "DIC") * perMicromol;
  const out = solved(constants, input(row, "TA") * perMicromol, dic);
  const h = constants.densityKgPerM3 * 10 ** -out[PH]!;
  const d = h * h + constants.k1 * h + constants.k1 * constants.k2;
  if (row.quantity.startsWith("pH")) return out[PH]!;
  if (row.quantity === "pCO2") return 1e6 * co2TensionAtm(constants, out[CO2]!);
  const ion = row.quantity === "HCO3-" ? constants.k1 * h : constants.k1 * constants.k2;
  return (dic * ion) / d / perMicromol;
}

checkReferenceRows(
  "carbonate_system.csv",
  (row) => {
    if (row.table === "C-F") {
      return {
        notApplicable:
          "1000 dbar, nutrients and another boron ratio; the models work at one atmosphere (C-G covers the same solver there)",
      };
    }
    if (row.table === "C-D" || row.table === "C-E") return freshRow(row);
    return row.table === "C-G" ? seaRow(row) : constantRow(row);
  },
  7,
);

describe("pH solver", () => {
  const waters = [
    carbonateConstants(10, 0),
    carbonateConstants(25, 0.3),
    carbonateConstants(25, 12),
    carbonateConstants(28, 35),
    carbonateConstants(38, 45),
  ];

  it("closes the alkalinity balance and inverts both ways, from acid water without alkalinity to limed water", () => {
    for (const constants of waters) {
      for (const alk of [-3, -0.05, 0, 0.02, 0.5, 2.3, 8, 100])
        for (const dic of [0, 1e-6, 0.05, 2, 9, 90])
          for (const ammonia of [0, 0.2, 20]) {
            const ph = solved(constants, alk, dic, 8, ammonia)[PH]!;
            const scale = Math.abs(alk) + dic + ammonia + 1e-6;
            expect(Math.abs(alkalinityEqPerM3(constants, ph, dic, ammonia) - alk) / scale).toBeLessThan(1e-11);
            if (dic > 0.01 && ph > 6 && ammonia <= dic) expect(dicMolPerM3(constants, ph, alk, ammonia) / dic).toBeCloseTo(1, 9);
          }
    }
  });

  it("gives a solution of ammonia alone the handbook pH: 0.1 mol/L NH3 at 25 °C reads 11.1 (textbook arithmetic, K_b 1.8e-5)", () => {
    const litre = 1000 * (carbonateConstants(25, 0).densityKgPerM3 / 1000);
    // A base that contributes its own alkalinity: one equivalent per mole.
    expect(solved(carbonateConstants(25, 0), 0.1 * litre, 0, 8, 0.1 * litre)[PH]).toBeCloseTo(11.12, 1);
    // Its salt contributes none and is slightly acid: pH = (9.25 - log 0.1)/2 = 5.1.
    expect(solved(carbonateConstants(25, 0), 0, 0, 8, 0.1 * litre)[PH]).toBeCloseTo(5.12, 1);
  });

  it("does not depend on the starting value", () => {
    for (const constants of waters) {
      for (const guess of [0, 4, 7, 11, 15, Number.NaN])
        expect(solved(constants, 2, 2.1, guess)[PH]).toBeCloseTo(solved(constants, 2, 2.1)[PH]!, 11);
    }
  });

  it("returns derivatives that agree with central differences", () => {
    const step = 1e-5;
    for (const constants of waters) {
      for (const [alk, dic] of [
        [2, 2.2],
        [0.1, 0.4],
        [-0.2, 0.5],
        [4, 3],
      ] as const) {
        const at = (alkalinity: number, carbon: number, ammonia: number) => solved(constants, alkalinity, carbon, 8, ammonia);
        const out = at(alk, dic, 0.3);
        const alkUp = at(alk + step, dic, 0.3);
        const alkDown = at(alk - step, dic, 0.3);
        const dicUp = at(alk, dic + step, 0.3);
        const dicDown = at(alk, dic - step, 0.3);
        const ammoniaUp = at(alk, dic, 0.3 + step);
        const ammoniaDown = at(alk, dic, 0.3 - step);
        const slope = (up: Float64Array, down: Float64Array, slot: number) => (up[slot]! - down[slot]!) / (2 * step);
        for (const [value, difference] of [
          [out[DPH_DALK]!, slope(alkUp, alkDown, PH)],
          [out[DPH_DDIC]!, slope(dicUp, dicDown, PH)],
          [out[DCO2_DALK]!, slope(alkUp, alkDown, CO2)],
          [out[DCO2_DDIC]!, slope(dicUp, dicDown, CO2)],
          [out[DPH_DAMMONIA]!, slope(ammoniaUp, ammoniaDown, PH)],
          [out[DCO2_DAMMONIA]!, slope(ammoniaUp, ammoniaDown, CO2)],
        ] as const) {
          expect(Math.abs(value - difference)).toBeLessThan(1e-5 * (Math.abs(value) + 1e-3));
        }
      }
    }
  });

  it("at 0-40 °C and 0-45 g/kg, more alkalinity raises pH, more carbon lowers it, and dissolved CO2 never exceeds the carbon", () => {
    const any = fc.record({
      t: fc.double({ min: 0, max: 40, noNaN: true }),
      s: fc.double({ min: 0, max: 45, noNaN: true }),
      alk: fc.double({ min: -10, max: 50, noNaN: true }),
      dic: fc.double({ min: 0, max: 50, noNaN: true }),
      guess: fc.double({ min: -5, max: 20, noNaN: true }),
    });
    fc.assert(
      fc.property(any, ({ t, s, alk, dic, guess }) => {
        const constants = carbonateConstants(t, s);
        const out = solved(constants, alk, dic, guess);
        expect(out[DPH_DALK]).toBeGreaterThan(0);
        expect(out[DPH_DDIC]).toBeLessThanOrEqual(0);
        expect(out[CO2]).toBeGreaterThanOrEqual(0);
        expect(out[CO2]).toBeLessThanOrEqual(dic * (1 + 1e-12));
        expect(Math.abs(alkalinityEqPerM3(constants, out[PH]!, dic, 0) - alk)).toBeLessThan(1e-10 * (Math.abs(alk) + dic + 1));
      }),
      { numRuns: 500 },
    );
  });

  it("refuses inputs without a solution", () => {
    expect(() => solved(waters[0]!, Number.NaN, 1)).toThrow(NoPhError);
    expect(() => solved(waters[0]!, 1, Number.NaN)).toThrow(NoPhError);
    expect(() => solved(waters[0]!, 1e9, 1)).toThrow(NoPhError);
  });

  it("sea water in equilibrium with clean air at 25 °C has a pH near 8.05 with 2.0 mmol/kg of carbon (surface ocean: 8.05-8.1, Dickson et al. 2007)", () => {
    const constants = carbonateConstants(25, 35);
    const pco2 = co2PartialPressureAtm(420e-6, 101325, 25, 35);
    const { ph, dicMolPerM3: dic } = openToAir(constants, 2.3e-3 * constants.densityKgPerM3, pco2);
    expect(ph).toBeGreaterThan(8);
    expect(ph).toBeLessThan(8.1);
    expect((1000 * dic) / constants.densityKgPerM3).toBeCloseTo(2.0, 1);
    expect(solved(constants, 2.3e-3 * constants.densityKgPerM3, dic)[PH]).toBeCloseTo(ph, 10);
  });

  it("is smooth from fresh to salt: pK1 and pK2 have no step and fall by 0.5 and 1.4 between fresh and sea water", () => {
    for (let s = 1; s < 44; s += 1) {
      const here = carbonatePk(25, s);
      const next = carbonatePk(25, s + 0.01);
      expect(Math.abs(next.pk1 - here.pk1)).toBeLessThan(2e-3);
      expect(Math.abs(next.pk2 - here.pk2)).toBeLessThan(4e-3);
    }
    expect(carbonatePk(25, 0).pk1 - carbonatePk(25, 35).pk1).toBeCloseTo(0.5, 1);
    expect(carbonatePk(25, 0).pk2 - carbonatePk(25, 35).pk2).toBeCloseTo(1.4, 1);
  });
});
