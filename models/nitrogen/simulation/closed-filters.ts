// What is done with closed filters that stood still: they start again with the water that is in them, are opened and rinsed, or stay off.

import type { ClosedFilterAfter } from "../management.ts";
import { inventory } from "../reactor/inventory.ts";
import { dilute, rinse, soak, tapNitrogenGPerM3 } from "../tank/operations.ts";
import { leaveDirt } from "./pads-and-sediment.ts";
import type { Keeping } from "./run-state.ts";

/** Of what lies in a closed filter, and of the film on its media: what a rinse in tank water leaves (modelling assumption). */
export const DIRT_LEFT = 0.1;
const FILM_LEFT = 0.9;

/** Within `change`, when the power is back. */
export function startClosedFilters(keeping: Keeping, how: ClosedFilterAfter): void {
  const { upkeep, aquarium } = keeping;
  upkeep.closedOff.fill(how === "left off");
  if (how === "rinsed first") for (const n of aquarium.closedCells.keys()) empty(keeping, n);
}

/**
 * Pours away the water of a closed filter with most of its dirt and rinses its media gently. It is filled again from its tank, and the tank from the
 * tap: to the balance the same as filling it from the tap.
 */
function empty(keeping: Keeping, n: number): void {
  const { y, ledger, aquarium } = keeping;
  const { system, closedCells, filmOf, husbandry } = aquarium;
  const cell = closedCells[n];
  leaveDirt(keeping, "closed filters rinsed", [cell], DIRT_LEFT);
  const before = inventory(system, y).total;
  rinse(system, y, filmOf.closed[n], 1 - FILM_LEFT);
  dilute(system, y, cell, 1, husbandry.tap);
  soak(system, y, filmOf.closed[n]);
  const broughtIn = system.conditions.cells[cell].volumeM3 * tapNitrogenGPerM3(husbandry.tap);
  ledger.add("tap water", broughtIn);
  ledger.add("closed filters rinsed", inventory(system, y).total - before - broughtIn);
}
