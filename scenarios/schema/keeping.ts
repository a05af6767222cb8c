// What lives in the water and what is done to it, as a scenario writes it: water, tap, kit, food, stock, seed, timeline, questions.
import * as z from "zod";
import { AMMONIA_BASES, NITRATE_BASES, NITRITE_BASES } from "../nitrogenBasis.ts";
import {
  alkalinity,
  clock,
  concentration,
  day,
  derived,
  duration,
  flow,
  list,
  mass,
  massPerDay,
  number,
  oneOf,
  orNone,
  power,
  salinity,
  section,
  share,
  temperature,
  usually,
  words,
  yesNo,
} from "./fields.ts";

const COMMON = "common practice, no published source";
const ASSUMED = "modelling assumption";

const kitSteps = (about: string) =>
  list(number({ about: "mg/L as printed", within: [0, 1000] }), about, 20).min(2, { error: "at least two steps" });

const kit = section("What the leaflets of the test kits print.", {
  ammonia: usually(
    oneOf(AMMONIA_BASES, "basis of the ammonia scale"),
    "unknown",
    "not told: both readings are run and the band widened",
  ),
  nitrite: usually(
    oneOf(NITRITE_BASES, "basis of the nitrite scale"),
    "unknown",
    "not told: both readings are run and the band widened",
  ),
  nitrate: usually(
    oneOf(NITRATE_BASES, "basis of the nitrate scale"),
    "unknown",
    "not told: both readings are run and the band widened",
  ),
  "ammonia steps": usually(kitSteps("steps of the ammonia scale, the last is its ceiling"), [0, 0.25, 0.5, 1, 2, 4, 8], COMMON),
  "nitrite steps": usually(kitSteps("steps of the nitrite scale, the last is its ceiling"), [0, 0.25, 0.5, 1, 2, 5], COMMON),
  "nitrate steps": usually(kitSteps("steps of the nitrate scale, the last is its ceiling"), [0, 5, 10, 20, 40, 80, 160], COMMON),
});

const ph = (about: string) => number({ about, within: [3, 11], usual: [6, 8.7] });
const ammonia = (about: string) =>
  concentration("ammonia", { about, within: ["0 mg/L", "200 mg/L"], usual: ["0 mg/L", "10 mg/L"] });
const nitrite = (about: string) =>
  concentration("nitrite", { about, within: ["0 mg/L", "500 mg/L"], usual: ["0 mg/L", "50 mg/L"] });
const nitrate = (about: string) =>
  concentration("nitrate", { about, within: ["0 mg/L", "5000 mg/L"], usual: ["0 mg/L", "300 mg/L"] });
const kh = (about: string) => alkalinity({ about, within: ["0 dKH", "60 dKH"], usual: ["1 dKH", "18 dKH"] });
const chloride = (about: string) => concentration("chloride", { about, within: ["0 mg/L", "25000 mg/L"] });

const tapFields = {
  ph: derived(ph("pH of the tap water after standing, salted if the system is"), "7.6, salted 8.2"),
  kh: derived(kh("alkalinity of the tap water, salted if the system is"), "6 dKH, salted 8 dKH"),
  temperature: derived(temperature({ about: "of the water as it goes in", within: ["0 C", "40 C"] }), "as the tank"),
  ammonia: usually(ammonia("ammonia in the tap water"), "0 mg/L as N", COMMON),
  nitrite: usually(nitrite("nitrite in the tap water"), "0 mg/L as N", COMMON),
  nitrate: usually(nitrate("nitrate in the tap water"), "2 mg/L as N", COMMON),
  chloride: usually(chloride("chloride in the tap water"), "20 mg/L as Cl", COMMON),
  chloramine: usually(
    concentration("chloramine", {
      about: "chloramine in the tap water",
      within: ["0 mg/L", "8 mg/L"],
      usual: ["0 mg/L", "4 mg/L"],
    }),
    "0 mg/L as Cl2",
    "none told",
  ),
  conditioner: usually(yesNo("chlorine and chloramine are neutralised before use"), true, COMMON),
};
const tap = section("The water used for filling and changes; a marine system salts it.", tapFields);

