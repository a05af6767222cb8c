// Organic carbon and nitrification: heterotrophs compete with nitrifiers for oxygen and space.
import { describe, expect, it } from "vitest";
import { guilds } from "../../../models/nitrogen/kinetics/guilds.ts";
import { parameterValues } from "../../../models/nitrogen/kinetics/parameters.ts";
import { NitrogenSystem } from "../../../models/nitrogen/reactor/system.ts";
import { carbonateConstants, dicMolPerM3 } from "../../../models/water/carbonate.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { compared } from "../../validation/compared.ts";

const COD_PER_G_CARBON = 32 / 12;

interface Feed {
  readonly tanGPerM3: number;
  /** Ratio of organic carbon to ammonia nitrogen [g C/g N]. */
  readonly carbonPerNitrogen: number;
  readonly loadGNPerM2Day: number;
  readonly temperatureC: number;
  readonly salinityGPerKg: number;
}

/**
 * Ammonia that one square metre of film oxidises [g N/d] in a stirred, aerated reactor, in a steady state under a feed
 * of ammonia and dissolved organics. The experiments report the decrease of ammonia; here the organics contain nitrogen
 * (sucrose does not), so the oxidation itself is compared.
 */
function oxidised({ tanGPerM3, carbonPerNitrogen, loadGNPerM2Day, temperatureC, salinityGPerKg }: Feed): number {
  const system = new NitrogenSystem(
    {
      cells: ["reactor", "feed", "waste"].map((id) => ({ id, name: id })),
      films: [{ id: "film", name: "film", cell: 0, filmM: 3e-4, waterM: 3e-4, boundaryM: 5e-5 }],
      ways: [
        { from: 1, to: 0 },
        { from: 0, to: 2 },
      ],
      gasCells: [],
      guts: [],
    },
    parameterValues(),
  );
  const oxygen = 7;
  const plain = system.coefficients;
  const reactor = {
    volumeM3: 0.01,
    o2TransferPerDay: 1e5,
    o2SaturationGPerM3: oxygen,
    co2TransferPerDay: 2000,
    co2SaturationMolPerM3: 0.02,
  };
  system.setCoefficients({
    ...plain,
    cells: plain.cells.map((cell, c) => ({ ...cell, temperatureC, ...(c === 0 ? reactor : { volumeM3: 1e9 }) })),
    flows: plain.flows.map(() => loadGNPerM2Day / tanGPerM3),
    salinityGPerKg,
  });
  const y = new Float64Array(system.size);
  const alk = 3;
  const water = {
    tan: tanGPerM3,
    alk,
    dic: dicMolPerM3(carbonateConstants(temperatureC, salinityGPerKg), 7.8, alk, tanGPerM3 / 14.007),
    o2: oxygen,
    ss: tanGPerM3 * carbonPerNitrogen * COD_PER_G_CARBON,
    no3: 5,
  };
  for (const [name, value] of Object.entries(water) as [keyof typeof water, number][])
    for (const cell of [0, 1]) y[system.cellIndex(cell, name)] = value;
  for (const guild of guilds) y[system.filmIndex(0, guild)] = 0.01;
  const outcome = new StiffSolver(system, { tolerances: { relative: 1e-5, absolute: 1e-9 } }).advance(0, 300, y);
  if (outcome.status !== "finished") throw new Error(JSON.stringify(outcome));
  return system.ammoniaOxidation(y, 0);
}

const lossesAt = (feed: Omit<Feed, "carbonPerNitrogen">, ratios: readonly number[]): number[] => {
  const bare = oxidised({ ...feed, carbonPerNitrogen: 0 });
  const losses = ratios.map((carbonPerNitrogen) => 1 - oxidised({ ...feed, carbonPerNitrogen }) / bare);
  console.info(
    `C/N ${ratios.join(", ")}: ${losses.map((loss) => `-${(100 * loss).toFixed(0)} %`).join(", ")} (bare ${bare.toFixed(2)} g N/m2/d)`,
  );
  return losses;
};

describe("organic carbon reduces nitrification", () => {
  it("by 30 % at C/N 0.5 and half above, at 2 g N/m3 (Michaud et al. 2006; the two parameters of the cover are fitted to it)", () => {
    const [half, one, two, four] = lossesAt(
      { tanGPerM3: 2, loadGNPerM2Day: 0.6, temperatureC: 20, salinityGPerKg: 35 },
      [0.5, 1, 2, 4],
    );
    const michaud = {
      set: "Organic carbon, share of nitrification lost",
      unit: "-",
      source: "Michaud et al. (2006); two numbers are set on it",
      kind: "measured",
    } as const;
    for (const [ratio, outside, model] of [
      [0.5, 0.3, half],
      [1, 0.5, one],
      [2, 0.5, two],
      [4, 0.5, four],
    ])
      compared({ ...michaud, what: `sea, C/N ${ratio}`, outside, model });
    expect(half).toBeGreaterThan(0.25);
    expect(half).toBeLessThan(0.37);
    // Published: half at every ratio above 0.5. Disagrees at 4: two thirds, because oxygen also becomes limiting inside the thick film.
    for (const loss of [one, two]) {
      expect(loss).toBeGreaterThan(0.4);
      expect(loss).toBeLessThan(0.62);
    }
    expect(four).toBeGreaterThan(0.62);
    expect(four).toBeLessThan(0.68);
  });

  it("by about 70 % at C/N 1 to 2, and less for each further gram (Zhu & Chen 2001; nothing is fitted to it)", () => {
    const [half, one, two, four] = lossesAt(
      { tanGPerM3: 10, loadGNPerM2Day: 3, temperatureC: 22, salinityGPerKg: 0 },
      [0.5, 1, 2, 4],
    );
    const zhu = {
      set: "Organic carbon, share of nitrification lost",
      unit: "-",
      source: "Zhu & Chen (2001)",
      kind: "measured",
    } as const;
    for (const [ratio, model] of [
      [1, one],
      [2, two],
    ])
      compared({ ...zhu, what: `fresh, C/N ${ratio}`, outside: 0.7, model });
    expect(one).toBeGreaterThan(0.6);
    expect(two).toBeLessThan(0.8);
    expect(half).toBeGreaterThan(one - half);
    expect(one - half).toBeGreaterThan((two - one) / 2);
    expect(two - one).toBeGreaterThan((four - two) / 2);
  });
});
