// Scenario format of a fishless cycle.
import { day, duration, section, usually, yesNo } from "../fields/fields.ts";
import { ammonia, nitrite } from "../fields/tap-water.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { bottle } from "../timeline/dose.ts";

export const cycle = section("A run-in without animals, on repeated doses of ammonia.", {
  dose: usually(ammonia("level to which ammonia is raised"), "3 mg/L as NH3", COMMON),
  bottle,
  every: usually(duration({ about: "how often you test, and dose if needed", within: ["6 h", "30 days"] }), "1 day", COMMON),
  "only below ammonia": usually(ammonia("skip the dose unless ammonia is below this"), "0.25 mg/L as NH3", COMMON),
  "only below nitrite": usually(nitrite("skip the dose unless nitrite is below this"), "1 mg/L as NO2", COMMON),
  always: usually(yesNo("dose whatever the kit reads"), false, "re-dosing only when cleared keeps nitrite lower"),
  from: usually(day("first dose"), "day 0", ASSUMED),
  until: day("day after which no dose is given").optional(),
});
