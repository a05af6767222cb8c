// Prefilter pads that clog or are replaced.
import { changePads, clogPads } from "../operation/pads-and-sediment.ts";
import { eventRule } from "./rule.ts";

export interface PadClogs {
  readonly kind: "pad clogs";
  /** Share of the water that bypasses the pad. */
  readonly blindedShare: number;
}

export interface ChangePad {
  readonly kind: "change pad";
}

/** Share of the solids that remains after a pad is replaced (modelling assumption). */
const LEFT_BY_PAD_CHANGE = 0.1;

export const padClogsRule = eventRule<PadClogs>(
  "pad clogs",
  ({ run }, { blindedShare }) => {
    clogPads(run, blindedShare);
  },
  { isShock: () => true, inCalendar: false },
);

export const changePadRule = eventRule<ChangePad>(
  "change pad",
  ({ run }) => {
    changePads(run, LEFT_BY_PAD_CHANGE);
  },
  { inCalendar: false },
);
