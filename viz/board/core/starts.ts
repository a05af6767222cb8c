// Start: six starting points of our own design, and five questions with defaults for unknown answers.
import { dataOf, type Edit, editedText, type Plain, valueAt } from "../../../scenarios/load/edits.ts";
import { parseSize } from "../../../scenarios/text/sizes.ts";
import { parseQuantity } from "../../../scenarios/text/units.ts";

export interface Start {
  readonly id: string;
  readonly title: string;
  readonly about: string;
  readonly text: string;
}

const FIRST = `# Begun at the drawing board.
sumpwright: 1
name: My first tank
question: When may the fish go in, and does the sump hold when the power goes?
tank: { outside: 80 x 35 x 40 cm, water line: 40 mm }
sump: { outside: 50 x 30 x 35 cm, water: 16 cm } # water in the last chamber while the pump runs
return: { pump: 1500 L/h, outlet: 30 mm, hole: none } # outlet: how deep it ends under water
food: 1 g/day # when all fish are in
water: { temperature: 25 °C }
days: 60
`;

const TOWER = `# Begun at the drawing board.
sumpwright: 1
name: Tank with a wet-dry tower
question: When is the tower ready for the fish, and how much food can it take?
tank: { outside: 120 x 50 x 55 cm, water line: 40 mm, overflow: { weir: 300 mm } }
tower: { plan: 280 x 300 mm, depth: 300 mm, media: { kind: hollow plastic ball 40 mm }, distribution: drip plate }
sump:
  outside: 80 x 40 x 40 cm
  water: 18 cm # in the return chamber while the pump runs
  chambers:
    - { name: under the tower, role: inlet, length: 38 cm }
    - { name: foam, role: media, length: 14 cm, media: { volume: 8 L, kind: foam 20 ppi } }
    - { name: return, role: return, length: 25 cm, equipment: { plan: 120 cm2, top: 150 mm } }
  baffles:
    - { kind: over, top: 215 mm }
    - { kind: over, top: 205 mm }
return: { pump: 2500 L/h, outlet: 40 mm, hole: { bore: 5 mm, depth: 15 mm } }
food: 4 g/day # when all fish are in
water: { temperature: 25 °C }
days: 60
`;

const MARINE = `# Begun at the drawing board.
sumpwright: 1
name: Marine tank with a hang-on box
question: Does the siphon start again when the power is back, and where does the water go?
tank:
  outside: 100 x 40 x 50 cm
  water line: 30 mm
  overflow:
    kind: hang-on
    weir: 180 mm
    box: 180 x 110 x 220 mm
    siphon: { tubes: 1, bore: 32 mm, length: 420 mm, stays full: true }
    drains: { kind: open, bore: 32 mm }
sump:
  outside: 70 x 35 x 38 cm
  water: 17 cm
  chambers:
    - { name: drip side, role: inlet, length: 36 cm }
    - { name: return, role: return, length: 31 cm, equipment: { plan: 120 cm2, top: 140 mm } }
  baffles: { kind: over, top: 200 mm }
return: { pump: 2000 L/h, outlet: 30 mm, hole: { bore: 5 mm, depth: 12 mm } }
top off: { reservoir: 12 L }
cycle: { until: day 42 } # ammonia from a bottle, so that the bacteria are there before the fish
water: { temperature: 25 °C, salinity: 35 ppt }
stock:
  - { name: small marine fish, count: 4, mass: 15 g, arrives: day 45 }
days: 75
`;

const SEVERAL = `# Begun at the drawing board.
sumpwright: 1
name: Three tanks on one sump
question: Does one sump hold what three tanks send down together?
tank:
  - { name: left, outside: 60 x 35 x 40 cm, water line: 40 mm, above sump: 80 cm, overflow: { weir: 180 mm } }
  - { name: middle, outside: 60 x 35 x 40 cm, water line: 40 mm, above sump: 80 cm, overflow: { weir: 180 mm } }
  - { name: right, outside: 60 x 35 x 40 cm, water line: 40 mm, above sump: 80 cm, overflow: { weir: 180 mm } }
tower: { plan: 300 x 300 mm, depth: 300 mm, media: { kind: plastic ring 25 mm } }
sump: { outside: 100 x 45 x 45 cm, water: 20 cm }
return:
  pump: 4500 L/h
  bore: 32 mm
  nozzles:
    - { tank: left, bore: 16 mm, depth: 30 mm, hole: { bore: 4 mm, depth: 10 mm } }
    - { tank: middle, bore: 16 mm, depth: 30 mm, hole: { bore: 4 mm, depth: 10 mm } }
    - { tank: right, bore: 16 mm, depth: 30 mm, hole: { bore: 4 mm, depth: 10 mm } }
cycle: { until: day 37 } # ammonia from a bottle, so that the bacteria are there before the fish
stock:
  - { name: young fish, count: 60, mass: 3 g, arrives: day 40 }
water: { temperature: 25 °C }
days: 75
`;

