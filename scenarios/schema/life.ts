// Scenario format of animals, food, plants and transferred bacteria.
import * as z from "zod";
import { animalKinds } from "../../models/life/animals.ts";
import {
  clock,
  day,
  derived,
  duration,
  foodPerDay,
  list,
  mass,
  massPerDay,
  number,
  oneOf,
  section,
  share,
  temperature,
  usually,
  words,
} from "../fields/fields.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";

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
export const food = z
  .union([
    foodPerDay("food when fully stocked"),
    section("Food when fully stocked.", { amount: foodPerDay("food when fully stocked"), ...feedingFields }),
  ])
  .meta({ description: "food a day when fully stocked: what the filter must be ready for" });

export const group = section("Animals that arrive together.", {
  name: words("what they are", 60, false, "tetras"),
  kind: derived(
    oneOf(animalKinds, "for oxygen use, and for oxygen, temperature and ammonia limits"),
    "by salinity and temperature",
  ),
  count: number({ about: "how many", within: [1, 100000], whole: true, example: 10 }),
  mass: mass({ about: "mass of one animal", within: ["0.01 g", "50 kg"], usual: ["0.1 g", "1 kg"], example: "2 g" }),
  food: derived(foodPerDay("food for the whole group"), "2 % of their mass a day (common practice, no published source)"),
  ...feedingFields,
  arrives: usually(day("when they come"), "day 0", "from the start"),
  leaves: day("when they go").optional(),
  growth: derived(
    share({ about: "growth of their mass a day", within: ["0 %", "10 %"], usual: ["0 %", "3 %"], example: "0.2 %" }),
    "not known: they keep 17 % of the nitrogen they eat, as published for farmed fish",
  ),
});

const SEED_WORDS = ["none", "bottle", "gravel", "mature"] as const;
export const seed = z
  .union([
    oneOf(
      SEED_WORDS,
      "none; bottle: a starter culture; gravel: a handful from a running tank; mature: the whole filter is run in",
    ),
    section(
      "Bacteria carried over.",
      {
        share: share({
          about: "share of a full, mature filter's bacteria at the start",
          within: ["0.0001 %", "100 %"],
          example: "5 %",
        }),
        low: share({ about: "lowest value it may have", within: ["0.0001 %", "100 %"], example: "2 %" }).optional(),
        high: share({ about: "highest value it may have", within: ["0.0001 %", "100 %"], example: "10 %" }).optional(),
        from: oneOf(["fresh", "brackish", "salt"], "the water it lived in; as this system's when left out").optional(),
        travelled: duration({ about: "time it spent on the way", within: ["0 s", "1100 days"], example: "2 h" }).optional(),
        kept: usually(
          oneOf(["wet", "dried", "bottled"], "how it was kept on the way; bottled: shut in, without air, as a starter culture"),
          "wet",
          COMMON,
        ),
        temperature: temperature({
          about: "temperature on the way; that of the water when left out",
          within: ["0 C", "45 C"],
          example: "20 C",
        }).optional(),
        where: usually(
          oneOf(["media", "everywhere"], "media: filter media from another tank; everywhere: on glass, gravel and rock too"),
          "media",
          ASSUMED,
        ),
      },
      "{ share: 5 %, where: media }",
    ),
  ])
  .meta({ description: "how much of a mature filter's bacteria is there at the start" });

const PLANT_WORDS = ["none", "few", "many", "dense"] as const;
export const plants = z
  .union([
    oneOf(PLANT_WORDS, "none, few, many or dense"),
    section("Plants or macroalgae.", {
      uptake: massPerDay({
        about: "nitrogen taken up in a day by all of them",
        within: ["0 g/day", "1000 g/day"],
        example: "0.2 g/day",
      }),
    }),
  ])
  .meta({ description: "plants, in a word or by what they take up" });
