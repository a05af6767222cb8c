// Scenario format of tanks and their overflows.
import type * as z from "zod";
import {
  area,
  derived,
  length,
  number,
  oneOf,
  oneOrMany,
  onlyWith,
  section,
  share,
  size,
  temperature,
  usually,
  volume,
  words,
  yesNo,
} from "../fields/fields.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { drain } from "./pipes.ts";

const siphon = section("Tubes that lift water over the glass into a box hung outside.", {
  tubes: usually(number({ about: "how many", within: [1, 8], whole: true }), 1, COMMON),
  bore: derived(
    length({ about: "inner diameter", within: ["6 mm", "100 mm"] }),
    "wide enough to carry the flow with 25 mm of head",
  ),
  length: usually(length({ about: "length along the tube", within: ["50 mm", "3 m"] }), "450 mm", ASSUMED),
  crown: usually(length({ about: "height of its highest point above the rim", within: ["0 mm", "500 mm"] }), "30 mm", ASSUMED),
  inlet: usually(length({ about: "depth of its inner end below the crest", within: ["5 mm", "1 m"] }), "100 mm", ASSUMED),
  outlet: usually(length({ about: "depth of its outer end below the crest", within: ["5 mm", "1 m"] }), "100 mm", ASSUMED),
  "stays full": usually(yesNo("both ends stay under water when the pump stops"), true, "boxes are built for it"),
});

const overflow = section("Where water leaves the tank.", {
  kind: usually(
    oneOf(
      ["drilled", "hang-on", "standpipe"],
      "drilled: holes or a slot in the glass; hang-on: a box outside fed by siphon tubes; standpipe: no box, the drain stands in the tank, drilled through its floor, and its mouth is the edge",
    ),
    "drilled",
    COMMON,
  ),
  crest: derived(
    length({ about: "depth of the edge the water falls over, below the tank's rim", within: ["0 mm", "1 m"], example: "50 mm" }),
    "the water line minus the head over the edge",
  ),
  weir: derived(
    length({ about: "length of that edge", within: ["20 mm", "5 m"] }),
    "a third of the tank's long side, at least 150 mm",
  ),
  open: usually(
    share({ about: "open share of the edge between its teeth", within: ["5 %", "100 %"], usual: ["30 %", "100 %"] }),
    "60 %",
    COMMON,
  ),
  box: derived(
    size(3, "inside of the overflow box: along the glass, out from the glass, floor to rim", undefined, "400 x 100 x 250 mm"),
    "as long as the weir, 100 mm out, 200 mm below the crest",
  ),
  "box place": derived(
    oneOf(["inside", "outside"], "whether the box stands in the tank's water or outside the glass"),
    "inside when drilled, outside when hung on",
  ),
  "box rim": usually(
    length({
      about: "height of the box's rim above the tank's rim",
      within: ["0 mm", "300 mm"],
    }),
    "0 mm",
    ASSUMED,
  ),
  "box level": length({
    about: "water in the box while running, from its floor, set by the valve of a throttled drain",
    within: ["0 mm", "2 m"],
    example: "150 mm",
  }).optional(),
  leak: section("A leak of the overflow box.", {
    bore: usually(
      length({ about: "diameter of a round hole that lets as much through", within: ["0.1 mm", "50 mm"] }),
      "3 mm",
      ASSUMED,
    ),
    height: usually(length({ about: "its height above the floor of the box", within: ["0 mm", "2 m"] }), "5 mm", ASSUMED),
    to: usually(
      oneOf(
        ["box", "floor"],
        "box: a seam that lets water of the tank into the box; floor: a bulkhead that lets water of the box out",
      ),
      "box",
      ASSUMED,
    ),
  }).optional(),
  siphon: onlyWith(usually(siphon, {}, COMMON), "kind", "hang-on"),
  drains: derived(oneOrMany(drain, "the drains", 6), "one open pipe, two when one is too small for the pump's flow"),
});

/** Walls shared by tanks and sumps. */
export const vessel = {
  outside: size(3, "outside: length x width x height", [0.2, 3]).optional(),
  inside: size(3, "inside: length x width x height; instead of outside", [0.2, 3]).optional(),
  glass: derived(
    length({ about: "thickness of the walls and bottom", within: ["2 mm", "60 mm"], usual: ["4 mm", "25 mm"] }),
    "by the height of the tank",
  ),
  material: usually(oneOf(["glass", "acrylic"], "what the walls are made of"), "glass", COMMON),
  room: temperature({
    about: "temperature of the air where it stands, if that is another room",
    within: ["-20 C", "45 C"],
    example: "10 C",
  }).optional(),
  "room night": temperature({
    about: "of that air in the coldest hour of the night; as by day when left out",
    within: ["-20 C", "45 C"],
    example: "6 C",
  }).optional(),
};

export const oneSize = <S extends z.ZodType<{ outside?: unknown; inside?: unknown }>>(schema: S) =>
  schema.superRefine((v, context) => {
    if ((v.outside === undefined) === (v.inside === undefined)) {
      context.addIssue({
        code: "custom",
        path: ["outside"],
        message:
          v.outside === undefined
            ? "missing: outside or inside, for example outside: 1000 x 400 x 500 mm"
            : "give outside or inside, not both",
      });
    }
  });

export const tank = oneSize(
  section(
    "A display tank.",
    {
      name: usually(words("what to call it", 40), "tank", ASSUMED),
      ...vessel,
      "above sump": derived(
        length({ about: "height of its floor above the sump's floor", within: ["0 mm", "10 m"], usual: ["300 mm", "3 m"] }),
        "the cabinet's height, else 750 mm or the sump's height and 300 mm",
      ),
      "water line": derived(
        length({ about: "running water surface below the rim", within: ["1 mm", "1 m"], usual: ["15 mm", "150 mm"] }),
        "40 mm, or where the crest puts it",
      ),
      "label volume": volume({
        about: "what its label or its seller says it holds",
        within: ["1 L", "100000 L"],
        example: "350 L",
      }).optional(),
      gravel: usually(
        length({ about: "depth of gravel or sand; 60 % of it is grains", within: ["0 mm", "500 mm"], usual: ["0 mm", "120 mm"] }),
        "30 mm",
        COMMON,
      ),
      rock: derived(
        volume({ about: "space taken up by rock and decoration", within: ["0 L", "5000 L"], example: "10 L" }),
        "3 % of the tank",
      ),
      surface: derived(
        area({ about: "wet surface where bacteria can live, beside the filter", within: ["0 m2", "1000 m2"], example: "3 m2" }),
        "glass, and three times the floor for gravel and rock",
      ),
      lid: usually(oneOf(["open", "covered"], "whether a cover lies on the tank"), "covered", COMMON),
      overflow: usually(oneOrMany(overflow, "its overflows", 4), {}, COMMON),
    },
    "{ outside: 1200 x 500 x 550 mm }",
  ),
);