const CLOSED = `# Begun at the drawing board.
sumpwright: 1
name: Tank with a closed filter
question: May the closed filter start by itself after a power cut?
tank: { outside: 100 x 45 x 50 cm, water line: 40 mm, overflow: { weir: 250 mm } }
tower: { plan: 250 x 280 mm, depth: 250 mm }
sump: { outside: 70 x 38 x 40 cm, water: 18 cm }
closed filter: { name: closed filter, water: 7 L, flow: 500 L/h, power: 12 W }
return: { pump: 2000 L/h, outlet: 40 mm, hole: { bore: 5 mm, depth: 15 mm } }
stock:
  - { name: shoal, count: 40, mass: 2.5 g }
water: { temperature: 25 °C }
seed: mature
power cut: { for: 12 h }
days: 30
`;

const EMPTY = `# Begun at the drawing board.
sumpwright: 1
name: A new system
`;

export const STARTS: readonly Start[] = [
  { id: "first", title: "A first tank", about: "One tank, a sump below, a small tower. Nothing lives in it yet.", text: FIRST },
  {
    id: "tower",
    title: "A tank with a wet-dry tower",
    about: "Three chambers, a tower of plastic balls, run in without fish.",
    text: TOWER,
  },
  {
    id: "marine",
    title: "Marine, with a box hung on",
    about: "Salt water, and no hole in the glass: a siphon lifts the water over.",
    text: MARINE,
  },
  { id: "several", title: "Several tanks on one sump", about: "Three tanks send their water down together.", text: SEVERAL },
  {
    id: "closed",
    title: "With a closed filter beside",
    about: "A sealed filter helps the tower; the question is the power cut.",
    text: CLOSED,
  },
  { id: "empty", title: "An empty sheet", about: "No part yet: add what you have, one by one.", text: EMPTY },
];

/** One of the offered answers of a question. */
export interface Choice {
  readonly id: string;
  readonly title: string;
  readonly about: string;
  readonly edits: readonly Edit[];
}

export interface Entry {
  readonly id: string;
  readonly label: string;
  readonly example: string;
  readonly path: readonly (string | number)[];
}

export interface FirstQuestion {
  readonly id: "tank" | "sump" | "pump" | "down" | "food";
  readonly title: string;
  readonly help: string;
  readonly choices: readonly Choice[];
  /** Text entries instead of a choice. */
  readonly entries: readonly Entry[];
  /** Description of the default for "I don't know", in addition to the starting point. */
  readonly unknown: string;
}

const set = (path: readonly (string | number)[], value: Plain): Edit => ({ do: "set", path, value });

const tankOf = (id: string, title: string, outside: string, sump: string, water: string, pump: string): Choice => ({
  id,
  title,
  about: outside,
  edits: [
    set(["tank", 0, "outside"], outside),
    set(["sump", "outside"], sump),
    set(["sump", "water"], water),
    set(["return", "pump"], pump),
  ],
});

const drain = (kind: string): Plain => ({ kind });

/** The five questions, in order of flow. The text beside a choice states its effect. */
export const QUESTIONS: readonly FirstQuestion[] = [
  {
    id: "tank",
    title: "How large is the tank?",
    help: "Outside, with a tape: length, depth from front to back, height.",
    choices: [
      tankOf("60", "about 60 L", "60 x 30 x 36 cm", "40 x 25 x 30 cm", "12 cm", "800 L/h"),
      tankOf("110", "about 110 L", "80 x 35 x 40 cm", "50 x 30 x 35 cm", "16 cm", "1500 L/h"),
      tankOf("200", "about 200 L", "100 x 40 x 50 cm", "60 x 35 x 40 cm", "18 cm", "2000 L/h"),
      tankOf("330", "about 330 L", "120 x 50 x 55 cm", "80 x 40 x 40 cm", "18 cm", "3000 L/h"),
    ],
    entries: [{ id: "tank-size", label: "or its size", example: "100 x 40 x 50 cm", path: ["tank", 0, "outside"] }],
    unknown: "the tank of the starting point stays as drawn",
  },
  {
    id: "sump",
    title: "How large is the sump, and how high does its water stand?",
    help: "The water of the last chamber, the one with the pump, while everything runs.",
    choices: [],
    entries: [
      { id: "sump-size", label: "Sump, outside", example: "60 x 35 x 40 cm", path: ["sump", "outside"] },
      { id: "sump-water", label: "Water while running, from its floor", example: "18 cm", path: ["sump", "water"] },
    ],
    unknown: "a sump of usual size for this tank, filled to somewhat under half",
  },
  {
    id: "pump",
    title: "What does the label of the return pump say?",
    help: "The largest flow, in L/h or US gph. What arrives upstairs is less: that is worked out.",
    choices: [],
    entries: [{ id: "pump-flow", label: "Flow on the label", example: "2000 L/h", path: ["return", "pump"] }],
    unknown: "the pump of the starting point: about ten times the tank's water in an hour",
  },
  {
    id: "down",
    title: "How does the water get down?",
    help: "Look at the tank from behind.",
    choices: [
      {
        id: "open",
        title: "A hole and one pipe",
        about: "Water and air go down together.",
        edits: [set(["tank", 0, "overflow"], { kind: "drilled", drains: drain("open") })],
      },
      {
        id: "two",
        title: "A full pipe with a valve, and a dry one",
        about: "Quiet; the second pipe is there for the day the first is blocked.",
        edits: [
          set(["tank", 0, "overflow"], {
            kind: "drilled",
            drains: [drain("throttled siphon"), drain("dry emergency")],
          }),
        ],
      },
      {
        id: "hung",
        title: "A box hung on the glass",
        about: "A siphon tube lifts the water over the edge.",
        edits: [set(["tank", 0, "overflow"], { kind: "hang-on", siphon: { tubes: 1 }, drains: drain("open") })],
      },
    ],
    entries: [],
    unknown: "as in the starting point; drilled with open pipes is most common",
  },
  {
    id: "food",
    title: "How much food, or how many fish?",
    help: "When everybody is in. Weigh the food, or count: a pinch between two fingers is about 0.1 g.",
    choices: [
      { id: "light", title: "A few small fish", about: "0.5 g of food a day", edits: [set(["food"], "0.5 g/day")] },
      { id: "usual", title: "A well-filled community", about: "2 g of food a day", edits: [set(["food"], "2 g/day")] },
      { id: "heavy", title: "Large fish, or many", about: "8 g of food a day", edits: [set(["food"], "8 g/day")] },
    ],
    entries: [{ id: "food-amount", label: "or the food of a day", example: "2 g/day", path: ["food"] }],
    unknown: "the food of the starting point",
  },
];

