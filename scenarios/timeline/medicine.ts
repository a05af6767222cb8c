// A medicine bath that harms bacteria.
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import { duration, share, usually } from "../fields/fields.ts";
import { ASSUMED } from "../text/reasons.ts";
import { eventFormat } from "./event-format.ts";

export const medicine = eventFormat(
  "medicine",
  "A medicine that harms bacteria.",
  {
    "ammonia oxidisers lost": share({ about: "share of the bacteria killed", within: ["0 %", "100 %"], example: "50 %" }),
    "nitrite oxidisers lost": share({ about: "share of the bacteria killed", within: ["0 %", "100 %"], example: "50 %" }),
    slows: usually(
      share({ about: "share by which the surviving bacteria are slowed", within: ["0 %", "100 %"] }),
      "0 %",
      ASSUMED,
    ),
    for: usually(duration({ about: "for how long the bacteria are slowed", within: ["1 h", "90 days"] }), "5 days", ASSUMED),
  },
  (e) => ({
    body: {
      kind: "medicine",
      aobLost: e["ammonia oxidisers lost"],
      nobLost: e["nitrite oxidisers lost"],
      inhibition: e.slows,
      lastsDays: e.for / SECONDS_PER_DAY,
    },
    label: "medicine",
  }),
);
