import { describe, expect, it } from "vitest";
import { OXYGEN_GAS_G_PER_MOL } from "../../../models/water/molar-mass.ts";
import {
  oxygenSaturationGarciaGordonGPerM3,
  oxygenSaturationGarciaGordonUmolPerKg,
  oxygenSaturationGPerM3,
  oxygenSaturationInGasGPerM3,
} from "../../../models/water/oxygen.ts";
import { airPressurePa, STANDARD_ATMOSPHERE_PA } from "../../../models/water/pressure.ts";
import { checkReferenceRows } from "../../data/check-rows.ts";
import { input } from "../../data/reference-rows.ts";

/** Molar volume of oxygen at standard temperature and pressure [L/mol], the factor of Garcia & Gordon (1992). */
const OXYGEN_L_PER_MOL_STP = 22.3916;

checkReferenceRows(
  "oxygen_solubility.csv",
  (row) => {
    const t = input(row, "T_C");
    const saturation = (salinity: number, pressurePa: number) => oxygenSaturationGPerM3(t, salinity, pressurePa);
    switch (row.table) {
      case "O2-A": // the temperature of the check value is on the scale of the fit (IPTS-68)
        return (oxygenSaturationGarciaGordonGPerM3(t / 1.00024, input(row, "S")) / OXYGEN_GAS_G_PER_MOL) * OXYGEN_L_PER_MOL_STP;
      case "O2-B":
        return saturation(input(row, "S_g_kg"), 1000 * input(row, "P_kPa"));
      case "O2-C":
        return (saturation(0, STANDARD_ATMOSPHERE_PA) - saturation(35, STANDARD_ATMOSPHERE_PA)) / 35;
      case "O2-D":
      case "O2-E":
        return saturation(input(row, "S"), STANDARD_ATMOSPHERE_PA * input(row, "P_atm"));
      case "O2-F":
        return oxygenSaturationGarciaGordonUmolPerKg(t, input(row, "S"));
      case "O2-G":
        return saturation(input(row, "S"), (STANDARD_ATMOSPHERE_PA / 760) * input(row, "P_mmHg"));
      default:
        throw new Error(`unknown table ${row.table}`);
    }
  },
  0,
);

describe("oxygen saturation", () => {
  it("agrees with the independent fit of Garcia & Gordon (1992) within 0.25 % over 0-40 °C and 0-40 g/kg", () => {
    for (let t = 0; t <= 40; t += 2) {
      for (let s = 0; s <= 40; s += 5) {
        const ratio = oxygenSaturationGPerM3(t, s, STANDARD_ATMOSPHERE_PA) / oxygenSaturationGarciaGordonGPerM3(t, s);
        expect(Math.abs(ratio - 1), `${t} °C, ${s} g/kg`).toBeLessThan(2.5e-3);
      }
    }
  });

  it("falls with altitude in proportion to air pressure: at 3000 m to about 70 % of sea level (ICAO standard atmosphere 70.1 kPa)", () => {
    expect(airPressurePa(0)).toBe(101325);
    expect(airPressurePa(1000)).toBeCloseTo(89875, -1); // ICAO Doc 7488: 89 874.6 Pa
    expect(airPressurePa(3000)).toBeCloseTo(70109, -1); // ICAO Doc 7488: 70 108.5 Pa
    const ratio = oxygenSaturationGPerM3(25, 0, airPressurePa(3000)) / oxygenSaturationGPerM3(25, 0, STANDARD_ATMOSPHERE_PA);
    expect(ratio).toBeGreaterThan(0.67);
    expect(ratio).toBeLessThan(0.7);
  });

  it("follows Henry's law in a headspace: half the oxygen in the gas gives half in the water", () => {
    const air = oxygenSaturationGPerM3(25, 35, STANDARD_ATMOSPHERE_PA);
    expect(oxygenSaturationInGasGPerM3(25, 35, STANDARD_ATMOSPHERE_PA, 0.20946 / 2)).toBeCloseTo(air / 2, 12);
  });
});
