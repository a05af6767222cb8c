// The built thing as a scenario writes it: tank, overflow, drains, tower, sump, return, top-off, room, cabinet, stand.
import * as z from "zod";
import { MEDIA_TYPES } from "../../models/tower/media.ts";
import {
  area,
  derived,
  flow,
  length,
  list,
  mass,
  number,
  oneOf,
  oneOrMany,
  onlyWith,
  orNone,
  power,
  salinity,
  section,
  share,
  size,
  specificSurface,
  temperature,
  turning,
  usually,
  volume,
  words,
} from "./fields.ts";

const COMMON = "common practice, no published source";
const ASSUMED = "modelling assumption";

const fittings = section("Bends and fittings of a pipe run, by count.", {
  bends: usually(number({ about: "quarter bends", within: [0, 40], whole: true }), 2, COMMON),
  "half bends": usually(number({ about: "bends of 45 degrees", within: [0, 40], whole: true }), 0, ASSUMED),
  "return bends": usually(number({ about: "one-piece bends of 180 degrees", within: [0, 10], whole: true }), 0, ASSUMED),
  tees: usually(number({ about: "tees", within: [0, 20], whole: true }), 0, ASSUMED),
  unions: usually(number({ about: "unions", within: [0, 20], whole: true }), 0, ASSUMED),
  "extra loss": usually(number({ about: "further loss coefficients, summed", within: [0, 200] }), 0, ASSUMED),
});

const roughness = usually(
  length({ about: "roughness of the pipe wall", within: ["0 mm", "1 mm"] }),
  "0.0015 mm",
  "smooth drawn plastic pipe (Moody 1944)",
);

const drain = section("One pipe that takes water from the overflow down to the filter.", {
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
    length({ about: "height of the pipe's mouth above the floor of the overflow box", within: ["0 mm", "2 m"] }),
    "60 mm below the crest; an emergency pipe 15 mm below it",
  ),
  length: derived(length({ about: "length of the run", within: ["50 mm", "20 m"] }), "the drop plus 300 mm"),
  fittings: usually(fittings, {}, COMMON),
  roughness,
  open: usually(share({ about: "open share of the bore", within: ["0 %", "100 %"] }), "100 %", "a clean pipe"),
  to: derived(words("name of the tower or sump chamber it runs into", 40), "the first tower, else the first chamber"),
  outlet: derived(
    length({ about: "height of its end above the sump floor", within: ["0 mm", "5 m"] }),
    "60 mm above the tower's plate, or just above the water of the chamber",
  ),
});

const siphon = section("Tubes that lift water over the glass into a box hung outside.", {
  tubes: usually(number({ about: "how many", within: [1, 8], whole: true }), 1, COMMON),
  bore: usually(length({ about: "inner diameter", within: ["6 mm", "100 mm"] }), "25 mm", COMMON),
  length: usually(length({ about: "length along the tube", within: ["50 mm", "3 m"] }), "450 mm", ASSUMED),
  crown: usually(length({ about: "height of its highest point above the rim", within: ["0 mm", "500 mm"] }), "30 mm", ASSUMED),
  inlet: usually(length({ about: "depth of its inner end below the crest", within: ["5 mm", "1 m"] }), "100 mm", ASSUMED),
  outlet: usually(length({ about: "depth of its outer end below the crest", within: ["5 mm", "1 m"] }), "100 mm", ASSUMED),
  "stays full": usually(
    z.boolean({ error: "true or false is wanted" }).meta({ description: "both ends stay under water when the pump stops" }),
    true,
    "boxes are built for it",
  ),
});

const overflow = section("Where water leaves the tank.", {
  kind: usually(
    oneOf(["drilled", "hang-on"], "drilled: holes or a slot in the glass; hang-on: a box outside fed by siphon tubes"),
    "drilled",
    COMMON,
  ),
  crest: derived(
    length({ about: "depth of the edge the water falls over, below the tank's rim", within: ["0 mm", "1 m"] }),
    "the water line less the head over the edge",
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
    size(3, "inside of the overflow box: along the glass, out from the glass, floor to rim"),
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
  }).optional(),
  siphon: onlyWith(usually(siphon, {}, COMMON), "kind", "hang-on"),
  drains: derived(oneOrMany(drain, "the drains", 6), "one open pipe, two when one is too small for the pump's flow"),
});

