// Scenario format of pump, riser, outlets, side branches and top-off.
import * as z from "zod";
import {
  anyNumber,
  derived,
  duration,
  flow,
  length,
  list,
  number,
  oneOf,
  oneOrMany,
  onlyWith,
  orNone,
  power,
  salinity,
  section,
  share,
  usually,
  volume,
  words,
} from "../fields/fields.ts";
import { ASSUMED, COMMON } from "../text/reasons.ts";
import { fittings, roughness } from "./pipes.ts";

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
  tank: derived(words("name of the tank", 40, false, "tank"), "the first tank"),
  bore: derived(length({ about: "inner diameter", within: ["3 mm", "150 mm"] }), "as the riser"),
  depth: length({
    about: "depth of its lowest opening below the running water surface",
    within: ["0 mm", "2 m"],
    usual: ["5 mm", "300 mm"],
  }),
  jet: usually(oneOf(["plain", "fanned"], "plain: round pipe end; fanned: flattened tip"), "plain", COMMON),
  hole: orNone(hole, "siphon-break hole"),
  tee: length({
    about: "height above the sump floor of the tee where its branch leaves the riser; left out: a pipe of its own from the pump",
    within: ["0 mm", "12 m"],
    example: "1.4 m",
  }).optional(),
  "branch bore": derived(
    length({ about: "inner diameter of the branch from its tee", within: ["3 mm", "150 mm"] }),
    "as the outlet",
  ),
  "branch length": derived(
    length({ about: "length of the branch from its tee", within: ["10 mm", "20 m"] }),
    "up to the tank's rim, and 300 mm",
  ),
  valve: usually(share({ about: "opening of the branch's own valve", within: ["0 %", "100 %"] }), "100 %", ASSUMED),
  open: usually(
    share({ about: "free share of the outlet; 0 % is blocked", within: ["0 %", "100 %"] }),
    "100 %",
    "a clean outlet",
  ),
});

const pump = section("The return pump.", {
  flow: derived(
    flow({ about: "free flow on the label", within: ["20 L/h", "200000 L/h"], usual: ["200 L/h", "40000 L/h"] }),
    "the end of the curve",
  ),
  head: derived(
    length({ about: "height on the label at which the flow stops", within: ["0.2 m", "60 m"] }),
    "estimated from the label flow, and high enough to reach the tank",
  ),
  curve: list(
    section("One point of the pump's curve.", {
      flow: flow({ about: "flow", within: ["0 L/h", "200000 L/h"], example: "2000 L/h" }),
      head: length({ about: "height at that flow", within: ["0 m", "60 m"], example: "1.5 m" }),
    }),
    "points of the pump's curve, from no flow to free flow; instead of label flow and head",
    20,
    "[{ flow: 0 L/h, head: 2.5 m }, { flow: 3000 L/h, head: 0 m }]",
  ).optional(),
  power: derived(
    power({ about: "electric power", within: ["1 W", "5000 W"], example: "40 W" }),
    "10 W for each 1000 L/h of label flow",
  ),
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
  timer: section("A timer that lets it run and stand by turns; the levels follow it, the days are computed as if it ran on.", {
    on: duration({ about: "how long it runs each time", within: ["10 s", "1 day"], example: "15 min" }),
    off: duration({ about: "how long it stands still each time", within: ["10 s", "1 day"], example: "15 min" }),
  }).optional(),
});

