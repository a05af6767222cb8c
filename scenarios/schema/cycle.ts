// Scenario format of a fishless cycle.
import { day, duration, section, usually, yesNo } from "../fields/fields.ts";
import { ammonia, nitrite } from "../fields/tap-water.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { bottle } from "../timeline/dose.ts";

export const cycle = section("A cycle without animals: ammonia from a bottle, again and again.", {
  dose: usually(ammonia("bring ammonia up to this level"), "3 mg/L as NH3", COMMON),
  bottle,
  every: usually(duration({ about: "look and dose this often", within: ["6 h", "30 days"] }), "1 day", COMMON),
  "only below ammonia": usually(ammonia("skip the dose unless ammonia is below this"), "0.25 mg/L as NH3", COMMON),
  "only below nitrite": usually(nitrite("skip the dose unless nitrite is below this"), "1 mg/L as NO2", COMMON),
  always: usually(yesNo("dose whatever the readings"), false, "re-dosing only when cleared keeps nitrite lower"),
  from: usually(day("first dose"), "day 0", ASSUMED),
  until: day("no dose after").optional(),
});
