// How far the inputs of a run may be from what is written, as a scenario writes it.
import { day, section, share } from "../fields/fields.ts";

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

export const uncertain = section("How far the inputs may be from what is written; each has a usual range of its own.", {
  ...(Object.fromEntries(UNCERTAIN_IDS.map((id) => [id, factor(UNCERTAIN[id])])) as Record<
    UncertainId,
    ReturnType<typeof factor>
  >),
  "readings used until": day("last day whose readings are already counted in these ranges and in the seed").optional(),
});
