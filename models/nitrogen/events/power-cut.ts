// A power cut, or a return pump that stops.
import type { PowerCut } from "../operation/outage-record.ts";
import { powerCut } from "../operation/power-cut.ts";
import { eventRule } from "./rule.ts";

export const powerCutRule = eventRule<PowerCut>(
  "power cut",
  ({ run, feeding, outage }, event) => {
    powerCut(run, outage, event, feeding.hoursSinceMeal(event.day));
  },
  { inCalendar: false },
);
