// Switches or adjusts an air stone in the displays.
import { eventRule } from "./rule.ts";

export interface AirStone {
  readonly kind: "air stone";
  /** Oxygen transfer coefficient that it adds [1/d]; 0 = off. */
  readonly transferPerDay: number;
}

export const airStoneRule = eventRule<AirStone>("air stone", ({ run }, { transferPerDay }) => {
  run.operate({ airStonePerDay: transferPerDay });
});
