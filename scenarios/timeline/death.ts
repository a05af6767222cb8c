// A dead animal that decomposes until somebody finds it.
import { day, mass } from "../fields/fields.ts";
import * as format from "../text/format.ts";
import { eventFormat } from "./event-format.ts";

export const death = eventFormat(
  "death",
  "A dead animal that nobody finds.",
  {
    mass: mass({ about: "mass of the body", within: ["0.01 g", "50 kg"], example: "150 g" }),
    found: day("when it is taken out").optional(),
  },
  (e, { notes }) => ({
    body: { kind: "death", massG: e.mass, foundDay: e.found ?? null },
    label: `a body of ${format.mass(e.mass)[notes.units]}`,
  }),
);
