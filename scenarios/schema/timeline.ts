// Scenario format of planned actions and events.
import * as z from "zod";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import {
  day,
  derived,
  duration,
  flow,
  mass,
  massPerDay,
  oneOf,
  section,
  share,
  temperature,
  usually,
  volume,
  words,
  yesNo,
} from "./fields.ts";
import { foodPerDay } from "./life.ts";
import { ammonia, chloride, kh, nitrite, tapFields } from "./water.ts";

/** Strength of an air stone. */
export const AIR_STONES = ["none", "gentle", "strong"] as const;

const repeat = {
  at: day("day of the first time"),
  every: duration({ about: "repeat after", within: ["1 h", "3660 days"], example: "7 days" }).optional(),
  until: day("day of the last repeat, at the latest").optional(),
  label: words("what the chart says", 80, false, "holiday").optional(),
};
const event = <Name extends string, Shape extends z.core.$ZodLooseShape>(name: Name, about: string, shape: Shape) =>
  section(about, { do: z.literal(name, { error: `write ${name}` }), ...repeat, ...shape });

const bottle = usually(
  oneOf(["ammonium salt", "ammonia solution"], "what is in the bottle: a solution brings alkalinity of its own, a salt does not"),
  "ammonia solution",
  COMMON,
);
const onlyBelow = {
  "only below ammonia": ammonia("skip the dose unless ammonia is below this").optional(),
  "only below nitrite": nitrite("skip the dose unless nitrite is below this").optional(),
};
const tower = words("name of the tower or closed filter; all when left out", 40, false, "tower").optional();
export const outageFields = {
  for: usually(duration({ about: "how long", within: ["10 s", "60 days"], usual: ["20 s", "5 days"] }), "4 h", ASSUMED),
  "pump only": usually(
    yesNo("only the return pump is off; heater and air pump still run"),
    false,
    "a power cut stops everything",
  ),
  "pump stuck": duration({
    about: "for how long the return pump hums without turning after the power is back",
    within: ["1 min", "14 days"],
    example: "10 min",
  }).optional(),
  "battery air": usually(yesNo("an air stone runs on a battery"), false, "none given"),
  "battery air flow": flow({ about: "air flow of that pump", within: ["5 L/h", "5000 L/h"], example: "100 L/h" }).optional(),
  "stir every": duration({
    about: "how often somebody stirs the tank or pours water from a jug",
    within: ["1 min", "7 days"],
    example: "1 h",
  }).optional(),
  "mist every": duration({ about: "how often somebody wets the media", within: ["1 min", "7 days"], example: "2 h" }).optional(),
  "room temperature": temperature({
    about: "the room without heating",
    within: ["-20 C", "50 C"],
    example: "15 C",
  }).optional(),
  "room humidity": share({ about: "the room without heating", within: ["1 %", "100 %"], example: "40 %" }).optional(),
  "tower open": usually(yesNo("the tower stands open to the room"), false, "it stays closed"),
  "fed meanwhile": usually(yesNo("the animals are fed all the same"), false, "nobody feeds in a power cut"),
  "closed filter": derived(
    oneOf(
      ["restarted", "rinsed first", "left off"],
      "what is done with closed filters when the power is back: they run on with the water that stood in them, they are opened and rinsed before, or they stay off",
    ),
    "restarted: plugged in, it starts by itself",
  ),
};

