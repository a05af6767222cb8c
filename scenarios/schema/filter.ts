// Scenario format of tower, media and sump.
import { MEDIA_TYPES } from "../../models/tower/media.ts";
import {
  anyNumber,
  area,
  derived,
  duration,
  flow,
  length,
  number,
  oneOf,
  oneOrMany,
  onlyWith,
  orNever,
  orNone,
  power,
  section,
  share,
  size,
  specificSurface,
  turning,
  usually,
  volume,
  words,
} from "../fields/fields.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { oneSize, vessel } from "./tank.ts";

/** Generic types of media, or `own` with its properties given. */
const MEDIA_KINDS = [MEDIA_TYPES[0]!.kind, ...MEDIA_TYPES.slice(1).map((type) => type.kind), "own"] as const;

const media = section("What the filter is filled with.", {
  kind: usually(oneOf(MEDIA_KINDS, "generic type; own: with surface and void given"), "hollow plastic ball 40 mm", COMMON),
  surface: derived(
    specificSurface({
      about: "surface of a packed cubic metre",
      within: ["5 m2/m3", "10000 m2/m3"],
      usual: ["80 m2/m3", "2500 m2/m3"],
    }),
    "by the kind",
  ),
  void: derived(share({ about: "empty share of the packed volume", within: ["20 %", "99 %"], example: "90 %" }), "by the kind"),
  piece: derived(length({ about: "size of one piece", within: ["1 mm", "500 mm"] }), "by the kind"),
});

const prefilter = section("A pad the water passes before the media.", {
  grade: usually(oneOf(["coarse", "medium", "fine"], "coarse foam, floss, or fine felt"), "medium", COMMON),
  size: derived(size(2, "plan of the pad"), "the plan of the tower"),
  thickness: usually(length({ about: "thickness", within: ["2 mm", "300 mm"] }), "30 mm", COMMON),
  changed: usually(
    orNever(duration({ about: "rinsed or changed this often", within: ["1 day", "366 days"] }), "rinsed or changed this often"),
    "28 days",
    "at least once a month is common practice; a timeline that changes pads has its own days",
  ),
  blinded: usually(share({ about: "share already clogged at the start", within: ["0 %", "100 %"] }), "0 %", "a new pad"),
  "spills to": usually(
    oneOf(["media", "past the media", "floor"], "where water goes that no longer passes the pad"),
    "past the media",
    ASSUMED,
  ),
});

const arm = section("Of a rotating arm.", {
  speed: usually(turning({ about: "turns per minute", within: ["0.01 rpm", "200 rpm"] }), "2 rpm", ASSUMED),
  arms: usually(number({ about: "how many arms", within: [1, 8], whole: true }), 2, ASSUMED),
});

export const tower = section("A column of media in air, with water trickling through.", {
  name: usually(words("what to call it", 40), "tower", ASSUMED),
  plan: derived(size(2, "length x width of the media", [0.08, 1.5]), "a third of the sump's length by its width"),
  depth: usually(length({ about: "depth of the media", within: ["20 mm", "4 m"], usual: ["100 mm", "1.5 m"] }), "250 mm", COMMON),
  grate: derived(
    length({ about: "height of the grate under the media above the sump floor", within: ["0 mm", "5 m"], example: "220 mm" }),
    "20 mm above the running water of the chamber below it",
  ),
  media: usually(media, {}, COMMON),
  distribution: usually(
    oneOf(["drip plate", "fixed spray", "rotating arm", "one-sided"], "how water is spread over the media"),
    "drip plate",
    COMMON,
  ),
  wetted: share({
    about: "wetted share of the media, if you measured it; otherwise it is computed",
    within: ["1 %", "100 %"],
    example: "40 %",
  }).optional(),
  arm: onlyWith(usually(arm, {}, ASSUMED), "distribution", "rotating arm"),
  prefilter: usually(orNone(prefilter, "pad before the media"), {}, COMMON),
  tray: usually(
    section("The plate with holes above the media.", {
      depth: usually(length({ about: "height of its lip", within: ["5 mm", "500 mm"] }), "40 mm", COMMON),
      holes: derived(
        number({ about: "how many holes", within: [1, 100000], whole: true }),
        "enough to pass the label flow under half the lip's height",
      ),
      hole: usually(length({ about: "diameter of a hole", within: ["1 mm", "60 mm"] }), "6 mm", COMMON),
      "spills to": usually(
        oneOf(["past the media", "floor"], "where water goes that runs over the lip"),
        "past the media",
        ASSUMED,
      ),
    }),
    {},
    COMMON,
  ),
  lid: usually(oneOf(["open", "vented", "sealed"], "how air reaches the media"), "vented", COMMON),
  "air flow": usually(flow({ about: "air blown through", within: ["0 L/h", "1000000 L/h"] }), "0 L/h", "natural draught"),
  "drains to": derived(words("name of the sump chamber below it", 40, false, "sump"), "the first chamber"),
});

