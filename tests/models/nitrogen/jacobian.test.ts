import { expect, it } from "vitest";
import type { CellCoefficients } from "../../../models/nitrogen/reactor/coefficients.ts";
import { checkJacobian } from "../../../sim/integrators/jacobian-check.ts";
import { smallAquarium } from "./rigs.ts";

/**
 * All coefficients of a cell with non-zero values. `Required` without a spread makes a new coefficient a type error
 * until it has its value here.
 */
const atWork = ({ volumeM3, temperatureC, o2SaturationGPerM3, co2SaturationMolPerM3 }: CellCoefficients): CellCoefficients => ({
  volumeM3,
  temperatureC,
  o2SaturationGPerM3,
  co2SaturationMolPerM3,
  o2TransferPerDay: 5,
  co2TransferPerDay: 4,
  nh3TransferPerDay: 1.5,
  respirationGPerM3Day: 3,
  excretionGNPerM3Day: 0.2,
  plantUptakeGNPerM3Day: 0.5,
  settlingPerDay: 2,
  skimmingPerDay: 3,
  captureShare: 0.4,
});

/**
 * An aquarium in which every process has a rate, and random states of it: positive, or with bacterial substrates
 * slightly below zero.
 */
function aquarium() {
  const { system, y } = smallAquarium();
  const { coefficients } = system;
  system.setCoefficients({
    ...coefficients,
    cells: coefficients.cells.map(atWork),
    films: coefficients.films.map(({ areaM2 }) => ({ areaM2, aobActivity: 0.7, nobActivity: 0.6 })),
    salinityGPerKg: 12,
  });
  let seed = 1;
  const random = () => {
    seed = (seed * 16807) % 2147483647;
    return seed / 2147483647;
  };
  const state = (belowZero: (label: string) => boolean) =>
    y.map((value, i) => {
      if (i >= system.endIndex("n2")) return 0;
      const size = (value || 0.3) * (0.2 + 2 * random());
      return belowZero(system.labels[i]) && random() < 0.5 ? -0.02 * size : size;
    });
  return { system, state };
}

it("has the exact Jacobian at all states, for every process, flow and film", () => {
  const { system, state } = aquarium();
  for (let trial = 0; trial < 12; trial++) {
    const check = checkJacobian(
      system,
      0,
      state(() => false),
      1,
    );
    expect(check.worst, check.message).toBeLessThan(2e-5);
  }
});

it("also has it where a step has carried a component slightly below zero", () => {
  const { system, state } = aquarium();
  for (let trial = 0; trial < 12; trial++) {
    const check = checkJacobian(
      system,
      0,
      // Except the ammonia of a cell: the pH counts a negative value as zero, and its derivative does not follow that corner.
      state((label) => /^(no2|no3|o2|ss|xs|xd|xh|aob|sao|nob|sno|het) /.test(label) || /^tan in the film/.test(label)),
      1e-2,
    );
    expect(check.worst, check.message).toBeLessThan(2e-5);
  }
});

it("is tested with a rate on every process", () => {
  const { system, state } = aquarium();
  const rates = system.processRates(state(() => false));
  for (const { id } of system.rows) expect(rates.get(id), id).toBeGreaterThan(0);
});
