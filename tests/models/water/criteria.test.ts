import { describe, expect, it } from "vitest";
import { ammoniumPka, freeAmmoniaAnthonisenGPerM3, unionisedFraction } from "../../../models/water/ammonia.ts";
import {
  chlorideOfSeaSaltGPerM3,
  chlorideToNitrite,
  FOUR_DAY_TO_CHRONIC_RATIO,
  freshAmmoniaCriteria,
  saltAcuteTotalAmmoniaGNh3PerM3,
} from "../../../models/water/criteria.ts";
import {
  AMMONIA_G_PER_MOL,
  NITRATE_G_PER_MOL,
  NITRIFICATION_OXYGEN_G_PER_G_N,
  NITRITE_G_PER_MOL,
  NITROGEN_G_PER_MOL,
} from "../../../models/water/molar-mass.ts";
import { freeNitrousAcidAnthonisenGPerM3, nitrousAcidFraction, nitrousAcidPka } from "../../../models/water/nitrous-acid.ts";
import { checkReferenceRows } from "../../data/check-rows.ts";
import { input, type ReferenceRow } from "../../data/reference-rows.ts";

const PER_G_N: Readonly<Record<string, number>> = {
  "O2 per N, NH4->NO3": NITRIFICATION_OXYGEN_G_PER_G_N,
  "mg NH3 per mg NH3-N": AMMONIA_G_PER_MOL / NITROGEN_G_PER_MOL,
  "mg NO2- per mg N": NITRITE_G_PER_MOL / NITROGEN_G_PER_MOL,
  "mg NO3- per mg N": NITRATE_G_PER_MOL / NITROGEN_G_PER_MOL,
};

function freshCriterion(row: ReferenceRow): number {
  const criteria = freshAmmoniaCriteria(input(row, "pH"), input(row, "T_C"), row.inputs.salmonids === true);
  if (row.quantity.startsWith("CMC")) return criteria.acuteTanGPerM3;
  // The notice multiplies the printed criterion, that is after rounding to two digits.
  if (row.quantity.includes("4-day")) return FOUR_DAY_TO_CHRONIC_RATIO * Number(criteria.chronicTanGPerM3.toPrecision(2));
  return criteria.chronicTanGPerM3;
}

checkReferenceRows(
  "ammonia_criteria.csv",
  (row) => {
    if (row.table.startsWith("EPA13")) return freshCriterion(row);
    if (row.table === "EPA89") return saltAcuteTotalAmmoniaGNh3PerM3(input(row, "pH"), input(row, "T_C"), input(row, "S_g_kg"));
    if (row.table === "STOI") return PER_G_N[row.quantity]!;
    return row.quantity === "free ammonia"
      ? freeAmmoniaAnthonisenGPerM3(input(row, "TAN_mgN_L"), input(row, "pH"), input(row, "T_C"))
      : freeNitrousAcidAnthonisenGPerM3(input(row, "NO2N_mgN_L"), input(row, "pH"), input(row, "T_C"));
  },
  0,
);

describe("limits and inhibitors", () => {
  it("the bounded forms agree with Anthonisen et al. (1976) within 2 % where those are valid, and stay between 0 and 1 elsewhere", () => {
    for (const t of [15, 20, 25, 30]) {
      for (const ph of [6.5, 7, 7.5, 8, 8.5]) {
        const nitrous = (nitrousAcidFraction(nitrousAcidPka(t), ph) * 46) / 14;
        expect(nitrous / freeNitrousAcidAnthonisenGPerM3(1, ph, t)).toBeCloseTo(1, 2);
        const ammonia = (unionisedFraction(ammoniumPka(t, 0), ph) * 17) / 14;
        expect(Math.abs(ammonia / freeAmmoniaAnthonisenGPerM3(1, ph, t) - 1)).toBeLessThan(0.02);
      }
    }
    expect(nitrousAcidFraction(nitrousAcidPka(25), 0)).toBeLessThan(1);
  });

  it("chloride of sea water of 35 g/kg is near 19.8 g/L (Millero et al. 2008: 19.35 g/kg at 35.165 g/kg), far above the protective ratio to nitrite", () => {
    const chloride = chlorideOfSeaSaltGPerM3(35, 1023.3);
    expect(chloride).toBeCloseTo(19711, -2);
    expect(chlorideToNitrite(chloride, 5)).toBeGreaterThan(3000);
    expect(chlorideToNitrite(chloride, 0)).toBe(Number.POSITIVE_INFINITY);
  });
});