/** Walls shared by tanks and sumps. */
const vessel = {
  outside: size(3, "outside: length x width x height", [0.2, 3]).optional(),
  inside: size(3, "inside: length x width x height; instead of outside", [0.2, 3]).optional(),
  glass: derived(
    length({ about: "thickness of the walls and bottom", within: ["2 mm", "60 mm"], usual: ["4 mm", "25 mm"] }),
    "by the height of the tank",
  ),
  material: usually(oneOf(["glass", "acrylic"], "what the walls are made of"), "glass", COMMON),
};

const oneSize = <S extends z.ZodType<{ outside?: unknown; inside?: unknown }>>(schema: S) =>
  schema.superRefine((v, context) => {
    if ((v.outside === undefined) === (v.inside === undefined)) {
      context.addIssue({
        code: "custom",
        message:
          v.outside === undefined
            ? "missing: outside or inside, for example outside: 1000 x 400 x 500 mm"
            : "give outside or inside, not both",
      });
    }
  });

const tank = oneSize(
  section("A display tank.", {
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
    gravel: usually(
      length({ about: "depth of gravel or sand; 60 % of it is grains", within: ["0 mm", "500 mm"], usual: ["0 mm", "120 mm"] }),
      "30 mm",
      COMMON,
    ),
    rock: derived(volume({ about: "room taken by rock and decoration", within: ["0 L", "5000 L"] }), "3 % of the tank"),
    surface: derived(
      area({ about: "wet surface where bacteria can live, beside the filter", within: ["0 m2", "1000 m2"] }),
      "glass, and three times the floor for gravel and rock",
    ),
    lid: usually(oneOf(["open", "covered"], "whether a cover lies on the tank"), "covered", COMMON),
    overflow: usually(oneOrMany(overflow, "its overflows", 4), {}, COMMON),
  }),
);

const hole = section("A small hole in the return pipe that lets air in when the pump stops.", {
  bore: usually(length({ about: "its diameter", within: ["0.5 mm", "30 mm"], usual: ["3 mm", "10 mm"] }), "4 mm", COMMON),
  depth: usually(
    length({ about: "its depth below the running water surface; 0 mm is at the surface", within: ["0 mm", "1 m"] }),
    "15 mm",
    COMMON,
  ),
  count: usually(number({ about: "how many", within: [1, 12], whole: true }), 1, ASSUMED),
});

const nozzle = section("One outlet of the return into a tank.", {
  tank: derived(words("name of the tank", 40), "the first tank"),
  bore: derived(length({ about: "inner diameter", within: ["3 mm", "150 mm"] }), "as the riser"),
  depth: length({
    about: "depth of its lowest opening below the running water surface",
    within: ["0 mm", "2 m"],
    usual: ["5 mm", "300 mm"],
  }),
  jet: usually(oneOf(["plain", "fanned"], "plain: round pipe end; fanned: flattened tip"), "plain", COMMON),
  hole: orNone(hole, "siphon-break hole"),
});

const pump = section("The return pump.", {
  flow: derived(
    flow({ about: "free flow on the label", within: ["20 L/h", "200000 L/h"], usual: ["200 L/h", "40000 L/h"] }),
    "the end of the curve",
  ),
  head: derived(
    length({ about: "height on the label at which the flow stops", within: ["0.2 m", "60 m"] }),
    "guessed from the label flow, and high enough to reach the tank",
  ),
  curve: list(
    section("One point of the pump's curve.", {
      flow: flow({ about: "flow", within: ["0 L/h", "200000 L/h"] }),
      head: length({ about: "height at that flow", within: ["0 m", "60 m"] }),
    }),
    "points of the pump's curve, from no flow to free flow; instead of label flow and head",
    20,
  ).optional(),
  power: derived(power({ about: "electric power", within: ["1 W", "5000 W"] }), "10 W for each 1000 L/h of label flow"),
  intake: usually(
    length({ about: "level in its chamber at which it draws air", within: ["0 mm", "1 m"], usual: ["20 mm", "150 mm"] }),
    "60 mm",
    ASSUMED,
  ),
  "idle loss": usually(
    number({ about: "loss coefficient for water running backwards through it, on the riser's velocity", within: [0, 1000] }),
    4,
    ASSUMED,
  ),
});