const equipment = section("Something that takes up room in a chamber: pump, heater, box.", {
  plan: area({ about: "its footprint", within: ["1 cm2", "5 m2"], example: "100 cm2" }),
  from: usually(
    length({ about: "height of its underside above the chamber floor", within: ["0 mm", "2 m"] }),
    "0 mm",
    "stands on the floor",
  ),
  top: length({ about: "height of its top above the chamber floor", within: ["1 mm", "3 m"], example: "120 mm" }),
});

const submerged = section("Media lying under water.", {
  volume: volume({ about: "packed volume", within: ["0.1 L", "10000 L"] }),
  kind: usually(oneOf(MEDIA_KINDS, "generic type; own: with surface and void given"), "foam 20 ppi", COMMON),
  surface: derived(
    specificSurface({ about: "surface of a packed cubic metre", within: ["5 m2/m3", "10000 m2/m3"] }),
    "by the kind",
  ),
  void: derived(share({ about: "empty share of the packed volume", within: ["20 %", "99 %"], example: "90 %" }), "by the kind"),
});

/** A closed filter with its own pump; it draws from and returns to the same tank or chamber. */
export const closedFilter = section("A sealed filter with its own pump and hoses, beside the tower.", {
  name: usually(words("what to call it", 40), "closed filter", ASSUMED),
  on: derived(
    words("name of the tank or sump chamber that its water comes from and goes back to", 40, false, "tank"),
    "the first tank",
  ),
  water: usually(
    volume({ about: "water in it, media in place", within: ["0.2 L", "2000 L"], usual: ["1 L", "60 L"] }),
    "6 L",
    ASSUMED,
  ),
  media: usually(
    section("What it is filled with.", {
      volume: derived(volume({ about: "packed volume", within: ["0.1 L", "2000 L"] }), "60 % of its water"),
      kind: usually(oneOf(MEDIA_KINDS, "generic type; own: with surface and void given"), "foam 20 ppi", COMMON),
      surface: derived(
        specificSurface({ about: "surface of a packed cubic metre", within: ["5 m2/m3", "10000 m2/m3"] }),
        "by the kind",
      ),
      void: derived(
        share({ about: "empty share of the packed volume", within: ["20 %", "99 %"], example: "90 %" }),
        "by the kind",
      ),
    }),
    {},
    COMMON,
  ),
  flow: derived(flow({ about: "measured flow through it", within: ["5 L/h", "100000 L/h"] }), "twice the tank's water an hour"),
  power: usually(power({ about: "power of its pump", within: ["1 W", "1000 W"] }), "15 W", ASSUMED),
  intake: derived(
    length({ about: "depth of its intake below the running water surface", within: ["5 mm", "3 m"] }),
    "50 mm above the floor",
  ),
});