const water = section("The water at the start.", {
  temperature: usually(temperature({ about: "of the water", within: ["2 C", "38 C"], usual: ["16 C", "30 C"] }), "25 °C", COMMON),
  salinity: usually(salinity({ about: "0 ppt fresh, 35 ppt sea", within: ["0 ppt", "45 ppt"] }), "0 ppt", "fresh water"),
  ph: derived(ph("pH at the start"), "as the tap; 8.2 in sea water"),
  kh: derived(kh("alkalinity at the start"), "as the tap; 8 dKH in sea water"),
  ammonia: derived(ammonia("ammonia at the start"), "as the tap"),
  nitrite: derived(nitrite("nitrite at the start"), "as the tap"),
  nitrate: derived(nitrate("nitrate at the start"), "as the tap"),
  chloride: derived(chloride("chloride at the start"), "as the tap and the salt"),
});

const feedingFields = {
  protein: usually(share({ about: "protein in the food", within: ["1 %", "90 %"], usual: ["25 %", "60 %"] }), "42 %", COMMON),
  uneaten: usually(
    share({ about: "share of the food that nobody eats", within: ["0 %", "100 %"], usual: ["0 %", "30 %"] }),
    "5 %",
    COMMON,
  ),
  at: usually(
    list(clock("time of day"), "times of feeding", 24).min(1, { error: "at least one time" }),
    ["08:00", "18:00"],
    COMMON,
  ),
};
const foodPerDay = (about: string) =>
  massPerDay({ about, within: ["0 g/day", "20000 g/day"], usual: ["0.05 g/day", "500 g/day"] });

const food = z
  .union([
    foodPerDay("food when fully stocked"),
    section("Food when fully stocked.", { amount: foodPerDay("food when fully stocked"), ...feedingFields }),
  ])
  .meta({ description: "food a day when fully stocked: what the filter must be ready for" });

const group = section("Animals that arrive together.", {
  name: words("what they are", 60),
  kind: derived(
    oneOf(["warm-water fish", "cold-water fish", "marine fish", "invertebrate"], "for oxygen and ammonia limits"),
    "by salinity and temperature",
  ),
  count: number({ about: "how many", within: [1, 100000], whole: true }),
  mass: mass({ about: "mass of one animal", within: ["0.01 g", "50 kg"], usual: ["0.1 g", "1 kg"] }),
  food: derived(foodPerDay("food for the whole group"), "2 % of their mass a day (common practice, no published source)"),
  ...feedingFields,
  arrives: usually(day("when they come"), "day 0", "from the start"),
  leaves: day("when they go").optional(),
  growth: usually(
    share({ about: "growth of their mass a day", within: ["0 %", "10 %"], usual: ["0 %", "3 %"] }),
    "0 %",
    "full grown",
  ),
});

const repeat = {
  at: day("when, the first time"),
  every: duration({ about: "repeat after", within: ["1 h", "3660 days"] }).optional(),
  until: day("last repeat not after").optional(),
  label: words("what the chart says", 80).optional(),
};
const event = <Name extends string, Shape extends z.core.$ZodLooseShape>(name: Name, about: string, shape: Shape) =>
  section(about, { do: z.literal(name), ...repeat, ...shape });

const bottle = usually(
  oneOf(["ammonium salt", "ammonia solution"], "what is in the bottle: a solution brings alkalinity of its own, a salt does not"),
  "ammonium salt",
  COMMON,
);
const onlyBelow = {
  "only below ammonia": ammonia("skip the dose unless ammonia is below this").optional(),
  "only below nitrite": nitrite("skip the dose unless nitrite is below this").optional(),
};
const tower = words("name of the tower; all when left out", 40).optional();
const outageFields = {
  for: usually(duration({ about: "how long", within: ["10 s", "60 days"], usual: ["20 s", "5 days"] }), "4 h", ASSUMED),
  "pump only": usually(yesNo("only the return pump is off; heater and air still run"), false, "a power cut stops everything"),
  "battery air": usually(yesNo("an air stone runs on a battery"), false, "none told"),
  "stir every": duration({
    about: "somebody stirs the tank or pours water from a jug this often",
    within: ["1 min", "7 days"],
  }).optional(),
  "mist every": duration({ about: "somebody wets the media this often", within: ["1 min", "7 days"] }).optional(),
  "room temperature": temperature({ about: "of the room without heating", within: ["-20 C", "50 C"] }).optional(),
  "room humidity": share({ about: "of the room without heating", within: ["1 %", "100 %"] }).optional(),
  "tower open": usually(yesNo("the tower stands open to the room"), false, "it stays closed"),
};