const branch = section("A side branch of the return that feeds something and drains back to the sump.", {
  name: words("what it feeds", 40),
  bore: length({ about: "inner diameter", within: ["2 mm", "100 mm"] }),
  length: usually(length({ about: "length", within: ["50 mm", "20 m"] }), "600 mm", ASSUMED),
  loss: usually(number({ about: "loss coefficient of its valve and device", within: [0, 100000] }), 10, ASSUMED),
  outlet: length({ about: "height of its end above the sump floor", within: ["0 mm", "5 m"] }),
  to: derived(words("name of the sump chamber it drains into", 40), "the first chamber"),
});

const returnLine = section("From the sump back up to the tank.", {
  pump: z
    .union([flow({ about: "free flow on the label", within: ["20 L/h", "200000 L/h"] }), pump])
    .transform((p): z.output<typeof pump> => (typeof p === "number" ? { ...pump.parse({}), flow: p } : p))
    .meta({ description: "label flow of the pump, or a section with its curve" }),
  outlet: derived(
    length({
      about: "depth of the single outlet's lowest opening below the running water surface",
      within: ["0 mm", "2 m"],
      usual: ["5 mm", "300 mm"],
    }),
    "50 mm",
  ),
  hole: derived(orNone(hole, "siphon-break hole of the single outlet"), "none: never trusted without being told"),
  nozzles: list(nozzle, "the outlets, when there is more than one or they differ; instead of outlet and hole", 12).optional(),
  bore: derived(
    length({ about: "inner diameter of the riser", within: ["5 mm", "200 mm"], usual: ["12 mm", "75 mm"] }),
    "for about 1.2 m/s at two thirds of the label flow",
  ),
  length: derived(length({ about: "length of the riser", within: ["100 mm", "50 m"] }), "the lift, the tank's height and 500 mm"),
  roughness,
  fittings: usually(fittings, { bends: 3, unions: 1 }, COMMON),
  valve: usually(share({ about: "opening of the throttling valve", within: ["1 %", "100 %"] }), "100 %", ASSUMED),
  "check valve": usually(
    oneOf(["none", "seals", "weeps", "stuck open"], "valve against backward flow, and how well it works"),
    "none",
    COMMON,
  ),
  "check valve leak": onlyWith(
    usually(
      flow({ about: "leak of a weeping check valve under 1 m of water", within: ["0 L/h", "2000 L/h"] }),
      "20 L/h",
      ASSUMED,
    ),
    "check valve",
    "weeps",
  ),
  branches: usually(list(branch, "side branches", 8), [], "none told"),
});

/** Generic types of media, or `own` with its figures given. */
const MEDIA_KINDS = ["own", ...MEDIA_TYPES.map((type) => type.kind)] as const;

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
  void: derived(share({ about: "empty share of the packed volume", within: ["20 %", "99 %"] }), "by the kind"),
  piece: derived(length({ about: "size of one piece", within: ["1 mm", "500 mm"] }), "by the kind"),
});

