import { describe, expect, it } from "vitest";
import {
  billetHoldup,
  billetHydraulicAreaShare,
  billetInterfaceShare,
  billetLiquidCoefficientMPerS,
} from "../../../models/tower/billet-schultes.ts";
import { coefficientFromOxygen, overallCoefficientMPerS } from "../../../models/tower/mass-transfer.ts";
import { ondaGasCoefficientMPerS, ondaLiquidCoefficientMPerS, ondaWettedShare } from "../../../models/tower/onda.ts";
import { csvRecords } from "../../data/reference-rows.ts";
import { compared } from "../../validation/compared.ts";

const WATER_20C = { densityKgPerM3: 998.2, viscosityPaS: 1.002e-3, surfaceTensionNPerM: 0.0728 };
const OXYGEN_M2_PER_S = 2e-9;

describe("Onda, Takeuchi & Okumoto (1968)", () => {
  const rows = csvRecords("onda_worked_examples.csv").filter((row) => row.case === "A");
  const given = (name: string) => Number(rows.find((row) => row.quantity === name)!.expected);
  const answer = (name: string, column: "expected" | "recomputed") => Number(rows.find((row) => row.quantity === name)![column]);
  const packing = {
    specificSurfaceM2PerM3: given("a_t 1/m"),
    pieceM: given("d_p m"),
    criticalTensionNPerM: given("critical surface tension N/m"),
  };
  const liquid = {
    densityKgPerM3: given("rho_L"),
    viscosityPaS: given("mu_L"),
    surfaceTensionNPerM: given("water surface tension N/m"),
  };
  const loadMPerS = given("liquid kg/m2/s") / liquid.densityKgPerM3;
  const diffusivity = liquid.viscosityPaS / (liquid.densityKgPerM3 * given("Sc_L"));
  const wetted = packing.specificSurfaceM2PerM3 * ondaWettedShare(packing, liquid, loadMPerS);

  it("worked example A: wetted area 146.29 1/m and k_L 3.58e-4 m/s as printed", () => {
    const kL = ondaLiquidCoefficientMPerS(packing, liquid, loadMPerS, wetted, diffusivity);
    const onda = { set: "Packed columns", source: "worked example of Onda's correlation", kind: "published" } as const;
    compared({
      ...onda,
      what: "Onda example A, wetted area",
      unit: "1/m",
      outside: answer("a_wet 1/m", "expected"),
      model: wetted,
    });
    compared({ ...onda, what: "Onda example A, k_L", unit: "m/s", outside: answer("k_L m/s", "expected"), model: kL });
    expect(wetted).toBeCloseTo(answer("a_wet 1/m", "expected"), 1);
    expect(ondaLiquidCoefficientMPerS(packing, liquid, loadMPerS, wetted, diffusivity)).toBeCloseTo(
      answer("k_L m/s", "expected"),
      6,
    );
  });

  it("worked example A: gas-side and overall coefficient as recalculated (the printed ones used the liquid Reynolds number)", () => {
    const gas = { densityKgPerM3: given("rho_G"), viscosityPaS: given("mu_G") };
    const gasDiffusivity = gas.viscosityPaS / (gas.densityKgPerM3 * given("Sc_G"));
    const gasSide = ondaGasCoefficientMPerS(packing, gas, given("gas kg/m2/s") / gas.densityKgPerM3, gasDiffusivity);
    expect(gasSide / answer("k_G m/s", "recomputed")).toBeCloseTo(1, 3);
    const liquidSide = ondaLiquidCoefficientMPerS(packing, liquid, loadMPerS, wetted, diffusivity);
    const overall = 0.7 * wetted * overallCoefficientMPerS(liquidSide, gasSide, given("Henry, gas/liquid conc. (= S*Qw/Qa)"));
    expect(overall / answer("0.7*K_L a 1/s", "recomputed")).toBeCloseTo(1, 3);
  });

  it.each(csvRecords("onda_low_load_o2.csv"))("computed row: $a_t m²/m³, $load_m_h m/h", (row) => {
    const bed = { specificSurfaceM2PerM3: Number(row.a_t), pieceM: Number(row.d_p_m), criticalTensionNPerM: Number(row.sigma_c) };
    const load = Number(row.load_m_h) / 3600;
    const share = ondaWettedShare(bed, WATER_20C, load);
    const area = share * bed.specificSurfaceM2PerM3;
    const kL = ondaLiquidCoefficientMPerS(bed, WATER_20C, load, area, OXYGEN_M2_PER_S);
    expect(share / Number(row.aw_over_at)).toBeCloseTo(1, 3);
    expect((1e5 * kL) / Number(row.kL_1e5_m_s)).toBeCloseTo(1, 3);
    compared({
      set: "Packed columns",
      what: `Onda, ${row.a_t} m2/m3, ${row.load_m_h} m/h, k_L a of oxygen`,
      unit: "1/h",
      source: "Onda, Takeuchi & Okumoto (1968), another program",
      kind: "computed elsewhere",
      outside: Number(row.kLa_per_h),
      model: 3600 * kL * area,
    });
    expect((3600 * kL * area) / Number(row.kLa_per_h)).toBeCloseTo(1, 3);
    expect(1 - Math.exp((-kL * area) / load)).toBeCloseTo(Number(row.approach_per_m), 3);
  });
});

