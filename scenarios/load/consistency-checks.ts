// Consistency between the keys of a scenario, which no single key can be checked for.

import { mediaType } from "../../models/tower/media.ts";
import { pow } from "../../sim/elementary.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import type { Scenario } from "../schema/schema.ts";
import { HYDRAULIC_OFFSETS } from "../schema/uncertain.ts";
import { type Inconsistency, unknownName } from "./inconsistency.ts";
import { returnMistakes } from "./return-checks.ts";

function* doubled(names: readonly string[], path: readonly PropertyKey[], what: string): Generator<Inconsistency> {
  for (const [i, name] of names.entries()) {
    if (names.indexOf(name) < i)
      yield { path: names.length > 1 ? [...path, i, "name"] : path, problem: `two ${what} are called "${name}"` };
  }
}

/** Largest number of events of a run, repeats included: limits time and memory. */
const MOST_MOMENTS = 20_000;

/** Largest mass of an animal [g], as the format allows. */
const HEAVIEST_ANIMAL_G = 50_000;

/** Largest share of a chamber's plan area that equipment may fill, and of a tank that rock may fill. */
const MOST_FILLED = 0.95;
const MOST_ROCK = 0.3;

/** Names reserved for the models' own places. */
const TAKEN = ["floor", "air", "reservoir", "outlet"];

/** A drain's `to` must be unambiguous: tanks, towers, chambers, joined tanks and closed filters share one set of names. */
function* shared(...kinds: readonly (readonly string[])[]): Generator<Inconsistency> {
  const seen = new Map<string, number>(TAKEN.map((name) => [name, -1]));
  const at = [["tank"], ["tower"], ["sump", "chambers"], ["closed filter"], ["sump", "joined"]];
  for (const [kind, names] of kinds.entries()) {
    for (const name of names) {
      const before = seen.get(name);
      if (before === -1)
        yield { path: at[kind]!, problem: `"${name}" is a word with a meaning of its own here: take another name` };
      else if (before !== undefined && before !== kind)
        yield { path: at[kind]!, problem: `"${name}" is already the name of another part` };
      seen.set(name, before ?? kind);
    }
  }
}

export const insideHeightM = (vessel: {
  outside?: readonly number[] | undefined;
  inside?: readonly number[] | undefined;
}): number => (vessel.inside ?? vessel.outside)![2]!;

/** Power cuts that begin during another one. */
function* overlappingCuts(s: Scenario): Generator<Inconsistency> {
  const cuts = s.timeline.flatMap((e, i) => {
    if (e.do !== "power cut") return [];
    const days = (e.for + (e["pump stuck"] ?? 0)) / SECONDS_PER_DAY;
    const every = e.every === undefined ? Number.POSITIVE_INFINITY : e.every / SECONDS_PER_DAY;
    const last = Math.min(e.until ?? s.days, s.days);
    const count = Number.isFinite(every) ? Math.floor(Math.max(0, last - e.at) / every) + 1 : 1;
    return Array.from({ length: Math.min(count, MOST_MOMENTS) }, (_, n) => {
      const from = n === 0 ? e.at : e.at + n * every;
      return { i, from, to: from + days };
    });
  });
  cuts.sort((a, b) => a.from - b.from);
  const reported = new Set<number>();
  for (const [n, cut] of cuts.entries()) {
    if (n === 0 || cut.from >= cuts[n - 1]!.to || reported.has(cut.i)) continue;
    reported.add(cut.i);
    yield { path: ["timeline", cut.i, "at"], problem: "this power cut begins before another has ended" };
  }
}

/** Closed filters that are connected to nothing, or hold less water than their media need. */
function* closedFilterInconsistencies(s: Scenario, vessels: readonly string[]): Generator<Inconsistency> {
  const filters = s["closed filter"] === "none" ? [] : s["closed filter"];
  for (const [i, c] of filters.entries()) {
    const at: PropertyKey[] = filters.length > 1 ? ["closed filter", i] : ["closed filter"];
    if (c.on !== undefined && !vessels.includes(c.on))
      yield { path: [...at, "on"], problem: unknownName(c.on, vessels, "tank or chamber") };
    const { kind, volume, surface, void: empty } = c.media;
    if (kind === "own" && (surface === undefined || empty === undefined))
      yield { path: [...at, "media"], problem: "media of kind own need a surface and a void" };
    const voidShare = empty ?? mediaType(kind)?.voidShare ?? 0;
    if (volume !== undefined && volume * voidShare > c.water)
      yield { path: [...at, "media", "volume"], problem: "these media have more room between them than the filter has water" };
    const tank = c.on === undefined ? s.tank[0] : s.tank.find((t) => t.name === c.on);
    const depth = tank ? insideHeightM(tank) : insideHeightM(s.sump);
    if (c.intake !== undefined && c.intake >= depth)
      yield { path: [...at, "intake"], problem: "the intake is below the floor of the vessel it hangs on" };
  }
}

