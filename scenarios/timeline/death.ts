// A dead animal that decomposes until somebody finds it.
import { day, mass } from "../fields/fields.ts";
import * as format from "../text/format.ts";
import { eventFormat } from "./event-format.ts";

export const death = eventFormat({
  name: "death",
  about: "A dead animal that nobody finds.",
  keys: {
    mass: mass({ about: "mass of the body", within: ["0.01 g", "50 kg"], example: "150 g" }),
    found: day("when it is taken out").optional(),
  },
  build: (e, { notes }) => ({
    body: { kind: "death", massG: e.mass, foundDay: e.found ?? null },
    label: `a body of ${format.mass(e.mass)[notes.units]}`,
  }),
  inWords: (e) => `A dead animal of ${e.mass ?? "some grams"} lies unseen`,
  advice: "Count the animals at feeding time: a body behind the rock gives off its nitrogen for a week.",
});
