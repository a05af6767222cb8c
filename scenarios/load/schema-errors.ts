// Turns schema errors into plain words: it chooses the alternative that was meant and suggests the nearest key or word.
import type * as z from "zod";
import { choicesOf } from "../fields/examples.ts";
import { keysAt, placesOf, schemasAt } from "../fields/insides.ts";
import { scenarioSchema } from "../schema/schema.ts";
import { holding, nearest } from "../text/suggest.ts";
import { EVENT_NAMES } from "../timeline/all.ts";

/** One error, and what to underline. `problem` may be slow to compute; it is called only for errors that are shown. */
export interface Complaint {
  readonly path: readonly PropertyKey[];
  readonly problem: string;
  readonly at: "key" | "value";
  readonly part?: { readonly offset: number; readonly length: number };
}

type Issue = z.core.$ZodIssue;

/**
 * The branch of a union that was meant: among those without an error about the value itself, the one with the fewest
 * errors; null when there is none.
 */
function meant(branches: readonly (readonly Issue[])[]): readonly Issue[] | null {
  const fitting = branches.filter(
    (issues) =>
      !issues.some((issue) => issue.path.length === 0 && (issue.code === "invalid_type" || issue.code === "invalid_value")),
  );
  return fitting.length > 0 ? fitting.reduce((best, issues) => (issues.length < best.length ? issues : best)) : null;
}

/** Keys that newcomers write, with the keys of the format that they mean; the first one allowed in that place is suggested. */
const OTHER_KEYS: Readonly<Record<string, readonly string[]>> = {
  size: ["outside", "inside", "bore", "plan"],
  dimensions: ["outside", "inside", "plan"],
  volume: ["outside"],
  litres: ["outside"],
  liters: ["outside"],
  gallons: ["outside"],
  capacity: ["outside"],
  diameter: ["bore"],
  pipe: ["bore"],
  width: ["bore", "outside"],
  height: ["outside", "above sump", "top", "head"],
  "water level": ["water line", "water"],
  "water height": ["water line", "water"],
  "water depth": ["water line", "water"],
  level: ["water line", "water"],
  substrate: ["gravel"],
  sand: ["gravel"],
  rocks: ["rock"],
  standpipe: ["drains"],
  outlets: ["nozzles"],
  returns: ["nozzles"],
  "siphon break": ["hole"],
  "siphon hole": ["hole"],
  "anti-siphon hole": ["hole"],
  manifold: ["branches"],
  reactors: ["branches"],
  temp: ["temperature"],
  alkalinity: ["kh"],
  hardness: ["kh"],
  salt: ["salinity"],
  type: ["kind", "do"],
  event: ["do"],
  action: ["do"],
  when: ["at"],
  day: ["at"],
  amount: ["share", "count"],
  number: ["count"],
  quantity: ["count"],
  weight: ["mass", "dry mass"],
  duration: ["for", "days"],
  title: ["name"],
  species: ["kind", "name"],
  description: ["notes"],
  comment: ["notes"],
  tanks: ["tank"],
  display: ["tank"],
  aquarium: ["tank"],
  fish: ["stock"],
  animals: ["stock"],
  livestock: ["stock"],
  inhabitants: ["stock"],
  events: ["timeline"],
  schedule: ["timeline"],
  filter: ["tower"],
  "trickle tower": ["tower"],
  canister: ["closed filter"],
  ato: ["top off"],
  skimmer: ["foam fractionator"],
  feeding: ["food"],
  feed: ["food"],
  bacteria: ["seed"],
  test: ["kit"],
  tests: ["kit"],
  "test kit": ["kit"],
};

/** Hint for everyone who looks for an event that adds animals. */
const ANIMALS =
  "no event adds animals: they are listed under stock, each group with the day it comes: { name: tetras, count: 10, mass: 2 g, arrives: day 40 }";

/** Words that people write instead of the format's words, each with the right word or with advice. */
const OTHER_WORDS: Readonly<Record<string, readonly string[] | string>> = {
  "add fish": ANIMALS,
  "add animals": ANIMALS,
  "add livestock": ANIMALS,
  stock: ANIMALS,
  "change water": ["water change"],
  "clean filter": ["rinse media", "change pad"],
  "rinse filter": ["rinse media", "change pad"],
  "clean media": ["rinse media"],
  "power outage": ["power cut"],
  outage: ["power cut"],
  "power off": ["power cut"],
  blackout: ["power cut"],
  fast: ["feed"],
  overfeed: ["feed"],
  medicate: ["medicine"],
  buffer: ["add bicarbonate"],
  "bio balls": ["hollow plastic ball 40 mm", "hollow plastic ball 25 mm"],
  bioballs: ["hollow plastic ball 40 mm", "hollow plastic ball 25 mm"],
  lava: ["porous ceramic or lava 10 mm"],
  sponge: ["foam 20 ppi"],
  cycled: ["mature"],
  yes: ["true"],
  no: ["false", "none"],
};

const LONGEST_QUOTE = 60;
/** The written text in quotes, shortened when it is very long. */
const quoted = (text: string): string => `"${text.length > LONGEST_QUOTE ? `${text.slice(0, LONGEST_QUOTE)}…` : text}"`;

const either = (words: readonly string[]): string => words.map(quoted).join(" or ");

