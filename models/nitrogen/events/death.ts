// A dead animal that decomposes until somebody finds it.
import { CARCASS_NITROGEN_SHARE } from "../../life/excretion.ts";
import { eventRule } from "./rule.ts";

export interface Death {
  readonly kind: "death";
  readonly massG: number;
  /** Day on which it is removed; null when nobody finds it. */
  readonly foundDay: number | null;
}

export const deathRule = eventRule<Death>(
  "death",
  ({ run }, { massG, foundDay }) => {
    const remains = run.aquarium.layout.gutIndex(1, 0);
    run.book("dead animals", (y) => {
      y[remains] += massG * CARCASS_NITROGEN_SHARE;
    });
    if (foundDay === null) return;
    run.eventQueue.at(foundDay, () => {
      run.book("dead animals taken out", (y) => {
        y[remains] = 0;
      });
      run.mark(foundDay, "death", "dead animal found and taken out");
    });
  },
  { isShock: () => true, inCalendar: false },
);
