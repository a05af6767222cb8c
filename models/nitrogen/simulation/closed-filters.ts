// What is done with closed filters that stood still: they start again with the water that is in them, are opened and rinsed, or stay off.

import type { ClosedFilterAfter } from "../management.ts";
import { inventory } from "../reactor/inventory.ts";
import { dilute, rinse, soak, tapNitrogenGPerM3 } from "../tank/operations.ts";
import { depositSolids } from "./pads-and-sediment.ts";
import type { RunState } from "./run-state.ts";

/** Of what lies in a closed filter, and of the film on its media: what a rinse in tank water leaves (modelling assumption). */
export const SOLIDS_LEFT = 0.1;
const FILM_LEFT = 0.9;

/** Within `change`, when the power is back. */
export function startClosedFilters(runState: RunState, how: ClosedFilterAfter): void {
  const { operating, aquarium } = runState;
  operating.closedOff.fill(how === "left off");
  if (how === "rinsed first") for (const n of aquarium.closedCells.keys()) empty(runState, n);
}

/**
 * Pours away the water of a closed filter with most of its dirt and rinses its media gently. It is filled again from its tank, and the tank from the
 * tap: to the balance the same as filling it from the tap.
 */
function empty(runState: RunState, n: number): void {
  const { y, ledger, aquarium } = runState;
  const { system, closedCells, filmOf, management } = aquarium;
  const cell = closedCells[n];
  depositSolids(runState, "closed filters rinsed", [cell], SOLIDS_LEFT);
  const before = inventory(system, y).total;
  rinse(system, y, filmOf.closed[n], 1 - FILM_LEFT);
  dilute(system, y, cell, 1, management.tap);
  soak(system, y, filmOf.closed[n]);
  const broughtIn = system.conditions.cells[cell].volumeM3 * tapNitrogenGPerM3(management.tap);
  ledger.add("tap water", broughtIn);
  ledger.add("closed filters rinsed", inventory(system, y).total - before - broughtIn);
}
