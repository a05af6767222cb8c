import { describe, expect, it } from "vitest";
import { densityKgPerM3, specificHeatJPerKgK } from "../../../models/water/density.ts";
import { biofilmDiffusivityM2PerDay, diffusivityM2PerS } from "../../../models/water/diffusivity.ts";
import { freezingC } from "../../../models/water/freezing.ts";
import { OXYGEN_GAS_G_PER_MOL } from "../../../models/water/molar-mass.ts";
import { OXYGEN_IN_DRY_AIR, oxygenSaturationGPerM3 } from "../../../models/water/oxygen.ts";
import { latentHeatJPerKg, pureWaterSaturationPressurePa, saturationVapourPressurePa } from "../../../models/water/vapour.ts";
import { dynamicViscosityPaS, kinematicViscosityM2PerS, surfaceTensionNPerM } from "../../../models/water/viscosity.ts";
import { checkReferenceRows, type Verdict } from "../../data/check-rows.ts";
import type { ReferenceRow } from "../../data/reference-rows.ts";

function modelValue(row: ReferenceRow): Verdict {
  const number = (name: string) => row.inputs[name] as number | undefined;
  const pressure = number("p_dbar");
  if (pressure !== undefined && pressure > 0)
    return { notApplicable: "10 000 dbar of pressure; the models work at one atmosphere" };
  const temperature = number("T90_C") ?? number("T_C") ?? (number("T68_C") ?? Number.NaN) / 1.00024;
  const t = number("T_K") === undefined ? temperature : number("T_K")! - 273.15;
  const salinity = number("S") ?? number("SP") ?? 0;
  if (row.table === "W-D") return releaseValue(row, t);
  if (row.table === "W-G") return saturationVapourPressurePa(t, salinity) / 101325;
  switch (row.quantity) {
    case "density":
      return densityKgPerM3(t, salinity);
    case "dynamic viscosity":
      return 1000 * dynamicViscosityPaS(t, salinity);
    case "kinematic viscosity":
      return 1e6 * kinematicViscosityM2PerS(t, salinity);
    case "saturation vapour pressure":
      return pureWaterSaturationPressurePa(t);
    case "cp":
      return specificHeatJPerKgK(t, salinity) / 1000;
    default:
      throw new Error(`unknown quantity ${row.quantity}`);
  }
}

/** IAPWS release check values whose formulation the models use; the others are for other states or finer formulations. */
function releaseValue(row: ReferenceRow, t: number): Verdict {
  if (row.quantity === "surface tension") return 1000 * surfaceTensionNPerM(t);
  if (row.quantity === "saturation pressure" || row.quantity.startsWith("vapour pressure"))
    return 1e-6 * pureWaterSaturationPressurePa(t);
  if (row.quantity.startsWith("liquid density") && t < 40) return densityKgPerM3(t, 0);
  if (row.quantity.startsWith("liquid density")) return { notApplicable: "102 °C is outside the 0-40 °C of the models" };
  if (row.quantity === "dynamic viscosity")
    return { notApplicable: "a test of viscosity against density under pressure or near boiling; W-E covers 0-40 °C at 0.1 MPa" };
  if (row.quantity.startsWith("cp"))
    return { notApplicable: "tests the last digits of another formulation; W-E covers specific heat to 0.1 %" };
  if (row.quantity === "saturated liquid density")
    return { notApplicable: "water under its own vapour alone; the models work at one atmosphere" };
  return { notApplicable: "a Henry constant of another formulation to 0.01 %; checked to 1.5 % below" };
}

checkReferenceRows("water_properties.csv", modelValue, 3 + 9);

describe("water properties", () => {
  // Fernández-Prini, Alvarez & Harvey (2003) state about 1 % scatter of their oxygen fit (from memory).
  it("agrees with the Henry constant of oxygen of IAPWS G7-04 (ln(kH/GPa) = 1.5024 at 300 K) within the 1.5 % of that fit", () => {
    const t = 300 - 273.15;
    const dissolved = oxygenSaturationGPerM3(t, 0, 101325) / OXYGEN_GAS_G_PER_MOL;
    const water = densityKgPerM3(t, 0) / 0.0180153;
    const partialPressure = OXYGEN_IN_DRY_AIR * (101325 - pureWaterSaturationPressurePa(t));
    const henryGPa = (1e-9 * partialPressure) / (dissolved / water);
    expect(Math.abs(henryGPa / Math.exp(1.5024) - 1)).toBeLessThan(1.5e-2);
  });

  it("the specific heat of sea water is 5 % below that of fresh water: within 0.3 % of the 3991.87 J/(kg K) that TEOS-10 uses for the surface ocean", () => {
    expect(Math.abs(specificHeatJPerKgK(20, 35) / 3991.87 - 1)).toBeLessThan(3e-3);
  });

  it("sea water freezes at -0.274, -0.542, -1.083, -1.922 and -2.212 °C at 5, 10, 20, 35 and 40 g/kg (UNESCO 1983, table of Fofonoff & Millard, from memory)", () => {
    for (const [salinity, printed] of [
      [5, -0.274],
      [10, -0.542],
      [20, -1.083],
      [35, -1.922],
      [40, -2.212],
    ])
      expect(freezingC(salinity)).toBeCloseTo(printed, 3);
  });

  it("agrees with IAPWS latent heat: 2441.7 kJ/kg at 25 °C (IF97 steam table)", () => {
    expect(latentHeatJPerKg(25) / 1000).toBeCloseTo(2441.7, 0);
  });

  it("scales diffusion from 25 to 20 °C as Han & Bartels (1996) measured for oxygen: 0.88 within 3 %", () => {
    // log10 D = -4.410 + 773.8/T - (506.4/T)^2, cm²/s (from memory)
    const measured = (t: number) => 10 ** (-4.41 + 773.8 / t - (506.4 / t) ** 2);
    const ratio = diffusivityM2PerS("oxygen", 20, 0) / diffusivityM2PerS("oxygen", 25, 0);
    expect(Math.abs(ratio / (measured(293.15) / measured(298.15)) - 1)).toBeLessThan(0.03);
    expect(1e4 * measured(298.15)).toBeGreaterThan(0.9 * 1 * diffusivityM2PerS("oxygen", 25, 0));
  });

  it("gives the free-water values of the biofilm literature: about 1.7e-4 m²/d for ammonium at 25 °C", () => {
    expect(biofilmDiffusivityM2PerDay("ammonium", 25, 0, 1)).toBeCloseTo(1.69e-4, 6);
    expect(biofilmDiffusivityM2PerDay("ammonium", 25, 0, 0.8)).toBeCloseTo(0.8 * 1.69e-4, 6);
  });
});
