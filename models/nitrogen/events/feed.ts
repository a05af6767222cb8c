// A change of the feeding plan.
import { eventRule } from "./rule.ts";

export interface Feed {
  readonly kind: "feed";
  /** Id of the group; null for all. */
  readonly group: string | null;
  /** Factor on the planned food of the group from now on. */
  readonly factor: number;
  /** Additional food that nobody eats, until the next feed event [g/d]. */
  readonly extraGPerDay: number;
}

export const feedRule = eventRule<Feed>(
  "feed",
  ({ feeding }, { group, factor, extraGPerDay }) => {
    feeding.changePlan(group, factor, extraGPerDay);
  },
  { inCalendar: false },
);
