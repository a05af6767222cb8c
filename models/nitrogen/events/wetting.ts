// The water spreads over another share of a tower's media from now on.
import { eventRule } from "./rule.ts";

export interface Wetting {
  readonly kind: "wetting";
  /** Null for all towers. */
  readonly tower: string | null;
  /** Null for the share that follows from the distribution. */
  readonly wettedShare: number | null;
}

export const wettingRule = eventRule<Wetting>(
  "wetting",
  ({ run }, { tower, wettedShare }) => {
    const { towers } = run.aquarium.rig;
    const { wettedShare: before } = run.operating;
    run.wet(towers.map(({ id }, t) => (tower === null || tower === id ? wettedShare : before[t])));
  },
  { isShock: () => true, inCalendar: false },
);
