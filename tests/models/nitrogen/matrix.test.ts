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
