// Switches the foam fractionator off, as before a medicine that it would remove, or on again.
import { eventRule } from "./rule.ts";

export interface FoamFractionator {
  readonly kind: "foam fractionator";
  readonly on: boolean;
}

export const foamFractionatorRule = eventRule<FoamFractionator>("foam fractionator", ({ run }, { on }) => {
  run.adjust(
    "foam fractionator",
    on ? null : (now) => ({ ...now, cells: now.cells.map((cell) => ({ ...cell, skimmingPerDay: 0 })) }),
  );
});