const EVENTS = [
  event("dose ammonia", "Ammonia from a bottle.", {
    bottle,
    to: ammonia("up to this level").optional(),
    add: ammonia("a rise by this much").optional(),
    ...onlyBelow,
  }),
  event("dose nitrite", "Nitrite from a bottle.", {
    to: nitrite("up to this level").optional(),
    add: nitrite("a rise by this much").optional(),
    ...onlyBelow,
  }),
  event("add bicarbonate", "Bicarbonate to raise the alkalinity.", {
    to: kh("up to this level").optional(),
    add: kh("a rise by this much").optional(),
    mass: mass({ about: "grams of sodium bicarbonate", within: ["0.1 g", "50 kg"] }).optional(),
  }),
  event("add chloride", "Salt, counted as chloride.", {
    to: chloride("up to this level").optional(),
    add: chloride("a rise by this much").optional(),
  }),
  event("feed", "A change of the feeding plan.", {
    group: words("name of the group; all when left out", 60).optional(),
    plan: usually(
      share({ about: "of the planned food from now on; 0 % is a fast", within: ["0 %", "5000 %"] }),
      "100 %",
      "as planned",
    ),
    extra: usually(foodPerDay("food on top that nobody eats, until the next feed event"), "0 g/day", "none told"),
  }),
  event("water change", "Part of the water replaced from the tap.", {
    share: share({ about: "of all the water", within: ["0.1 %", "100 %"], usual: ["1 %", "60 %"] }),
    tap: section("Water that differs from the tap.", tapFields).optional(),
  }),
  event("rinse media", "Media rinsed.", {
    tower,
    lost: share({ about: "share of the bacteria on them that is lost", within: ["0 %", "100 %"] }),
  }),
  event("replace media", "Media replaced by new.", { tower, share: share({ about: "of the media", within: ["1 %", "100 %"] }) }),
  event("medicine", "A bath that harms bacteria.", {
    "ammonia oxidisers lost": share({ about: "share killed", within: ["0 %", "100 %"] }),
    "nitrite oxidisers lost": share({ about: "share killed", within: ["0 %", "100 %"] }),
    slows: usually(share({ about: "share by which the rest are slowed", within: ["0 %", "100 %"] }), "0 %", ASSUMED),
    for: usually(duration({ about: "how long they are slowed", within: ["1 h", "90 days"] }), "5 days", ASSUMED),
  }),
  event("death", "A dead animal nobody sees.", {
    mass: mass({ about: "mass of the body", within: ["0.01 g", "50 kg"] }),
    found: day("when it is taken out").optional(),
  }),
  event("power cut", "No power.", outageFields),
  event("wetting", "The spread of water over the media changes.", {
    tower,
    wetted: share({
      about: "wetted share of the media from now on; computed when left out",
      within: ["1 %", "100 %"],
    }).optional(),
  }),
  event("pad clogs", "The prefilter is clogged this far.", {
    blinded: share({ about: "clogged share", within: ["0 %", "100 %"] }),
  }),
  event("change pad", "A new prefilter pad.", {}),
  event("siphon sediment", "Dirt siphoned out of the sump.", {}),
  event("lid", "The tower's lid.", { state: oneOf(["open", "vented", "sealed"], "how air reaches the media") }),
  event("temperature", "The thermostat is set anew.", {
    to: temperature({ about: "new set point", within: ["2 C", "38 C"], usual: ["16 C", "30 C"] }),
  }),
  event("plants", "Plants put in or taken out.", {
    uptake: massPerDay({ about: "nitrogen taken up in a day by all plants", within: ["0 g/day", "1000 g/day"] }),
  }),
] as const;

/** What may stand after `do:`. */
export const EVENT_NAMES: readonly string[] = EVENTS.map((e) => e.shape.do.value);

const timelineEvent = z.discriminatedUnion("do", EVENTS, {
  error: (issue) =>
    issue.code === "invalid_union"
      ? `do must be one of: ${EVENT_NAMES.join(", ")}`
      : "an event such as { at: day 7, do: water change, share: 30 % } is wanted",
});