const body = section("A reactor, skimmer or steriliser on the branch, as a vessel with water in it.", {
  volume: volume({ about: "water in it when full", within: ["0.2 L", "500 L"], example: "4 L" }),
  height: usually(
    length({ about: "its inner height, to the lid or to the rim", within: ["50 mm", "2 m"], example: "400 mm" }),
    "400 mm",
    ASSUMED,
  ),
  floor: usually(
    length({ about: "height of its floor above the sump floor", within: ["0 mm", "3 m"] }),
    "0 mm",
    "it stands on the floor",
  ),
  lid: usually(oneOf(["closed", "open"], "closed: a lid that holds pressure; open: it can run over its rim"), "closed", COMMON),
  inlet: usually(
    length({ about: "height above its floor at which the feed ends; water runs back to it", within: ["0 mm", "2 m"] }),
    "10 mm",
    "fed from below (common practice, no published source)",
  ),
  "outlet mouth": derived(
    length({ about: "height of the mouth of its outlet above its floor", within: ["5 mm", "2 m"], example: "350 mm" }),
    "10 mm under the lid; of an open one at four fifths of its height",
  ),
  "outlet bore": derived(
    length({ about: "inner diameter of its outlet", within: ["3 mm", "150 mm"], example: "16 mm" }),
    "as the feed; of an open one twice as wide",
  ),
  "outlet length": usually(length({ about: "length of its outlet hose", within: ["20 mm", "20 m"] }), "600 mm", ASSUMED),
  stands: usually(
    oneOf(["beside the sump", "in the sump"], "in the sump: in the chamber it drains into, where it may run over"),
    "beside the sump",
    ASSUMED,
  ),
});

const branch = section("A side branch of the return that feeds something and drains back to the sump.", {
  name: words("what it feeds", 40, false, "reactor"),
  bore: length({ about: "inner diameter", within: ["2 mm", "100 mm"], example: "8 mm" }),
  length: usually(length({ about: "length", within: ["50 mm", "20 m"] }), "600 mm", ASSUMED),
  loss: usually(number({ about: "loss coefficient of its valve and device", within: [0, 100000] }), 10, ASSUMED),
  valve: usually(share({ about: "opening of its own valve", within: ["0 %", "100 %"] }), "100 %", ASSUMED),
  outlet: length({
    about: "height of its end above the sump floor; with a body, of the end of its outlet hose",
    within: ["0 mm", "5 m"],
    example: "300 mm",
  }),
  to: derived(words("name of the sump chamber it drains into; return: the last one", 40, false, "sump"), "the first chamber"),
  body: body.optional(),
});

export const returnLine = section("From the sump back up to the tank.", {
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
  hole: derived(orNone(hole, "siphon-break hole of the single outlet"), "none: a hole is trusted only when the file names it"),
  nozzles: oneOrMany(
    nozzle,
    "the outlets, when there is more than one or they differ; instead of outlet and hole",
    12,
  ).optional(),
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
  branches: usually(anyNumber(branch, "side branches", 8), [], "none given"),
  circuit: usually(
    words("name of the electric circuit its pump is on; with several, each is also tried alone", 40, false, "mains"),
    "mains",
    ASSUMED,
  ),
  backup: usually(
    duration({
      about: "for how long a battery runs its pump when the power fails; this affects the water levels",
      within: ["0 s", "30 days"],
    }),
    "0 s",
    "it stops with the power",
  ),
});

/** A further pump with a riser and outlets of its own. */
export const otherReturn = section("Another return pump, with a riser and outlets of its own.", {
  name: words("what to call it", 40, false, "second return"),
  ...returnLine.shape,
});

export const topOff = section("Automatic replacement of evaporated water.", {
  reservoir: volume({ about: "water in its reservoir", within: ["0.1 L", "5000 L"] }),
  flow: usually(flow({ about: "flow of its pump", within: ["1 L/h", "5000 L/h"] }), "60 L/h", ASSUMED),
  "on below": derived(
    length({ about: "return-chamber level that switches it on", within: ["0 mm", "3 m"], example: "175 mm" }),
    "5 mm below the running level",
  ),
  "off above": derived(
    length({ about: "return-chamber level that switches it off", within: ["0 mm", "3 m"], example: "180 mm" }),
    "the running level",
  ),
  salinity: usually(
    salinity({ about: "salinity of the water in it", within: ["0 ppt", "45 ppt"] }),
    "0 ppt",
    "fresh water replaces what evaporates",
  ),
});
