// Changes the wetted share of a tower's media.
import { eventRule } from "./rule.ts";

export interface Wetting {
  readonly kind: "wetting";
  /** Id of the tower; null for all towers. */
  readonly tower: string | null;
  /** The wetted share; null for the one that follows from the distribution. */
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
