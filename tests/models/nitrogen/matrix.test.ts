import { describe, expect, it } from "vitest";
import { conserved, imbalance } from "../../../models/nitrogen/kinetics/composition.ts";
import { parameters, parameterValues } from "../../../models/nitrogen/kinetics/parameters.ts";
import { processes } from "../../../models/nitrogen/kinetics/processes.ts";

describe("the process matrix", () => {
  const rows = processes(parameterValues());
  it.each(rows.map((row) => [row.id, row] as const))("%s conserves all quantities", (_, row) => {
    for (const quantity of conserved) expect(imbalance(row.stoichiometry, quantity), quantity).toBeCloseTo(0, 12);
  });

  it("gives the textbook stoichiometry of nitrification", () => {
    const aob = rows.find((row) => row.id === "aob growth")!.stoichiometry;
    const nob = rows.find((row) => row.id === "nob growth")!.stoichiometry;
    // Catabolic demand 3.43 and 1.14 g O2/g N (Hiatt & Grady 2008), minus the oxygen demand retained in new cells.
    expect(-aob.o2! / aob.no2!).toBeCloseTo(47.997 / 14.007 - 0.15, 6);
    expect(-nob.o2! / nob.no3!).toBeCloseTo(15.999 / 14.007 - 0.05 * (1 + (0.086 * 47.997) / 14.007), 6);
    // 2 eq of alkalinity per mol N in the first step only: 7.14 g CaCO3 per g N (textbook).
    expect(-aob.alk! / aob.no2!).toBeCloseTo(2 / 14.007 + (0.086 * 0.15) / 14.007, 6);
    // The second step makes no acid; the little alkalinity that it returns corresponds to the nitrite that cells assimilate.
    expect(nob.alk! / nob.no3!).toBeCloseTo((0.086 * 0.05) / 14.007, 6);
  });

  it("gives the textbook electron balance of denitrification: 1.14 g COD reduce 1 g N of nitrate to nitrite, 1.71 that of nitrite to gas, at a yield of 0.54 (ASM3)", () => {
    const of = (id: string) => rows.find((row) => row.id === `${id} reduction in the film`)!.stoichiometry;
    const [no3, no2] = [of("no3"), of("no2")];
    expect(-no3.ss! / no3.het!).toBeCloseTo(1 / 0.54, 9);
    expect((-no3.ss! - no3.het!) / -no3.no3!).toBeCloseTo(15.999 / 14.007, 6);
    expect((-no2.ss! - no2.het!) / -no2.no2!).toBeCloseTo((0.75 * 31.998) / 14.007, 6);
    // Aerobic growth keeps 0.63 of the COD (ASM2d), and slow ammonia oxidisers 0.07 g COD of each g N.
    const het = rows.find((row) => row.id === "het growth")!.stoichiometry;
    expect(-het.ss! / het.het!).toBeCloseTo(1 / 0.63, 9);
    const sao = rows.find((row) => row.id === "sao growth")!.stoichiometry;
    expect(sao.no2! / sao.sao!).toBeCloseTo(1 / 0.07, 9);
  });

  it("plants take 6.6 mol of carbon with each of nitrogen, as algae do (Redfield's 106 to 16)", () => {
    const row = rows.find(({ id }) => id === "plant ammonia")!.stoichiometry;
    expect((-row.dic! * 14.007) / row.plant! / (106 / 16)).toBeCloseTo(1, 1);
    expect((row.o2! / row.plant!) * 14.007).toBeGreaterThan(32 * 6.4);
    expect((row.o2! / row.plant!) * 14.007).toBeLessThan(32 * 6.9);
  });

  it("has for every parameter a unique symbol, a unit, a source and a range that contains its value", () => {
    const symbols = Object.values(parameters).map(({ symbol }) => symbol);
    expect(new Set(symbols).size).toBe(symbols.length);
    for (const [id, p] of Object.entries(parameters)) {
      expect(p.source.length, id).toBeGreaterThan(8);
      expect(p.unit.length, id).toBeGreaterThan(0);
      expect(p.value, id).toBeGreaterThanOrEqual(p.min);
      expect(p.value, id).toBeLessThanOrEqual(p.max);
    }
  });
});
