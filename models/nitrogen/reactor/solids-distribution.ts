// Distribution of suspended waste over the places where it settles.
import { solveDense } from "../../../sim/linear-algebra/dense.ts";
import type { Coefficients } from "./coefficients.ts";
import type { Wiring } from "./wiring.ts";

/**
 * Where suspended waste settles that is released in some cells in proportion to their volume. It moves with the flows
 * until a pad retains it or it settles; the minutes to hours on the way are neglected.
 * @returns the share of each cell, and last the share that a foam fractionator removes; the sum is one
 */
export function restingPlaces({ ways }: Wiring, { cells, flows }: Coefficients, from: readonly number[]): Float64Array {
  const n = cells.length;
  // Balance of suspended waste in each cell, in days of its source: outflow minus inflow from others equals the source.
  const balance = new Float64Array(n * n);
  const afloat = new Float64Array(n);
  const letGoM3 = from.reduce((sum, c) => sum + cells[c].volumeM3, 0);
  for (const c of from) afloat[c] = cells[c].volumeM3 / letGoM3;
  cells.forEach((cell, c) => {
    balance[c * n + c] = cell.settlingPerDay + cell.skimmingPerDay;
  });
  const passingPerDay = ways.map((way, w) => flows[w] / cells[way.from].volumeM3);
  ways.forEach((way, w) => {
    balance[way.from * n + way.from] += passingPerDay[w];
    balance[way.to * n + way.from] -= (1 - cells[way.to].captureShare) * passingPerDay[w];
  });
  // A cell without outflow has no inflow either: a tower while the pump is stopped.
  for (let c = 0; c < n; c++) if (balance[c * n + c] === 0) balance[c * n + c] = 1;
  solveDense(balance, afloat, n, 1);
  const rest = new Float64Array(n + 1);
  cells.forEach((cell, c) => {
    rest[c] += cell.settlingPerDay * afloat[c];
    rest[n] += cell.skimmingPerDay * afloat[c];
  });
  ways.forEach((way, w) => {
    rest[way.to] += cells[way.to].captureShare * passingPerDay[w] * afloat[way.from];
  });
  return rest;
}
