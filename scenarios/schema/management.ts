// Scenario format of the animals and plants, the timeline and the questions.

import {
  anyNumber,
  day,
  derived,
  duration,
  energy,
  flow,
  length,
  list,
  number,
  oneOf,
  orNone,
  power,
  section,
  share,
  usually,
  words,
} from "../fields/fields.ts";
import { ammonia, kh, ph } from "../fields/tap-water.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { AIR_STONES } from "../timeline/air-stone.ts";
import { timelineEvent } from "../timeline/all.ts";
import { outageFields } from "../timeline/power-cut.ts";
import { cycle } from "./cycle.ts";
import { food, group, plants, seed } from "./life.ts";
import { uncertain } from "./uncertain.ts";
import { kit, tap, water } from "./water.ts";

const ask = section("What must be proved before animals come.", {
  dose: usually(ammonia("the filter must clear this dose"), "2 mg/L as NH3", COMMON),
  within: usually(duration({ about: "time within which it must be cleared", within: ["1 h", "7 days"] }), "24 h", COMMON),
  times: usually(number({ about: "how many times in a row", within: [1, 10], whole: true }), 2, COMMON),
});

const battery = section("A battery for power cuts.", {
  capacity: energy({ about: "energy on its label", within: ["1 Wh", "100000 Wh"] }),
  "air pump": usually(power({ about: "power of the air pump that it may run", within: ["0 W", "500 W"] }), "3 W", ASSUMED),
});

const reading = section("What the kits showed, as printed on their scales.", {
  at: day("when"),
  ammonia: number({ about: "the reading in mg/L", within: [0, 1000], example: 0.5 }).optional(),
  nitrite: number({ about: "the reading in mg/L", within: [0, 1000], example: 1 }).optional(),
  nitrate: number({ about: "the reading in mg/L", within: [0, 5000], example: 20 }).optional(),
  ph: ph("the reading").optional(),
  kh: kh("the reading").optional(),
});

const fractionator = section("A foam fractionator.", {
  flow: flow({ about: "flow through it", within: ["1 L/h", "100000 L/h"] }),
  takes: usually(
    share({ about: "share of the fine solids it takes out of that flow", within: ["0 %", "100 %"] }),
    "20 %",
    ASSUMED,
  ),
});

const neglect = section("Weeks in which nobody looks after the tank; this affects the water levels.", {
  for: usually(duration({ about: "how long", within: ["1 day", "365 days"] }), "60 days", ASSUMED),
  weir: usually(
    share({ about: "share of its opening that the overflow's edge loses in a week", within: ["0 %", "90 %"] }),
    "10 %",
    ASSUMED,
  ),
  pad: usually(
    share({ about: "share of what is open that a filter pad loses in a week", within: ["0 %", "90 %"] }),
    "20 %",
    ASSUMED,
  ),
  "top off": usually(
    oneOf(["works", "stuck off", "stuck on"], "what the automatic top-off does meanwhile, where there is one"),
    "works",
    ASSUMED,
  ),
});

const hose = section("The hoses of a water change, for the levels: one that takes water out, one that fills.", {
  in: derived(words("name of the tank or sump chamber they hang in", 40, false, "tank"), "the first tank"),
  amount: usually(share({ about: "share of all water that is changed", within: ["1 %", "90 %"] }), "20 %", COMMON),
  depth: derived(
    length({ about: "depth of the draining end below the running water", within: ["5 mm", "3 m"], example: "200 mm" }),
    "half the water's depth",
  ),
  bore: usually(length({ about: "inner diameter of the draining hose", within: ["4 mm", "50 mm"] }), "12 mm", COMMON),
  length: usually(length({ about: "its length", within: ["0.5 m", "50 m"] }), "4 m", ASSUMED),
  "down to": usually(
    length({ about: "height of its far end above the sump's floor", within: ["0 mm", "5 m"] }),
    "0 mm",
    "a drain or a bucket on the floor",
  ),
  pump: flow({
    about: "of a pump in the draining hose; left out: it siphons",
    within: ["20 L/h", "50000 L/h"],
    example: "1000 L/h",
  }).optional(),
  fill: usually(flow({ about: "flow of the filling hose", within: ["10 L/h", "20000 L/h"] }), "600 L/h", COMMON),
  return: usually(oneOf(["off", "running"], "what the return pump does meanwhile"), "off", COMMON),
});

/** All keys for animals, plants and the timeline. */
export const managementFields = {
  kit: usually(kit, {}, "not given"),
  water: usually(water, {}, "not given"),
  tap: usually(tap, {}, "not given"),
  food: food.optional(),
  stock: usually(anyNumber(group, "the animals, by group", 60), [], "none given"),
  cycle: derived(
    orNone(cycle, "a run-in without animals"),
    "with a 3 mg/L dose when neither stock nor timeline is given; else none",
  ),
  plants: usually(plants, "none", "none given"),
  seed: usually(seed, "none", "none given"),
  heater: derived(
    power({ about: "power of the heaters", within: ["0 W", "20000 W"], example: "200 W" }),
    "1 W for each litre of the tank",
  ),
  lamps: usually(
    power({ about: "mean heat of lamps and other appliances that ends in the water", within: ["0 W", "5000 W"] }),
    "0 W",
    "none given",
  ),
  "air stone": usually(oneOf(AIR_STONES, "an air stone in the tank"), "none", "none given"),
  "foam fractionator": usually(orNone(fractionator, "foam fractionator"), "none", "none given"),
  timeline: usually(list(timelineEvent, "what is done and what happens", 500), [], "none given"),
  days: usually(number({ about: "days to compute", within: [1, 3660], usual: [7, 730], whole: true }), 60, ASSUMED),
  ask: usually(ask, {}, COMMON),
  battery: usually(orNone(battery, "battery"), "none", "none given"),
  readings: usually(list(reading, "your own readings, drawn on the chart", 1000), [], "none given"),
  uncertain: usually(uncertain, {}, "each input has its usual range"),
  neglect: usually(orNone(neglect, "weeks in which nobody looks after the tank"), "none", "not asked"),
  hose: usually(orNone(hose, "hoses of a water change"), "none", "not asked"),
  "power cut": usually(
    section("The power cut that is always tried.", {
      ...outageFields,
      times: usually(
        number({ about: "how many cuts follow one another; this affects the water levels", within: [1, 30], whole: true }),
        1,
        ASSUMED,
      ),
      pause: usually(
        duration({ about: "how long the power is back between two cuts in a row", within: ["5 s", "6 h"] }),
        "60 s",
        ASSUMED,
      ),
    }),
    {},
    "a power cut is always tried",
  ),
};
