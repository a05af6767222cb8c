// The lid of every tower.
import type { Tower } from "../../rig.ts";
import { eventRule } from "./rule.ts";

export interface Lid {
  readonly kind: "lid";
  readonly state: Tower["lid"];
}

export const lidRule = eventRule<Lid>(
  "lid",
  ({ run }, { state }) => {
    run.operate({ lid: run.operating.lid.map(() => state) });
  },
  { isShock: ({ state }) => state === "sealed", inCalendar: false },
);