/** Heat of lamps on a litre of tank above which no animal is kept (modelling assumption: bright reef lamps take about 1 W for each litre). */
const MOST_LAMP_W_PER_L = 1;

/**
 * Food on a litre of the tanks above which no water is kept [g/d]: two or three times the 2 g of the most crowded fish
 * farms, which hold 100 to 150 g of fish in a litre (from memory).
 */
const MOST_FOOD_G_PER_L = 5;

/** Amounts of food that no water of this size could take. */
function* impossibleFood(s: Scenario, litres: number): Generator<Inconsistency> {
  const given: [PropertyKey[], number][] = s.stock.map((group, i) => [["stock", i, "food"], group.food ?? 0]);
  if (s.food !== undefined) given.push(typeof s.food === "number" ? [["food"], s.food] : [["food", "amount"], s.food.amount]);
  s.timeline.forEach((event, i) => {
    if (event.do === "feed") given.push([["timeline", i, "extra"], event.extra]);
  });
  for (const [path, gPerDay] of given)
    if (gPerDay > MOST_FOOD_G_PER_L * litres)
      yield {
        path,
        problem: `more than ${MOST_FOOD_G_PER_L} g of food a day on each litre of the tanks: no water can take that`,
      };
}

/** All inconsistencies: names without a target, levels above rims, contradictory sizes. Empty when there are none. */
export function* inconsistencies(s: Scenario): Generator<Inconsistency> {
  const many = s.tank.length > 1;
  const tankPath = (i: number): PropertyKey[] => (many ? ["tank", i] : ["tank"]);
  const towers = s.tower === undefined || s.tower === "none" ? [] : s.tower;
  const chambers = s.sump.chambers ?? [];
  const tankNames = s.tank.map((t) => t.name);
  const towerNames = s.tower === undefined ? ["tower"] : towers.map((t) => t.name);
  const closed = s["closed filter"] === "none" ? [] : s["closed filter"];
  const closedNames = closed.map((c) => c.name);
  const chamberNames = s.sump.chambers ? chambers.map((c) => c.name) : ["sump"];

  yield* doubled(tankNames, ["tank"], "tanks");
  yield* doubled(towerNames, ["tower"], "towers");
  const joinedNames = s.sump.joined.map((j) => j.name);
  const sumpNames = [...chamberNames, ...joinedNames];
  yield* doubled(chamberNames, ["sump", "chambers"], "chambers");
  yield* doubled(joinedNames, ["sump", "joined"], "joined tanks");
  yield* doubled(closedNames, ["closed filter"], "closed filters");
  yield* shared(tankNames, towerNames, chamberNames, closedNames, joinedNames);
  for (const [i, j] of s.sump.joined.entries())
    if (j.to !== undefined && !chamberNames.includes(j.to))
      yield { path: ["sump", "joined", i, "to"], problem: unknownName(j.to, chamberNames, "chamber") };
    else if (j.height >= insideHeightM(j))
      yield { path: ["sump", "joined", i, "height"], problem: "the pipe lies above its rim" };
    else if (j.floor + j.height >= insideHeightM(s.sump))
      yield { path: ["sump", "joined", i, "height"], problem: "the pipe lies above the rim of the sump" };
  yield* closedFilterInconsistencies(s, [...tankNames, ...chamberNames]);
  const groups = s.stock.map((g) => g.name);
  for (const [i, { mass, growth, arrives, leaves }] of s.stock.entries()) {
    const days = Math.max(0, Math.min(leaves ?? s.days, s.days) - arrives);
    if (mass * pow(1 + (growth ?? 0), days) > HEAVIEST_ANIMAL_G)
      yield {
        path: ["stock", i, "growth"],
        problem: `after ${Math.round(days)} days of such growth one animal would weigh more than ${HEAVIEST_ANIMAL_G / 1000} kg`,
      };
  }
  yield* doubled(groups, ["stock"], "groups");

  const rim = insideHeightM(s.sump);
  if (s.sump.water >= rim) yield { path: ["sump", "water"], problem: "the water is above the sump's rim" };
  if (chambers.length > 0) {
    if (chambers[chambers.length - 1]!.role !== "return")
      yield { path: ["sump", "chambers", chambers.length - 1, "role"], problem: "the last chamber must be the return" };
    const total = chambers.reduce((sum, c) => sum + c.length, 0);
    const inner = (s.sump.inside ?? s.sump.outside)![0]!;
    if (total > inner * (1 + 1e-6))
      yield {
        path: ["sump", "chambers"],
        problem: `the chambers add up to ${Math.round(total * 1000)} mm, the sump is ${Math.round(inner * 1000)} mm long`,
      };
  }
  if (s.sump.baffles && s.sump.baffles.length !== Math.max(0, chambers.length - 1)) {
    yield {
      path: ["sump", "baffles"],
      problem: `write one baffle fewer than there are chambers: ${Math.max(0, chambers.length - 1)}, not ${s.sump.baffles.length}`,
    };
  }
  for (const [i, b] of (s.sump.baffles ?? []).entries()) {
    if (b.kind !== "over" && b.gap === 0)
      yield {
        path: ["sump", "baffles", i],
        problem: `a baffle that water passes ${b.kind === "under" ? "under" : "both ways"} needs a gap`,
      };
    if (b.kind !== "under" && b.top === undefined)
      yield { path: ["sump", "baffles", i], problem: "missing: top, the height of the edge that water passes over" };
  }
  for (const [i, c] of chambers.entries()) {
    const planM2 = c.length * (s.sump.inside ?? s.sump.outside)![1]!;
    const equipmentM2 = c.equipment.reduce((sum, e) => sum + e.plan, 0);
    if (equipmentM2 > MOST_FILLED * planM2)
      yield { path: ["sump", "chambers", i, "equipment"], problem: "it takes more room than the chamber has" };
    if (c.media && c.media.volume > planM2 * rim)
      yield { path: ["sump", "chambers", i, "media"], problem: "the media take more room than the chamber has" };
    if (c.sock && c.sock.count * c.sock.diameter * c.sock.diameter > MOST_FILLED * planM2)
      yield { path: ["sump", "chambers", i, "sock"], problem: "the socks take more room than the chamber has" };
    for (const [j, e] of c.equipment.entries())
      if (e.top <= e.from) yield { path: ["sump", "chambers", i, "equipment", j, "top"], problem: "top must be above from" };
  }
  for (const [i, t] of s.tank.entries()) {
    const [length, width, height] = (t.inside ?? t.outside)!;
    if ((t.rock ?? 0) > MOST_ROCK * length * width * (height - t.gravel))
      yield { path: [...tankPath(i), "rock"], problem: "the rock takes more room than the tank has" };
    if (t.gravel >= height) yield { path: [...tankPath(i), "gravel"], problem: "the gravel is deeper than the tank" };
    if ((t["water line"] ?? 0) >= insideHeightM(t))
      yield { path: [...tankPath(i), "water line"], problem: "the water line is below the tank's floor" };
    for (const [j, o] of t.overflow.entries()) {
      const at = [...tankPath(i), "overflow", ...(t.overflow.length > 1 ? [j] : [])];
      if (o.crest !== undefined && t["water line"] !== undefined && o.crest < t["water line"])
        yield {
          path: [...at, "crest"],
          problem: "this edge is above the running water: make the crest deeper than the water line",
        };
      for (const [k, d] of (o.drains ?? []).entries()) {
        if (d.to !== undefined && !towerNames.includes(d.to) && !sumpNames.includes(d.to)) {
          yield {
            path: [...at, "drains", ...(o.drains!.length > 1 ? [k] : []), "to"],
            problem: unknownName(d.to, [...towerNames, ...sumpNames], "tower or chamber"),
          };
        }
      }
    }
  }
  for (const [i, t] of towers.entries()) {
    const at: PropertyKey[] = towers.length > 1 ? ["tower", i] : ["tower"];
    if (t["drains to"] !== undefined && !chamberNames.includes(t["drains to"]))
      yield { path: [...at, "drains to"], problem: unknownName(t["drains to"], chamberNames, "chamber") };
    if (t.media.kind === "own" && (t.media.surface === undefined || t.media.void === undefined))
      yield { path: [...at, "media"], problem: "media of kind own need a surface and a void" };
  }
  for (const [i, c] of chambers.entries()) {
    if (c.media?.kind === "own" && (c.media.surface === undefined || c.media.void === undefined))
      yield { path: ["sump", "chambers", i, "media"], problem: "media of kind own need a surface and a void" };
  }
  const litres = s.tank.reduce((sum, t) => sum + 1000 * (t.inside ?? t.outside)!.reduce((size, edge) => size * edge, 1), 0);
  if (s.lamps > MOST_LAMP_W_PER_L * litres)
    yield {
      path: ["lamps"],
      problem: `more than ${MOST_LAMP_W_PER_L} W on each litre of the tanks would cook the water: write the mean of day and night, of what ends in the water`,
    };
  yield* impossibleFood(s, litres);
  yield* returnMistakes(["return"], s.return, s.sump.water, tankNames, chamberNames);
  for (const [i, other] of s["other returns"].entries())
    yield* returnMistakes(["other returns", i], other, s.sump.water, tankNames, chamberNames);
  if (s.hose !== "none" && s.hose.in !== undefined && ![...tankNames, ...chamberNames].includes(s.hose.in))
    yield { path: ["hose", "in"], problem: unknownName(s.hose.in, [...tankNames, ...chamberNames], "tank or chamber") };
  const bodies = [s.return, ...s["other returns"]].flatMap((line) => line.branches).filter((b) => b.body);
  const twice = bodies.find((b, i) => bodies.findIndex(({ name }) => name === b.name) !== i);
  if (twice) yield { path: ["return", "branches"], problem: `two reactors are called "${twice.name}"` };
  let moments = 0;
  for (const [i, e] of s.timeline.entries()) {
    const at = ["timeline", i];
    moments +=
      e.every === undefined ? 1 : Math.max(0, (Math.min(e.until ?? s.days, s.days) - e.at) / (e.every / SECONDS_PER_DAY)) + 1;
    if (moments > MOST_MOMENTS) {
      yield {
        path: at,
        problem: `with its repeats the timeline has more than ${MOST_MOMENTS} events: repeat it less often, or stop it earlier with until`,
      };
      break;
    }
    const filters = e.do === "wetting" ? towerNames : [...towerNames, ...closedNames];
    if ("tower" in e && e.tower !== undefined && !filters.includes(e.tower))
      yield {
        path: [...at, "tower"],
        problem: unknownName(e.tower, filters, e.do === "wetting" ? "tower" : "tower or closed filter"),
      };
    if (e.do === "feed" && e.group !== undefined && !groups.includes(e.group))
      yield { path: [...at, "group"], problem: unknownName(e.group, groups, "group") };
    if (e.until !== undefined && e.every === undefined)
      yield { path: [...at, "until"], problem: "until has no meaning without every" };
    if (e.do === "dose ammonia" || e.do === "dose nitrite" || e.do === "add chloride" || e.do === "add bicarbonate") {
      const poured = "volume" in e ? e.volume : undefined;
      const given = [e.to, e.add, "mass" in e ? e.mass : undefined, poured].filter((x) => x !== undefined).length;
      const ways = { "dose ammonia": ", add, volume or mass", "add bicarbonate": ", add or mass" }[e.do as string] ?? " or add";
      if (given !== 1) yield { path: at, problem: `write one of to${ways}` };
      if (e.do === "dose ammonia" && (e.volume === undefined) !== (e.strength === undefined))
        yield { path: at, problem: "volume and strength belong together: how much of the bottle, and how strong it is" };
    }
    if (e.at > s.days) yield { path: [...at, "at"], problem: `this is later than the ${s.days} days of the simulation` };
  }
  yield* overlappingCuts(s);
  for (const [id, range] of Object.entries(s.uncertain)) {
    if (typeof range !== "object" || Array.isArray(range)) continue;
    const { low, high } = range;
    // A length that is added has no likely value of its own.
    const likely = id in HYDRAULIC_OFFSETS ? (low + high) / 2 : ("likely" in range && range.likely) || 1;
    if (low > high) yield { path: ["uncertain", id, "low"], problem: "low is above high" };
    else if (likely < low || likely > high)
      yield {
        path: ["uncertain", id, "likely" in range && range.likely !== undefined ? "likely" : "low"],
        problem:
          !("likely" in range) || range.likely === undefined
            ? "100 % is not between low and high: write likely too"
            : "likely is not between low and high",
      };
  }
  for (const [i, { one, other }] of (s.uncertain.together ?? []).entries())
    if (one === other) yield { path: ["uncertain", "together", i, "other"], problem: "name two different inputs" };
  if (typeof s.seed === "object" && ((s.seed.low ?? 0) > s.seed.share || (s.seed.high ?? 1) < s.seed.share))
    yield { path: ["seed"], problem: "share must be between low and high" };
  for (const key of ["ammonia steps", "nitrite steps", "nitrate steps"] as const) {
    if (s.kit[key].some((step, i) => i > 0 && step <= s.kit[key][i - 1]!))
      yield { path: ["kit", key], problem: "each step must be larger than the one before" };
  }
}
