// Siphons settled solids out of all vessels except towers and closed filters.
import { removeSolids } from "../operation/pads-and-sediment.ts";
import { eventRule } from "./rule.ts";

export interface SiphonSediment {
  readonly kind: "siphon sediment";
}

/** Share of the solids that remains after siphoning (modelling assumption). */
const LEFT_BY_SIPHON = 0.2;

export const siphonSedimentRule = eventRule<SiphonSediment>("siphon sediment", ({ run }) => {
  const { cells, towerCells, closedCells } = run.aquarium;
  const open = [...cells.keys()].filter((c) => !towerCells.includes(c) && !closedCells.includes(c));
  removeSolids(run, "sediment siphoned", open, LEFT_BY_SIPHON);
});
