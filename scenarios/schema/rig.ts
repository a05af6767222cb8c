// Scenario format of everything that is built, and of the room.

import {
  anyNumber,
  derived,
  flow,
  length,
  mass,
  oneOrMany,
  orNone,
  section,
  share,
  size,
  temperature,
  usually,
} from "../fields/fields.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { closedFilter, sump, tower } from "./filter.ts";
import { otherReturn, returnLine, topOff } from "./return.ts";
import { tank } from "./tank.ts";

const room = section("The room around it.", {
  temperature: usually(
    temperature({ about: "air temperature", within: ["0 C", "45 C"], usual: ["15 C", "32 C"] }),
    "21 C",
    COMMON,
  ),
  humidity: usually(share({ about: "relative humidity", within: ["1 %", "100 %"], usual: ["25 %", "75 %"] }), "50 %", COMMON),
  altitude: usually(length({ about: "height above the sea", within: ["0 m", "5000 m"] }), "0 m", ASSUMED),
  co2: usually(
    share({ about: "carbon dioxide in the air", within: ["200 ppm", "20000 ppm"], usual: ["400 ppm", "2500 ppm"] }),
    "700 ppm",
    "a lived-in room (common practice, no published source)",
  ),
  night: derived(
    temperature({ about: "air temperature in the coldest hour of the night", within: ["-20 C", "45 C"], example: "17 C" }),
    "as by day",
  ),
});

const cabinet = section("The cabinet the sump stands in.", {
  inside: size(3, "inside: length x width x height", undefined, "1180 x 480 x 750 mm"),
  door: size(2, "clear opening: width x height", undefined, "550 x 700 mm"),
});

const stand = section("What stands on the floor.", {
  footprint: size(2, "plan of the stand on the floor", undefined, "1200 x 500 mm"),
  "dry mass": derived(
    mass({ about: "mass of stand, tanks and equipment without water", within: ["1 kg", "20000 kg"] }),
    "walls from their size, and 40 kg of stand for each square metre",
  ),
});

/** All keys for everything that is built. */
const measured = section("What you measured on the system as built; it replaces what the model would give.", {
  "return flow": flow({
    about: "flow of all outlets together, measured with a bucket and a watch",
    within: ["5 L/h", "200000 L/h"],
    example: "2400 L/h",
  }).optional(),
  "drain capacity": flow({
    about: "most water that the main drain of the first tank carries before its box is full",
    within: ["5 L/h", "200000 L/h"],
    example: "3000 L/h",
  }).optional(),
  "level rise": length({
    about: "rise of the return chamber in a power cut, by ruler",
    within: ["1 mm", "1 m"],
    example: "60 mm",
  }).optional(),
});

export const rigFields = {
  tank: oneOrMany(tank, "the display tank", 12),
  sump,
  tower: derived(orNone(oneOrMany(tower, "the trickle tower", 4), "the trickle tower"), "one, above the first chamber"),
  return: returnLine,
  "other returns": usually(anyNumber(otherReturn, "further return pumps", 3), [], "none given"),
  "closed filter": usually(
    orNone(oneOrMany(closedFilter, "sealed filters", 4), "sealed filters beside the tower"),
    "none",
    "none given",
  ),
  "top off": usually(orNone(topOff, "automatic top-off"), "none", "none given"),
  room: usually(room, {}, COMMON),
  cabinet: cabinet.optional(),
  stand: stand.optional(),
  measured: measured.optional(),
};
