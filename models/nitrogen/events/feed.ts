// A change of the feeding plan.
import { eventRule } from "./rule.ts";

export interface Feed {
  readonly kind: "feed";
  /** Group it is about; null for all. */
  readonly group: string | null;
  /** From now on the group gets its plan times this. */
  readonly factor: number;
  /** Food thrown in that nobody eats, until the next feed event [g/d]. */
  readonly extraGPerDay: number;
}

export const feedRule = eventRule<Feed>(
  "feed",
  ({ feeding }, { group, factor, extraGPerDay }) => {
    feeding.changePlan(group, factor, extraGPerDay);
  },
  { inCalendar: false },
);