const MM = 1000;
const mm = (metres: number): string => `${Math.round(metres * MM)} mm`;

interface SumpMeasure {
  /** Length, width, height [m]. */
  readonly size: readonly number[];
  readonly water: number;
}

/** Size and water of the sump in the data; null if they cannot be parsed. */
function measureOf(data: unknown): SumpMeasure | null {
  const size = valueAt(data, ["sump", "outside"]) ?? valueAt(data, ["sump", "inside"]);
  const water = valueAt(data, ["sump", "water"]);
  if (typeof size !== "string" || typeof water !== "string") return null;
  const read = parseSize(size, 3);
  const level = parseQuantity(water, "length");
  return read.ok && level.ok ? { size: read.metres, water: level.value } : null;
}

/**
 * Scales the contents of the sump to another size: chambers with its length, baffles with its water level, the tower with
 * its plan area. Only for a starting point, whose interior is not measured yet.
 */
export function fittedSump(before: unknown, after: unknown): readonly Edit[] {
  const [old, now] = [measureOf(before), measureOf(after)];
  if (!old || !now) return [];
  const long = now.size[0] / old.size[0];
  const wide = now.size[1] / old.size[1];
  const edits: Edit[] = [];
  const scaled = (path: readonly (string | number)[], by: number): void => {
    const text = valueAt(after, path);
    const read = typeof text === "string" ? parseQuantity(text, "length") : null;
    if (read?.ok && Math.abs(by - 1) > 0.005) edits.push(set(path, mm(Math.floor(read.value * by * MM) / MM)));
  };
  const count = (path: readonly (string | number)[]): number => {
    const list = valueAt(after, path);
    return Array.isArray(list) ? list.length : list === undefined ? 0 : 1;
  };
  for (let i = 0; i < count(["sump", "chambers"]); i++) {
    scaled(["sump", "chambers", i, "length"], Math.abs(long - 1) > 0.005 ? long * 0.985 : 1);
    const media = valueAt(after, ["sump", "chambers", i, "media", "volume"]);
    const read = typeof media === "string" ? parseQuantity(media, "volume") : null;
    const share = long * wide * (now.water / old.water);
    if (read?.ok && Math.abs(share - 1) > 0.005)
      edits.push(set(["sump", "chambers", i, "media", "volume"], `${Number((read.value * MM * share).toPrecision(2))} L`));
  }
  for (let i = 0; i < count(["sump", "baffles"]); i++) {
    const text = valueAt(after, ["sump", "baffles", i, "top"]);
    const read = typeof text === "string" ? parseQuantity(text, "length") : null;
    if (read?.ok && Math.abs(now.water - old.water) > 0.0005)
      edits.push(set(["sump", "baffles", i, "top"], mm(Math.min(now.water + (read.value - old.water), now.size[2] - 0.02))));
  }
  for (let i = 0; i < count(["tower"]); i++) {
    const plan = valueAt(after, ["tower", i, "plan"]);
    const read = typeof plan === "string" ? parseSize(plan, 2) : null;
    if (read?.ok && (Math.abs(long - 1) > 0.005 || Math.abs(wide - 1) > 0.005))
      edits.push(
        set(["tower", i, "plan"], `${Math.floor(read.metres[0]! * long * MM)} x ${Math.floor(read.metres[1]! * wide * MM)} mm`),
      );
  }
  return edits;
}

/** A starting point with the given answers, in the order of the questions. */
export function answered(text: string, answers: readonly (readonly Edit[])[]): string {
  const before = dataOf(text);
  let now = text;
  for (const edit of answers.flat()) now = editedText(now, [edit]);
  for (const edit of fittedSump(before, dataOf(now))) now = editedText(now, [edit]);
  return now;
}
