// A small three-cell aquarium (display, tower, sump) with two films, for tests of the nitrogen model alone.
import { parameterValues } from "../../../models/nitrogen/kinetics/parameters.ts";
import { plainCoefficients } from "../../../models/nitrogen/reactor/coefficients.ts";
import { NitrogenSystem } from "../../../models/nitrogen/reactor/system.ts";
import type { Wiring } from "../../../models/nitrogen/reactor/wiring.ts";
import { carbonateConstants, dicMolPerM3 } from "../../../models/water/carbonate.ts";

export const wiring: Wiring = {
  cells: [
    { id: "display", name: "display" },
    { id: "tower", name: "tower" },
    { id: "sump", name: "sump" },
  ],
  films: [
    { id: "media", name: "tower media", cell: 1, filmM: 3e-4, waterM: 4e-4, boundaryM: 1e-4 },
    { id: "glass", name: "display surfaces", cell: 0, filmM: 2e-4, waterM: 3e-4, boundaryM: 3e-4 },
  ],
  ways: [
    { from: 0, to: 1 },
    { from: 1, to: 2 },
    { from: 2, to: 0 },
  ],
  gasCells: [1],
  guts: [{ id: "fish", cells: [0] }],
};

/** 180 L, 27 °C, pH 7.8, KH 8 unless changed. */
export function smallAquarium(mediaM2 = 2, glassM2 = 1.2, temperatureC = 27) {
  const plain = plainCoefficients(wiring);
  const system = new NitrogenSystem(wiring, parameterValues(), {
    ...plain,
    cells: plain.cells.map((cell, c) => ({
      ...cell,
      volumeM3: [0.14, 0.0015, 0.0385][c],
      temperatureC,
      o2SaturationGPerM3: 7.95,
      co2SaturationMolPerM3: 0.0135,
      o2TransferPerDay: [3, 2000, 4][c],
      co2TransferPerDay: [2.7, 1800, 3.6][c],
    })),
    films: [mediaM2, glassM2].map((areaM2) => ({ areaM2, aobActivity: 1, nobActivity: 1 })),
    flows: plain.flows.map(() => 0.9 * 24),
    gas: [{ ...plain.gas[0], volumeM3: 0.01, exchangePerDay: 200 }],
  });
  const y = new Float64Array(system.size);
  const constants = carbonateConstants(temperatureC, 0);
  for (let c = 0; c < 3; c++) {
    y[system.cellIndex(c, "o2")] = 7.9;
    y[system.cellIndex(c, "alk")] = 2.86;
    y[system.cellIndex(c, "dic")] = dicMolPerM3(constants, 7.8, 2.86, 0);
  }
  for (let f = 0; f < 2; f++) y[system.filmIndex(f, "o2")] = 7.9;
  y[system.gasIndex(0, "o2")] = 1;
  y[system.gasIndex(0, "co2")] = 1;
  return { system, y };
}
