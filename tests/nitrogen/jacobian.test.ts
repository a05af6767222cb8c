import { expect, it } from "vitest";
import { checkJacobian } from "../../sim/integrators/jacobian-check.ts";
import { smallAquarium } from "./rigs.ts";

it("has the exact Jacobian everywhere, for every process, flow and film", () => {
  const { system, y } = smallAquarium();
  let seed = 1;
  const random = () => {
    seed = (seed * 16807) % 2147483647;
    return seed / 2147483647;
  };
  for (let trial = 0; trial < 12; trial++) {
    const state = y.map((value, i) => (i >= system.endIndex("n2") ? 0 : (value || 0.3) * (0.2 + 2 * random())));
    const live = {
      respirationGPerM3Day: 3,
      plantUptakeGNPerM3Day: 0.5,
      settlingPerDay: 2,
      captureShare: 0.4,
      nh3TransferPerDay: 1.5,
    };
    const { coefficients } = system;
    system.setCoefficients({ ...coefficients, cells: coefficients.cells.map((cell) => ({ ...cell, ...live })) });
    const check = checkJacobian(system, 0, state, 1);
    expect(check.worst, check.message).toBeLessThan(2e-5);
  }
});
