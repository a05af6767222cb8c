// A medicine bath that harms bacteria.
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import { duration, share, usually } from "../fields/fields.ts";
import { ASSUMED } from "../text/reasons.ts";
import { eventFormat } from "./event-format.ts";

export const medicine = eventFormat({
  name: "medicine",
  about: "A medicine that harms bacteria.",
  keys: {
    "ammonia oxidisers lost": share({ about: "share of the bacteria killed", within: ["0 %", "100 %"], example: "50 %" }),
    "nitrite oxidisers lost": share({ about: "share of the bacteria killed", within: ["0 %", "100 %"], example: "50 %" }),
    slows: usually(
      share({ about: "share by which the surviving bacteria are slowed", within: ["0 %", "100 %"] }),
      "0 %",
      ASSUMED,
    ),
    for: usually(duration({ about: "for how long the bacteria are slowed", within: ["1 h", "90 days"] }), "5 days", ASSUMED),
  },
  build: (e) => ({
    body: {
      kind: "medicine",
      aobLost: e["ammonia oxidisers lost"],
      nobLost: e["nitrite oxidisers lost"],
      inhibition: e.slows,
      lastsDays: e.for / SECONDS_PER_DAY,
    },
    label: "medicine",
  }),
  inWords: (e) =>
    `Medicine: ${e["ammonia oxidisers lost"] ?? "some"} and ${e["nitrite oxidisers lost"] ?? "some"} of the two kinds of bacteria killed`,
  advice:
    "Test nitrite every day: it rises alone when the nitrite eaters are hit harder. Feed little, change water, and ask a vet about the medicine.",
});