const EVENTS = [
  event("dose ammonia", "Ammonia from a bottle.", {
    bottle,
    to: ammonia("level to which it is raised").optional(),
    add: ammonia("how much it rises").optional(),
    volume: volume({
      about: "volume taken from a bottle whose strength is given",
      within: ["0.1 mL", "100 L"],
      example: "15 mL",
    }).optional(),
    strength: share({
      about: "mass of ammonia, or of ammonium chloride, in the mass of the bottle's contents",
      within: ["0.1 %", "40 %"],
      example: "10 %",
    }).optional(),
    mass: mass({
      about: "grams of ammonium chloride, for a salt by the spoon",
      within: ["0.01 g", "10 kg"],
      example: "2 g",
    }).optional(),
    ...onlyBelow,
  }),
  event("dose nitrite", "Nitrite from a bottle.", {
    to: nitrite("level to which it is raised").optional(),
    add: nitrite("how much it rises").optional(),
    ...onlyBelow,
  }),
  event("add bicarbonate", "Bicarbonate to raise the alkalinity.", {
    to: kh("level to which it is raised").optional(),
    add: kh("how much it rises").optional(),
    mass: mass({ about: "grams of sodium bicarbonate", within: ["0.1 g", "50 kg"], example: "10 g" }).optional(),
  }),
  event("add chloride", "Salt, counted as chloride.", {
    to: chloride("level to which it is raised").optional(),
    add: chloride("how much it rises").optional(),
  }),
  event("feed", "A change of the feeding plan.", {
    group: words("name of the group; all when left out", 60, false, "tetras").optional(),
    plan: usually(
      share({ about: "share of the planned food from now on; 0 % is a fast", within: ["0 %", "5000 %"] }),
      "100 %",
      "as planned",
    ),
    extra: usually(foodPerDay("extra food that nobody eats, until the next feed event", "5 g/day"), "0 g/day", "none given"),
  }),
  event("water change", "A water change: part of the water is replaced from the tap.", {
    share: share({ about: "share of all the water", within: ["0.1 %", "100 %"], usual: ["1 %", "60 %"], example: "30 %" }),
    tap: section("Water that differs from the tap.", tapFields).optional(),
  }),
  event("rinse media", "Media rinsed.", {
    tower,
    lost: share({ about: "share of the bacteria on them that is lost", within: ["0 %", "100 %"] }),
  }),
  event("replace media", "Media replaced by new.", {
    tower,
    share: share({ about: "share of the media", within: ["1 %", "100 %"], example: "50 %" }),
  }),
  event("medicine", "A medicine that harms bacteria.", {
    "ammonia oxidisers lost": share({ about: "share of the bacteria killed", within: ["0 %", "100 %"], example: "50 %" }),
    "nitrite oxidisers lost": share({ about: "share of the bacteria killed", within: ["0 %", "100 %"], example: "50 %" }),
    slows: usually(
      share({ about: "share by which the surviving bacteria are slowed", within: ["0 %", "100 %"] }),
      "0 %",
      ASSUMED,
    ),
    for: usually(duration({ about: "for how long the bacteria are slowed", within: ["1 h", "90 days"] }), "5 days", ASSUMED),
  }),
  event("death", "A dead animal that nobody finds.", {
    mass: mass({ about: "mass of the body", within: ["0.01 g", "50 kg"], example: "150 g" }),
    found: day("when it is taken out").optional(),
  }),
  event("power cut", "No power.", outageFields),
  event("wetting", "The spread of water over the media changes.", {
    tower,
    wetted: share({
      about: "wetted share of the media from now on; computed when left out",
      within: ["1 %", "100 %"],
      example: "40 %",
    }).optional(),
  }),
  event("pad clogs", "The prefilter clogs.", {
    blinded: share({ about: "clogged share", within: ["0 %", "100 %"], example: "70 %" }),
  }),
  event("change pad", "A new prefilter pad.", {}),
  event("siphon sediment", "Dirt siphoned out of the sump.", {}),
  event("lid", "The tower's lid.", { state: oneOf(["open", "vented", "sealed"], "how air reaches the media") }),
  event("air stone", "An air stone in the tank, turned on, up or off.", {
    strength: oneOf(AIR_STONES, "how strongly it bubbles from now on"),
  }),
  event("temperature", "The thermostat is set to another temperature.", {
    to: temperature({ about: "new set point", within: ["2 C", "38 C"], usual: ["16 C", "30 C"] }),
  }),
  event("weather", "Hot or cold weather: the room for some days. The water follows, as heater, pump and evaporation let it.", {
    room: temperature({ about: "the room in the warmest hour of the day", within: ["-20 C", "50 C"], example: "34 C" }),
    night: derived(
      temperature({ about: "the room in the coldest hour of the night", within: ["-20 C", "50 C"], example: "26 C" }),
      "as by day",
    ),
    for: duration({ about: "how long; to the end when left out", within: ["1 h", "3660 days"], example: "5 days" }).optional(),
  }),
  event("plants", "Plants put in or taken out.", {
    uptake: massPerDay({
      about: "nitrogen taken up in a day by all plants",
      within: ["0 g/day", "1000 g/day"],
      example: "0.2 g/day",
    }),
  }),
] as const;

/** The words allowed after `do:`. */
export const EVENT_NAMES: readonly string[] = EVENTS.map((e) => e.shape.do.value);

export const timelineEvent = z
  .discriminatedUnion("do", EVENTS, {
    error: (issue) =>
      issue.code === "invalid_union"
        ? `write one of ${EVENT_NAMES.join(", ")}`
        : "write an event here, for example { at: day 7, do: water change, share: 30 % }",
  })
  .meta({ description: "an event", example: "{ at: day 7, do: water change, share: 30 % }" });

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
