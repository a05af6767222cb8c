import { describe, expect, it } from "vitest";
import {
  ammoniumPka,
  ammoniumPkaFreeScale,
  ammoniumPkaFresh,
  ammoniumPkaJohanssonWedborg,
  freeAmmoniaNGPerM3,
  unionisedFraction,
} from "../../../models/water/ammonia.ts";
import { freeMinusTotalPk, nbsMinusTotalPh } from "../../../models/water/ph-scale.ts";
import { checkReferenceRows } from "../../data/check-rows.ts";
import { input, type ReferenceRow } from "../../data/reference-rows.ts";

/** Rows give either the pKa itself or the un-ionised share at a pH. */
function pkOrShare(row: ReferenceRow, pka: number): number {
  return row.quantity.startsWith("pKa") ? pka : unionisedFraction(pka, input(row, "pH"));
}

checkReferenceRows(
  "ammonia_fraction.csv",
  (row) => {
    const t = input(row, "T_C");
    const s = typeof row.inputs.S === "number" ? row.inputs.S : 0;
    switch (row.table) {
      case "NH3-A":
        return pkOrShare(row, ammoniumPkaFresh(t));
      case "NH3-B":
        return unionisedFraction(ammoniumPka(t, s), input(row, "pH"));
      case "NH3-C":
        return 100 * unionisedFraction(ammoniumPka(t, s), input(row, "pH"));
      case "NH3-D": // an NBS electrode, to which the free scale is close
        return 100 * unionisedFraction(ammoniumPkaFreeScale(t, s), input(row, "pH"));
      case "NH3-E":
        return pkOrShare(row, ammoniumPkaJohanssonWedborg(t, s));
      case "NH3-F":
        return pkOrShare(row, ammoniumPkaFreeScale(t, s));
      case "NH3-G":
        return ammoniumPka(t, s);
      default:
        throw new Error(`unknown table ${row.table}`);
    }
  },
  0,
);

describe("ammonia from fresh to salt water", () => {
  it("gives the published shares in fresh water (Emerson 1975): 20 °C 0.39 and 3.8 %, 25 °C 5.4 % at pH 7.0, 8.0, 8.0", () => {
    expect(100 * unionisedFraction(ammoniumPka(20, 0), 7)).toBeCloseTo(0.39, 2);
    expect(100 * unionisedFraction(ammoniumPka(20, 0), 8)).toBeCloseTo(3.8, 1);
    expect(100 * unionisedFraction(ammoniumPka(25, 0), 8)).toBeCloseTo(5.4, 1);
    expect(freeAmmoniaNGPerM3(5, 8.2, 25, 0)).toBeCloseTo(0.41, 2);
  });

  it("is smooth in salinity from 0 to 45 g/kg", () => {
    for (const t of [5, 15, 25, 35]) {
      for (let s = 0.5; s < 45; s += 0.5) {
        const bend = ammoniumPka(t, s + 0.5) - 2 * ammoniumPka(t, s) + ammoniumPka(t, s - 0.5);
        expect(Math.abs(bend), `${t} °C, ${s} g/kg`).toBeLessThan(0.02);
      }
    }
  });

  it("distinguishes the scales: in sea water at 25 °C total is 0.10-0.12 below free (Dickson 1990), NBS 0.12-0.16 above total", () => {
    expect(freeMinusTotalPk(25, 35)).toBeGreaterThan(0.1);
    expect(freeMinusTotalPk(25, 35)).toBeLessThan(0.12);
    expect(freeMinusTotalPk(25, 0)).toBe(0);
    expect(nbsMinusTotalPh(25, 35)).toBeGreaterThan(0.12);
    expect(nbsMinusTotalPh(25, 35)).toBeLessThan(0.16);
    expect(nbsMinusTotalPh(25, 0)).toBeCloseTo(0, 15);
  });
});
