// Closed filters after a standstill: they restart with their stale water, are opened and rinsed, or stay off.

import type { ClosedFilterAfter } from "../management.ts";
import { inventory } from "../reactor/inventory.ts";
import { dilute, replaceFilmWater, rinse, tapNitrogenGPerM3 } from "../tank/operations.ts";
import { removeSolids } from "./pads-and-sediment.ts";
import type { RunState } from "./run-state.ts";

/**
 * Share of the solids in a closed filter, and of the film on its media, that remains after rinsing in tank water
 * (modelling assumption).
 */
export const SOLIDS_LEFT = 0.1;
const FILM_LEFT = 0.9;

/** Handles closed filters when the power returns. @returns which ones stay off */
export function startClosedFilters(runState: RunState, how: ClosedFilterAfter): boolean[] {
  const { closedCells } = runState.aquarium;
  if (how === "rinsed first") for (const n of closedCells.keys()) empty(runState, n);
  return closedCells.map(() => how === "left off");
}

/**
 * Discards the water of a closed filter with most of its solids and gently rinses its media. The filter is refilled
 * from its tank, and the tank from the tap; for the balance this equals filling it from the tap.
 */
function empty(runState: RunState, n: number): void {
  const { system, y, ledger } = runState;
  const { closedCells, filmOf, management } = runState.aquarium;
  const cell = closedCells[n];
  removeSolids(runState, "closed filters rinsed", [cell], SOLIDS_LEFT);
  const before = inventory(system, y).total;
  runState.alter((state) => {
    rinse(system, state, filmOf.closed[n], 1 - FILM_LEFT);
    dilute(system, state, cell, 1, management.tap);
    replaceFilmWater(system, state, filmOf.closed[n]);
  });
  const broughtIn = system.coefficients.cells[cell].volumeM3 * tapNitrogenGPerM3(management.tap);
  ledger.add("tap water", broughtIn);
  ledger.add("closed filters rinsed", inventory(system, y).total - before - broughtIn);
}