const prefilter = section("A pad the water passes before the media.", {
  grade: usually(oneOf(["coarse", "medium", "fine"], "coarse foam, floss, or fine felt"), "medium", COMMON),
  size: derived(size(2, "plan of the pad"), "the plan of the tower"),
  thickness: usually(length({ about: "thickness", within: ["2 mm", "300 mm"] }), "30 mm", COMMON),
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

const tower = section("A column of media in air, with water trickling through.", {
  name: usually(words("what to call it", 40), "tower", ASSUMED),
  plan: derived(size(2, "length x width of the media", [0.08, 1.5]), "a third of the sump's length by its width"),
  depth: usually(length({ about: "depth of the media", within: ["20 mm", "4 m"], usual: ["100 mm", "1.5 m"] }), "250 mm", COMMON),
  grate: derived(
    length({ about: "height of the grate under the media above the sump floor", within: ["0 mm", "5 m"] }),
    "20 mm above the running water of the chamber below it",
  ),
  media: usually(media, {}, COMMON),
  distribution: usually(
    oneOf(["drip plate", "fixed spray", "rotating arm", "one-sided"], "how water is spread over the media"),
    "drip plate",
    COMMON,
  ),
  wetted: share({ about: "wetted share of the media, when measured; else computed", within: ["1 %", "100 %"] }).optional(),
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
  "drains to": derived(words("name of the sump chamber below it", 40), "the first chamber"),
});

const equipment = section("Something that takes up room in a chamber: pump, heater, box.", {
  plan: area({ about: "its footprint", within: ["1 cm2", "5 m2"] }),
  from: usually(
    length({ about: "height of its underside above the chamber floor", within: ["0 mm", "2 m"] }),
    "0 mm",
    "stands on the floor",
  ),
  top: length({ about: "height of its top above the chamber floor", within: ["1 mm", "3 m"] }),
});

const submerged = section("Media lying under water.", {
  volume: volume({ about: "packed volume", within: ["0.1 L", "10000 L"] }),
  kind: usually(oneOf(MEDIA_KINDS, "generic type; own: with surface and void given"), "foam 20 ppi", COMMON),
  surface: derived(
    specificSurface({ about: "surface of a packed cubic metre", within: ["5 m2/m3", "10000 m2/m3"] }),
    "by the kind",
  ),
  void: derived(share({ about: "empty share of the packed volume", within: ["20 %", "99 %"] }), "by the kind"),
});

const chamber = section("One compartment of the sump.", {
  name: words("what to call it", 40),
  role: oneOf(["inlet", "settling", "media", "heater", "return"], "what it is for; the last chamber is the return"),
  length: length({ about: "inner length along the sump", within: ["20 mm", "10 m"] }),
  equipment: usually(list(equipment, "things standing in it", 12), [], "none told"),
  media: submerged.optional(),
});

const baffle = section("A plate between one chamber and the next.", {
  kind: usually(oneOf(["over", "under", "over and under"], "where water passes it"), "over", COMMON),
  top: derived(
    length({ about: "height of its upper edge above the sump floor", within: ["0 mm", "3 m"] }),
    "the sump's rim for a plate water passes under",
  ),
  gap: usually(length({ about: "clear gap under it", within: ["0 mm", "1 m"] }), "0 mm", "stands on the floor"),
});

const sump = oneSize(
  section("The lower tank.", {
    ...vessel,
    water: length({
      about: "water in the return chamber while running, above the sump's floor",
      within: ["10 mm", "3 m"],
      usual: ["100 mm", "600 mm"],
    }),
    chambers: derived(
      list(chamber, "compartments in flow order, the return last", 12).min(1, { error: "at least one chamber" }),
      "one open compartment",
    ),
    baffles: derived(
      list(baffle, "plates between the chambers, one fewer than the chambers", 11),
      "plates that water passes over, 20 mm above the running level",
    ),
  }),
);

const topOff = section("Automatic replacement of evaporated water.", {
  reservoir: volume({ about: "water in its reservoir", within: ["0.1 L", "5000 L"] }),
  flow: usually(flow({ about: "flow of its pump", within: ["1 L/h", "5000 L/h"] }), "60 L/h", ASSUMED),
  "on below": derived(
    length({ about: "return-chamber level that switches it on", within: ["0 mm", "3 m"] }),
    "5 mm below the running level",
  ),
  "off above": derived(
    length({ about: "return-chamber level that switches it off", within: ["0 mm", "3 m"] }),
    "the running level",
  ),
  salinity: usually(
    salinity({ about: "salinity of the water in it", within: ["0 ppt", "45 ppt"] }),
    "0 ppt",
    "fresh water replaces what evaporates",
  ),
});

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
});

const cabinet = section("The cabinet the sump stands in.", {
  inside: size(3, "inside: length x width x height"),
  door: size(2, "clear opening: width x height"),
});

const stand = section("What stands on the floor.", {
  footprint: size(2, "plan of the stand on the floor"),
  "dry mass": derived(
    mass({ about: "mass of stand, tanks and equipment without water", within: ["1 kg", "20000 kg"] }),
    "walls from their size, and 40 kg of stand for each square metre",
  ),
});

/** Every key that describes the built thing. */
export const rigFields = {
  tank: oneOrMany(tank, "the display tank", 12),
  sump,
  tower: derived(orNone(oneOrMany(tower, "the trickle tower", 4), "the trickle tower"), "one, above the first chamber"),
  return: returnLine,
  "top off": usually(orNone(topOff, "automatic top-off"), "none", "none told"),
  room: usually(room, {}, COMMON),
  cabinet: cabinet.optional(),
  stand: stand.optional(),
};
