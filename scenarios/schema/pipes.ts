// Scenario format of pipe runs, and of the drains that use them.

import { derived, length, number, oneOf, section, share, usually, words } from "../fields/fields.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";

export const fittings = section("Bends and fittings of a pipe run, by count.", {
  bends: usually(number({ about: "quarter bends", within: [0, 40], whole: true }), 2, COMMON),
  "half bends": usually(number({ about: "bends of 45 degrees", within: [0, 40], whole: true }), 0, ASSUMED),
  "return bends": usually(number({ about: "one-piece bends of 180 degrees", within: [0, 10], whole: true }), 0, ASSUMED),
  tees: usually(number({ about: "tees", within: [0, 20], whole: true }), 0, ASSUMED),
  unions: usually(number({ about: "unions", within: [0, 20], whole: true }), 0, ASSUMED),
  "extra loss": usually(number({ about: "further loss coefficients, summed", within: [0, 200] }), 0, ASSUMED),
});

export const roughness = usually(
  length({ about: "roughness of the pipe wall", within: ["0 mm", "1 mm"] }),
  "0.0015 mm",
  "smooth drawn plastic pipe (Moody 1944)",
);

export const drain = section("One pipe that takes water from the overflow down to the filter.", {
  kind: usually(
    oneOf(
      ["open", "throttled siphon", "dry emergency"],
      "open: air goes down with the water; throttled siphon: runs full, set by a valve; dry emergency: idle until the level rises",
    ),
    "open",
    COMMON,
  ),
  bore: derived(
    length({ about: "inner diameter", within: ["8 mm", "200 mm"], usual: ["20 mm", "75 mm"] }),
    "the smallest usual pipe whose open capacity is above the pump's flow",
  ),
  mouth: derived(
    length({
      about: "height of the pipe's mouth above the floor of the overflow box",
      within: ["0 mm", "2 m"],
      example: "150 mm",
    }),
    "60 mm below the crest; an emergency pipe 15 mm below it",
  ),
  length: derived(length({ about: "length of the run", within: ["50 mm", "20 m"] }), "the drop plus 300 mm"),
  fittings: usually(fittings, {}, COMMON),
  roughness,
  open: usually(share({ about: "open share of the bore", within: ["0 %", "100 %"] }), "100 %", "a clean pipe"),
  to: derived(
    words("name of the tower or sump chamber it runs into", 40, false, "tower"),
    "the first tower, else the first chamber",
  ),
  outlet: derived(
    length({ about: "height of its end above the sump floor", within: ["0 mm", "5 m"], example: "300 mm" }),
    "60 mm above the tower's plate, or just above the water of the chamber",
  ),
});