const sock = section("A filter sock or a fleece roller that the drains into this chamber run through.", {
  kind: usually(oneOf(["sock", "fleece roller"], "a roller moves on to clean fleece by itself"), "sock", COMMON),
  count: usually(number({ about: "how many socks side by side", within: [1, 8], whole: true }), 1, ASSUMED),
  diameter: usually(length({ about: "its diameter", within: ["40 mm", "500 mm"] }), "180 mm", COMMON),
  depth: usually(length({ about: "from its rim down to its end", within: ["50 mm", "1 m"] }), "200 mm", ASSUMED),
  rim: derived(
    length({ about: "height of its rim above the sump floor", within: ["50 mm", "3 m"], example: "300 mm" }),
    "80 mm above the running water of its chamber, below the sump's rim",
  ),
  grade: usually(oneOf(["coarse", "medium", "fine"], "mesh, felt of 200 or felt of 100 micrometres"), "medium", COMMON),
  blinded: usually(share({ about: "share already clogged", within: ["0 %", "100 %"] }), "0 %", "a clean sock"),
  "spills to": usually(
    oneOf(["chamber", "floor"], "where water goes that runs over its rim"),
    "chamber",
    "it hangs inside the sump",
  ),
});

const joined = oneSize(
  section(
    "A further tank that a pipe joins to the sump, beside it or above it.",
    {
      name: usually(words("what to call it", 40), "second sump", ASSUMED),
      outside: vessel.outside,
      inside: vessel.inside,
      glass: vessel.glass,
      material: vessel.material,
      floor: usually(
        length({ about: "height of its floor above the sump's floor", within: ["0 mm", "5 m"] }),
        "0 mm",
        "it stands as high as the sump",
      ),
      to: derived(words("name of the sump chamber it is joined to", 40, false, "sump"), "the first chamber"),
      bore: usually(length({ about: "inner diameter of the pipe", within: ["10 mm", "200 mm"] }), "40 mm", COMMON),
      pipes: usually(number({ about: "how many pipes", within: [1, 6], whole: true }), 1, ASSUMED),
      length: usually(length({ about: "length of the pipe", within: ["20 mm", "10 m"] }), "300 mm", ASSUMED),
      height: usually(
        length({ about: "height of the pipe above its own floor", within: ["10 mm", "2 m"] }),
        "40 mm",
        "drilled low in the wall (common practice, no published source)",
      ),
    },
    "{ inside: 600 x 350 x 400 mm }",
  ),
);

const chamber = section("One compartment of the sump.", {
  name: words("what to call it", 40, false, "return"),
  role: oneOf(["inlet", "settling", "media", "heater", "return"], "what it is for; the last chamber is the return", "return"),
  length: length({ about: "inner length along the sump", within: ["20 mm", "10 m"] }),
  equipment: usually(anyNumber(equipment, "equipment that stands in it", 12), [], "none given"),
  media: submerged.optional(),
  sock: sock.optional(),
});

const baffle = section("A plate between one chamber and the next.", {
  kind: usually(oneOf(["over", "under", "over and under"], "where water passes it"), "over", COMMON),
  top: derived(
    length({ about: "height of its upper edge above the sump floor", within: ["0 mm", "3 m"], example: "250 mm" }),
    "the sump's rim for a plate water passes under",
  ),
  gap: usually(length({ about: "clear gap under it", within: ["0 mm", "1 m"] }), "0 mm", "stands on the floor"),
});

export const sump = oneSize(
  section(
    "The lower tank.",
    {
      ...vessel,
      water: length({
        about: "water in the return chamber while running, above the sump's floor",
        within: ["10 mm", "3 m"],
        usual: ["100 mm", "600 mm"],
      }),
      chambers: derived(oneOrMany(chamber, "compartments in flow order, the return last", 12), "one open compartment"),
      joined: usually(anyNumber(joined, "further tanks joined to the sump by a pipe", 3), [], "none given"),
      baffles: derived(
        anyNumber(baffle, "plates between the chambers, one fewer than the chambers", 11),
        "plates that water passes over, 20 mm above the running level",
      ),
    },
    "{ outside: 800 x 350 x 400 mm, water: 180 mm }",
  ),
);