const cycle = section("A cycle without animals: ammonia from a bottle, again and again.", {
  dose: usually(ammonia("bring ammonia up to this level"), "3 mg/L as NH3", COMMON),
  bottle,
  every: usually(duration({ about: "look and dose this often", within: ["6 h", "30 days"] }), "1 day", COMMON),
  "only below ammonia": usually(ammonia("skip the dose unless ammonia is below this"), "0.25 mg/L as NH3", COMMON),
  "only below nitrite": usually(nitrite("skip the dose unless nitrite is below this"), "1 mg/L as NO2", COMMON),
  always: usually(yesNo("dose whatever the readings"), false, "re-dosing only when cleared keeps nitrite lower"),
  from: usually(day("first dose"), "day 0", ASSUMED),
  until: day("no dose after").optional(),
});

const SEED_WORDS = ["none", "bottle", "gravel", "mature"] as const;
const seed = z
  .union([
    oneOf(
      SEED_WORDS,
      "none; bottle: a starter culture; gravel: a handful from a running tank; mature: the whole filter is run in",
    ),
    section("Bacteria carried over.", {
      share: share({ about: "share of a full, mature colony at the start", within: ["0.0001 %", "100 %"] }),
      low: share({ about: "it may be as little as", within: ["0.0001 %", "100 %"] }).optional(),
      high: share({ about: "it may be as much as", within: ["0.0001 %", "100 %"] }).optional(),
      where: usually(
        oneOf(["media", "everywhere"], "media: moved filter media; everywhere: glass, gravel and rock too"),
        "media",
        ASSUMED,
      ),
    }),
  ])
  .meta({ description: "how much of a mature colony is there at the start" });

const PLANT_WORDS = ["none", "few", "many", "dense"] as const;
const plants = z
  .union([
    oneOf(PLANT_WORDS, "none, few, many or dense"),
    section("Plants or macroalgae.", {
      uptake: massPerDay({ about: "nitrogen taken up in a day by all of them", within: ["0 g/day", "1000 g/day"] }),
    }),
  ])
  .meta({ description: "plants, in a word or by what they take up" });

const ask = section("What must be proved before animals come.", {
  dose: usually(ammonia("the filter must clear this dose"), "2 mg/L as NH3", COMMON),
  within: usually(duration({ about: "within this time", within: ["1 h", "7 days"] }), "24 h", COMMON),
  times: usually(number({ about: "this many times running", within: [1, 10], whole: true }), 2, COMMON),
});

const reading = section("What the kits showed, as printed on their scales.", {
  at: day("when"),
  ammonia: number({ about: "mg/L as read", within: [0, 1000] }).optional(),
  nitrite: number({ about: "mg/L as read", within: [0, 1000] }).optional(),
  nitrate: number({ about: "mg/L as read", within: [0, 5000] }).optional(),
  ph: ph("as read").optional(),
  kh: kh("as read").optional(),
});

const fractionator = section("A foam fractionator.", {
  flow: flow({ about: "through it", within: ["1 L/h", "100000 L/h"] }),
  takes: usually(
    share({ about: "share of the fine solids it takes out of that flow", within: ["0 %", "100 %"] }),
    "20 %",
    ASSUMED,
  ),
});

/** Every key that describes life in the water and the calendar. */
export const keepingFields = {
  kit: usually(kit, {}, "not told"),
  water: usually(water, {}, "not told"),
  tap: usually(tap, {}, "not told"),
  food: food.optional(),
  stock: usually(list(group, "the animals, by group", 60), [], "none told"),
  cycle: derived(
    orNone(cycle, "a cycle without animals"),
    "with a 3 mg/L dose when neither stock nor timeline is given; else none",
  ),
  plants: usually(plants, "none", "none told"),
  seed: usually(seed, "none", "none told"),
  heater: derived(power({ about: "power of the heaters", within: ["0 W", "20000 W"] }), "1 W for each litre of the tank"),
  "air stone": usually(oneOf(["none", "gentle", "strong"], "an air stone in the tank"), "none", "none told"),
  "foam fractionator": usually(orNone(fractionator, "foam fractionator"), "none", "none told"),
  timeline: usually(list(timelineEvent, "what is done and what happens", 500), [], "nothing told"),
  days: usually(number({ about: "days to compute", within: [1, 3660], usual: [7, 730], whole: true }), 60, ASSUMED),
  ask: usually(ask, {}, COMMON),
  readings: usually(list(reading, "your own readings, drawn on the chart", 1000), [], "none told"),
  "power cut": usually(section("The power cut that is always tried.", outageFields), {}, "every system is tried"),
};