const placesByRoot = new WeakMap<z.ZodType, ReadonlyMap<string, readonly string[]>>();
function placesIn(root: z.ZodType): ReadonlyMap<string, readonly string[]> {
  const places = placesByRoot.get(root) ?? placesOf(root);
  placesByRoot.set(root, places);
  return places;
}

/** The known key, among those allowed in this place, that an unknown key means. */
const meantKey = (key: string, known: readonly string[]): string | null =>
  nearest(key, known) ?? OTHER_KEYS[key.toLowerCase()]?.find((other) => known.includes(other)) ?? null;

const MOST_PLACES = 3;

function unknownKey(key: string, known: readonly string[], root: z.ZodType): string {
  const here = `there is no key ${quoted(key)} here`;
  const guess = meantKey(key, known);
  if (guess) return `${here}: did you mean "${guess}"?`;
  const everywhere = placesIn(root);
  const elsewhere = everywhere.has(key) ? key : OTHER_KEYS[key.toLowerCase()]?.find((other) => everywhere.has(other));
  const all = elsewhere ? everywhere.get(elsewhere)! : [];
  if (all.includes("")) return `${here}: "${elsewhere}" belongs at the left edge, in line with "name"`;
  const lasting = all.filter((place) => !place.startsWith("timeline"));
  const places = lasting.length > 0 ? lasting : all;
  if (places.length > 0 && places.length <= MOST_PLACES)
    return `${here}: "${elsewhere}" belongs under ${new Intl.ListFormat("en", { type: "disjunction" }).format(places.map(quoted))}`;
  return `${here}. Possible keys: ${known.join(", ")}`;
}

const valueAt = (input: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (value, key) => (typeof value === "object" && value !== null ? (value as Record<PropertyKey, unknown>)[key] : undefined),
    input,
  );

/** The problem with a suggestion: the nearest allowed word, or the format's word for a common alternative. */
function withHint(problem: string, written: unknown, allowed: readonly unknown[]): string {
  if (typeof written !== "string") return problem;
  const words = allowed.filter((a) => typeof a === "string");
  const other = OTHER_WORDS[written.trim().toLowerCase()];
  if (typeof other === "string") return words.some((word) => EVENT_NAMES.includes(word)) ? other : problem;
  const close = nearest(written, words);
  const guesses = close ? [close] : (other?.filter((word) => words.includes(word)) ?? holding(written, words));
  if (guesses.length === 0) return problem;
  const question = `did you mean ${either(guesses.slice(0, MOST_PLACES))}?`;
  // After a long list of allowed words, the question would be overlooked.
  return problem.length > LONGEST_BEFORE_HINT ? `${question} Otherwise ${problem}` : `${problem}: ${question}`;
}
const LONGEST_BEFORE_HINT = 100;

const allowedWords = (issues: readonly Issue[]): readonly unknown[] =>
  issues.flatMap((issue) => (issue.code === "invalid_value" ? issue.values : []));

/** Missing keys that a misspelt neighbour explains: `wtaer` where `water` is missing is one mistake. */
function explained(issues: readonly Issue[], base: readonly PropertyKey[], root: z.ZodType): ReadonlySet<string> {
  const found = new Set<string>();
  for (const issue of issues) {
    if (issue.code !== "unrecognized_keys") continue;
    const path = [...base, ...issue.path];
    const known = keysAt(root, path);
    for (const key of issue.keys.slice(0, MOST_EXPLAINED)) {
      const guess = meantKey(key, known);
      if (guess) found.add(JSON.stringify([...path, guess]));
    }
  }
  return found;
}
const MOST_EXPLAINED = 100;

/** The schema errors in plain words, each with its place. */
export function* complaintsOf(
  issues: readonly Issue[],
  base: readonly PropertyKey[],
  input: unknown,
  schema: z.ZodType = scenarioSchema,
): Generator<Complaint> {
  const slips = explained(issues, base, schema);
  for (const issue of issues) {
    const path = [...base, ...issue.path];
    const written = valueAt(input, path);
    if (written === undefined && slips.has(JSON.stringify(path))) continue;
    if (issue.code === "unrecognized_keys") {
      const known = keysAt(schema, path);
      for (const key of issue.keys)
        yield {
          path: [...path, key],
          at: "key",
          get problem() {
            return unknownKey(key, known, schema);
          },
        };
    } else if (issue.code === "invalid_union" && issue.errors.length > 0) {
      const branch = meant(issue.errors);
      if (branch) yield* complaintsOf(branch, path, input, schema);
      else {
        const missing = written === undefined ? "missing: " : "";
        const choices = [...new Set(schemasAt(schema, path).map(choicesOf))].join(", or ");
        yield { path, problem: withHint(`${missing}write ${choices}`, written, issue.errors.flatMap(allowedWords)), at: "value" };
      }
    } else if (issue.code === "invalid_value" || issue.code === "invalid_union") {
      const allowed = issue.code === "invalid_value" ? issue.values : EVENT_NAMES;
      yield { path, problem: withHint(issue.message, written, allowed), at: "value" };
    } else {
      const part =
        issue.code === "custom" && typeof issue.params?.offset === "number"
          ? { offset: issue.params.offset, length: Number(issue.params.length) }
          : undefined;
      yield { path, problem: issue.message, at: "value", ...(part ? { part } : {}) };
    }
  }
}
