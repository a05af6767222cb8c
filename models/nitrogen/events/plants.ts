// Plants that are added or removed.
import { eventRule } from "./rule.ts";

export interface Plants {
  readonly kind: "plants";
  readonly uptakeGNPerDay: number;
}

export const plantsRule = eventRule<Plants>("plants", ({ run }, { uptakeGNPerDay }) => {
  run.operate({ plantUptakeGNPerDay: uptakeGNPerDay });
});
