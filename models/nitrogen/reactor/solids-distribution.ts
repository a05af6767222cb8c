// Where suspended waste comes to rest.
import { solveDense } from "../../../sim/linear-algebra/dense.ts";
import type { NitrogenSystem } from "./system.ts";

/**
 * Where suspended waste let go in some cells, by their share of the water in them, comes to rest under the present conditions: share for each
 * cell, and last what a foam fractionator lifts out; they sum to one. It rides the flows until a pad catches it or it settles; the minutes to
 * hours on the way are left out.
 */
export function restingPlaces({ wiring, conditions }: NitrogenSystem, from: readonly number[]): Float64Array {
  const { cells, flows } = conditions;
  const n = cells.length;
  // Balance of what is afloat in each cell, in days of its source: what leaves it, less what comes from others, is the source.
  const balance = new Float64Array(n * n);
  const afloat = new Float64Array(n);
  const letGoM3 = from.reduce((sum, c) => sum + cells[c].volumeM3, 0);
  for (const c of from) afloat[c] = cells[c].volumeM3 / letGoM3;
  cells.forEach((cell, c) => {
    balance[c * n + c] = cell.settlingPerDay + cell.skimmingPerDay;
  });
  const passingPerDay = wiring.ways.map((way, w) => flows[w] / cells[way.from].volumeM3);
  wiring.ways.forEach((way, w) => {
    balance[way.from * n + way.from] += passingPerDay[w];
    balance[way.to * n + way.from] -= (1 - cells[way.to].captureShare) * passingPerDay[w];
  });
  // What nothing leaves, nothing enters either: a tower while the pump stands.
  for (let c = 0; c < n; c++) if (balance[c * n + c] === 0) balance[c * n + c] = 1;
  solveDense(balance, afloat, n, 1);
  const rest = new Float64Array(n + 1);
  cells.forEach((cell, c) => {
    rest[c] += cell.settlingPerDay * afloat[c];
    rest[n] += cell.skimmingPerDay * afloat[c];
  });
  wiring.ways.forEach((way, w) => {
    rest[way.to] += cells[way.to].captureShare * passingPerDay[w] * afloat[way.from];
  });
  return rest;
}