describe("Billet & Schultes (1999)", () => {
  it.each(csvRecords("billet_schultes_low_load.csv"))("computed row: $packing, $load_m_h m/h", (row) => {
    const packing = {
      specificSurfaceM2PerM3: Number(row.a),
      voidShare: Number(row.eps),
      holdupConstant: Number(row.Ch),
      liquidConstant: Number(row.CL),
    };
    const load = Number(row.load_m_h) / 3600;
    const kL = billetLiquidCoefficientMPerS(packing, WATER_20C, load, OXYGEN_M2_PER_S);
    const interfaceShare = billetInterfaceShare(packing, WATER_20C, load);
    expect(billetHydraulicAreaShare(packing, WATER_20C, load) / Number(row.ah_over_a)).toBeCloseTo(1, 3);
    expect(billetHoldup(packing, WATER_20C, load) / Number(row.holdup)).toBeCloseTo(1, 3);
    expect(interfaceShare / Number(row.aph_over_a)).toBeCloseTo(1, 3);
    expect((1e5 * kL) / Number(row.betaL_1e5_m_s)).toBeCloseTo(1, 3);
    expect((3600 * kL * interfaceShare * packing.specificSurfaceM2PerM3) / Number(row.kLa_per_h)).toBeCloseTo(1, 3);
  });
});

describe("comparison with measured trickling packings (Kim & Deshusses 2008, second-hand)", () => {
  const oneInchRings = { specificSurfaceM2PerM3: 213, pieceM: 0.025, criticalTensionNPerM: 0.033 };
  const rows = csvRecords("trickling_mass_transfer.csv");

  it.each([1, 3, 6])(
    "Onda for 25 mm plastic rings lies within a factor 2.5 of the measured Pall rings at %d m/h",
    (metresPerHour) => {
      const law = rows.find(
        (row) => row.coefficient === "kLa_w" && row.packing === "Pall ring" && row.range!.includes("gas<500"),
      )!;
      const measured = 10 ** Number(law.logC) * metresPerHour ** Number(law.i);
      const load = metresPerHour / 3600;
      const area = 213 * ondaWettedShare(oneInchRings, WATER_20C, load);
      const oxygen = ondaLiquidCoefficientMPerS(oneInchRings, WATER_20C, load, area, OXYGEN_M2_PER_S);
      const computed = 3600 * area * coefficientFromOxygen(oxygen, OXYGEN_M2_PER_S, 1.75e-9);
      compared({
        set: "Packed columns",
        what: `25 mm rings at ${metresPerHour} m/h, k_L a`,
        unit: "1/h",
        source: "Kim & Deshusses (2008), second-hand power law; size of the rings not stated",
        kind: "measured",
        outside: measured,
        model: computed,
      });
      expect(computed / measured).toBeGreaterThan(1 / 2.5);
      expect(computed / measured).toBeLessThan(2.5);
    },
  );
});
