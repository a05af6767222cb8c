// How far the inputs of a run may be from what is written, as a scenario writes it.
import { day, length, list, number, oneOf, section, share } from "../fields/fields.ts";

/** What may be uncertain: the keys of `uncertain:`, and what each is. */
export const UNCERTAIN = {
  "wetted share": "the share of the media that the water wets",
  "water volume": "the water really in the system",
  food: "the food that is really given and eaten",
  dose: "the ammonia that a dose really brings",
  "plants and algae": "the nitrogen that plants take up, and algae that nobody wrote down",
  alkalinity: "the alkalinity of the water, at the start and from the tap",
  "room for bacteria": "the bacteria that fit on a surface",
  "growth of ammonia oxidisers": "the growth rate of fast ammonia oxidisers",
  "growth of slow ammonia oxidisers": "the growth rate of slow ammonia oxidisers",
  "growth of nitrite oxidisers": "the growth rate of fast nitrite oxidisers",
  "growth of slow nitrite oxidisers": "the growth rate of slow nitrite oxidisers",
  "half-saturation of ammonia": "the ammonia at which fast ammonia oxidisers work at half their pace",
  "half-saturation of nitrite": "the nitrite at which fast nitrite oxidisers work at half their pace",
  "half-saturation of slow nitrite oxidisers": "the nitrite at which slow nitrite oxidisers work at half their pace",
  "inhibition by ammonia": "the free ammonia that halves the work of nitrite oxidisers",
} as const;

export type UncertainId = keyof typeof UNCERTAIN;

/** Names of the uncertain inputs, in the order in which they are sampled. */
export const UNCERTAIN_IDS = Object.keys(UNCERTAIN) as readonly UncertainId[];

/** What may be uncertain in the hydraulics: factors on what is written or computed. */
export const HYDRAULIC_FACTORS = {
  "pump speed": "the speed of the pump, and with it its flow and head, against label or curve",
  "overflow edge": "what flows over an overflow edge at a given depth",
  "pipe bore": "the inner diameter of all pipes, with slime and as measured",
} as const;

/** The same: lengths that are added to what is written. */
export const HYDRAULIC_OFFSETS = {
  "fill level": "the level to which the return chamber is filled",
  "outlet height": "the height of the outlets against the water line of the tank",
} as const;

export type HydraulicInputId = keyof typeof HYDRAULIC_FACTORS | keyof typeof HYDRAULIC_OFFSETS;

const percent = (about: string, example: string) => share({ about, within: ["1 %", "10000 %"], example });

const factor = (what: string) =>
  section(
    `How far ${what} may be from the usual. Eight times in ten it lies between low and high.`,
    {
      low: percent("one time in ten it is below this share of the usual value", "80 %"),
      likely: percent("the middle: above or below this share of the usual value is equally likely", "100 %").optional(),
      high: percent("one time in ten it is above this share of the usual value", "125 %"),
    },
    "{ low: 80 %, high: 125 % }",
  ).optional();

const millimetres = (about: string, example: string) => length({ about, within: ["-200 mm", "200 mm"], example });

const offset = (what: string) =>
  section(
    `How far ${what} may be from what is written: eight times of ten between low and high.`,
    {
      low: millimetres("one time of ten it is lower than this", "-5 mm"),
      high: millimetres("one time of ten it is higher than this", "5 mm"),
    },
    "{ low: -5 mm, high: 5 mm }",
  ).optional();

/** A field for each key of a table. */
const each = <K extends string, S>(table: Readonly<Record<K, string>>, field: (what: string) => S): Record<K, S> =>
  Object.fromEntries(Object.entries<string>(table).map(([id, what]) => [id, field(what)])) as Record<K, S>;

const either = (about: string) => oneOf(["seed", ...UNCERTAIN_IDS], about);

/** Two inputs that readings tie together: where one is higher, the other is higher or lower. */
const tied = section(
  "Two inputs that go together.",
  {
    one: either("the first of two inputs"),
    other: either("the second of two inputs"),
    correlation: number({
      about: "1: they rise together; -1: one rises as the other falls; 0: each for itself",
      within: [-1, 1],
    }),
  },
  "{ one: seed, other: growth of nitrite oxidisers, correlation: -0.5 }",
);

export const uncertain = section("How far the inputs may be from what is written; each has a usual range of its own.", {
  ...each(UNCERTAIN, factor),
  ...each(HYDRAULIC_FACTORS, factor),
  ...each(HYDRAULIC_OFFSETS, offset),
  together: list(tied, "inputs that are not uncertain each for itself, as readings leave them", 200).optional(),
  "readings used until": day("last day whose readings are already counted in these ranges and in the seed").optional(),
});
