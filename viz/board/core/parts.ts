// The parts of a scenario as a tree in order of flow, derived from the format; every key belongs to one part.

import { type Shape, sections } from "../../../scenarios/fields/insides.ts";
import { type Path, type Plain, valueAt } from "../../../scenarios/load/edits.ts";
import type { LocatedError } from "../../../scenarios/load/yaml.ts";
import {
  type Described,
  describe,
  kindsOf,
  mayRepeat,
  schemaAt,
  sectionExample,
  shapeFor,
  takesOver,
} from "../../../scenarios/schema/describe.ts";
import { scenarioSchema } from "../../../scenarios/schema/schema.ts";
import { pathText } from "../../../scenarios/schema/walk.ts";

export interface Part {
  /** Keys and list indices; the path of a repeatable part ends in its index, even if it is the only one. */
  readonly path: Path;
  readonly title: string;
  /** Short description beside the title. */
  readonly gist: string;
  /** written: in the file; usual: omitted, with a default; absent: omitted, without a default. */
  readonly state: "written" | "usual" | "absent";
  readonly children: readonly Part[];
  /** Path of the list of this part; null if the part is not repeatable. */
  readonly list: Path | null;
  readonly errors: number;
}

export interface PartGroup {
  readonly title: string;
  readonly parts: readonly Part[];
}

/** Order of flow, then contents, management and questions. Keys that are new in the format come last. */
const ORDER: readonly (readonly [title: string, keys: readonly string[]])[] = [
  ["Where the water goes", ["tank", "tower", "sump", "return", "other returns", "closed filter", "top off", "measured"]],
  ["The water", ["water", "tap", "kit"]],
  ["What lives in it", ["stock", "food", "plants", "seed", "foam fractionator"]],
  ["What is done", ["cycle", "timeline", "readings", "hose"]],
  ["When the power fails", ["power cut", "neglect", "battery"]],
  ["The room and the stand", ["room", "cabinet", "stand"]],
  ["The question", ["ask"]],
];

const TITLES: Readonly<Record<string, string>> = {
  ph: "pH",
  kh: "KH",
  "top off": "Top-off",
  stock: "Animals",
  group: "Animals",
  at: "When",
  do: "What",
  "power cut": "Power cut that is tried",
  neglect: "Weeks nobody looks",
  hose: "Hoses of a water change",
  "other returns": "Other return pumps",
  measured: "Measured on the built thing",
  ask: "What must be proved",
  seed: "Bacteria brought along",
  cycle: "Cycle without animals",
  return: "Return",
  hole: "Siphon-break hole",
  "above sump": "Height above the sump",
  water: "Water",
};

/** Title of a key on the board. */
export const titleOf = (key: string): string => TITLES[key] ?? key.charAt(0).toUpperCase() + key.slice(1);

const SINGULAR: Readonly<Record<string, string>> = {
  stock: "animals",
  chambers: "chamber",
  baffles: "baffle",
  drains: "drain",
  nozzles: "outlet",
  branches: "branch",
  timeline: "event",
  readings: "reading",
  curve: "point",
  equipment: "piece of equipment",
  tubes: "tube",
};
/** Singular of a list key, for a button: "Add a drain". */
export const oneOf = (key: string): string => SINGULAR[key] ?? key;

const isPlain = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** Title of a list entry. */
function entryTitle(key: string, value: unknown, index: number, count: number): string {
  const own = isPlain(value) ? (value.name ?? value.label) : undefined;
  const word = isPlain(value) ? (value.do ?? value.role ?? value.kind) : undefined;
  const base = oneOf(key).charAt(0).toUpperCase() + oneOf(key).slice(1);
  if (typeof own === "string") return own;
  if (key === "timeline" && typeof word === "string") return word.charAt(0).toUpperCase() + word.slice(1);
  return count > 1 ? `${base} ${index + 1}` : base;
}

const GIST_KEYS = ["outside", "inside", "plan", "at", "kind", "role", "count", "flow", "bore", "amount", "temperature", "water"];

function gistOf(value: unknown): string {
  if (value === undefined || value === null) return "";
  if (Array.isArray(value)) return value.length === 0 ? "none" : "";
  if (!isPlain(value)) return typeof value === "boolean" ? (value ? "yes" : "no") : String(value);
  for (const key of GIST_KEYS) {
    const own = value[key];
    if (typeof own === "string" || typeof own === "number") return key === "count" ? `${own}` : String(own);
  }
  return "";
}

type Schema = Parameters<typeof sections>[0];

const stateOf = (value: unknown, described: Described): Part["state"] =>
  value !== undefined && value !== "none" && !(Array.isArray(value) && value.length === 0)
    ? "written"
    : described.standsIn === null || described.standsIn === "none" || value === "none"
      ? "absent"
      : "usual";

/** An error with its path, with list indices as in the parts. */
export interface PlacedError {
  readonly path: string;
  readonly problem: string;
  readonly line: number;
  readonly column: number;
}

const normal = (path: string): string => path.replaceAll("[1]", "");
export const errorsAt = (errors: readonly PlacedError[], path: Path): readonly PlacedError[] =>
  errors.filter((e) => normal(e.path) === normal(pathText(path)));
const under = (errors: readonly PlacedError[], path: Path): number => {
  const here = normal(pathText(path));
  return errors.filter((e) => normal(e.path) === here || normal(e.path).startsWith(`${here}.`)).length;
};

export const placed = (errors: readonly LocatedError[]): readonly PlacedError[] =>
  errors.map(({ path, problem, line, column }) => ({ path, problem, line, column }));

function partsOf(shape: Shape, value: unknown, path: Path, errors: readonly PlacedError[], keys?: readonly string[]): Part[] {
  return (keys ?? Object.keys(shape)).flatMap((key) => {
    const field = shape[key];
    return field && sections(field, true).length > 0 ? partsAt(key, field, value, path, errors) : [];
  });
}

function partsAt(key: string, field: Schema, parent: unknown, parentPath: Path, errors: readonly PlacedError[]): Part[] {
  const path = [...parentPath, key];
  const value = isPlain(parent) ? parent[key] : undefined;
  const described = describe(key, field);
  const one = (at: Path, inside: unknown, title: string, list: Path | null): Part => {
    const shape = shapeFor(field, inside);
    const open = isPlain(inside) || (inside === undefined && described.standsIn !== null && described.standsIn !== "none");
    return {
      path: at,
      title,
      gist: gistOf(inside),
      state: stateOf(inside, described),
      children: shape && open ? partsOf(shape, inside, at, errors) : [],
      list,
      errors: under(errors, at),
    };
  };
  if (!mayRepeat(field)) return [one(path, value, titleOf(key), null)];
  const entries = Array.isArray(value) ? value : value === undefined ? [] : [value];
  if (entries.length === 0) return [one([...path, 0], undefined, titleOf(key), path)];
  return entries.map((entry, i) => one([...path, i], entry, entryTitle(key, entry, i, entries.length), path));
}

/** The scenario as groups of parts. The first contains the scenario itself: its name, its question, its days. */
export function partGroups(data: unknown, errors: readonly PlacedError[]): readonly PartGroup[] {
  const shape = sections(scenarioSchema)[0]!;
  const listed = new Set(ORDER.flatMap(([, keys]) => keys));
  const rest = Object.keys(shape).filter((key) => !listed.has(key));
  const whole: Part = {
    path: [],
    title: "The whole",
    gist: isPlain(data) && typeof data.name === "string" ? data.name : "",
    state: "written",
    children: [],
    list: null,
    errors: errors.filter((e) => !/[.[]/.test(e.path) && !listed.has(e.path)).length,
  };
  return [
    { title: "", parts: [whole] },
    ...ORDER.map(([title, keys]) => ({ title, parts: partsOf(shape, data, [], errors, keys) })),
    { title: "More", parts: partsOf(shape, data, [], errors, rest) },
  ].filter(({ parts }) => parts.length > 0);
}

/** All parts as a flat list, in the order of the tree. */
export const flat = (groups: readonly PartGroup[]): readonly Part[] => {
  const list: Part[] = [];
  const add = (part: Part): void => {
    list.push(part);
    part.children.forEach(add);
  };
  for (const group of groups) group.parts.forEach(add);
  return list;
};

/** Path of the part that contains the path of an error: `sump.chambers[2].length` is in the second chamber. */
export function partHolding(groups: readonly PartGroup[], errorPath: string): Path {
  const path = normal(errorPath);
  let best: Path = [];
  for (const part of flat(groups)) {
    const own = normal(pathText(part.path));
    if (own !== "" && (path === own || path.startsWith(`${own}.`)) && own.length >= normal(pathText(best)).length)
      best = part.path;
  }
  return best;
}

export interface Field extends Described {
  readonly path: Path;
  readonly title: string;
  /** Value as written in the file; null if omitted. */
  readonly written: string | null;
  /** Whether the field applies, given the value of the related field. */
  readonly counts: boolean;
  readonly errors: readonly PlacedError[];
}

/** Contents of the inspector for one part. */
export interface Inspected {
  readonly path: Path;
  readonly title: string;
  readonly about: Described | null;
  /** The part as a word or a value, if it is not a section. */
  readonly short: string | null;
  /** Alternative forms of the part instead of a section. */
  readonly fields: readonly Field[];
  /** Words that change the kind of the section. */
  readonly kinds: { readonly key: string; readonly words: readonly string[] } | null;
  readonly isSection: boolean;
  readonly errors: readonly PlacedError[];
}

const writtenText = (value: unknown): string | null =>
  value === undefined || value === null
    ? null
    : Array.isArray(value)
      ? value.map((v) => String(v)).join(", ")
      : isPlain(value)
        ? null
        : typeof value === "boolean"
          ? value
            ? "yes"
            : "no"
          : String(value);

/** All data about the part at a path; null if the format has no such path. */
export function inspect(data: unknown, path: Path, errors: readonly PlacedError[]): Inspected | null {
  const schema = schemaAt(path, data);
  if (!schema) return null;
  const value = path.length === 0 ? data : valueAt(data, path);
  const key = [...path].reverse().find((step) => typeof step === "string") as string | undefined;
  const shape = shapeFor(schema, value);
  const kinds = kindsOf(schema);
  const fields = shape
    ? Object.entries(shape).flatMap(([name, field]): Field[] => {
        if (sections(field, true).length > 0) return [];
        const described = describe(name, field);
        const at = [...path, name];
        const [neighbour, word] = described.onlyWith ?? [];
        const present = neighbour === undefined ? undefined : valueAt(data, [...path, neighbour]);
        return [
          {
            ...described,
            path: at,
            title: titleOf(name),
            written: writtenText(valueAt(data, at)),
            counts: neighbour === undefined || present === word,
            errors: errorsAt(errors, at),
          },
        ];
      })
    : [];
  const index = path.at(-1);
  // The version of the format comes last.
  fields.sort((a, b) => Number(a.key === "sumpwright") - Number(b.key === "sumpwright"));
  return {
    path,
    title: key === undefined ? "The whole" : typeof index === "number" ? entryTitle(key, value, index, 2) : titleOf(key),
    about: key === undefined ? null : describe(key, fieldOf(path, data) ?? schema),
    short: path.length === 0 || isPlain(value) ? null : writtenText(value),
    fields,
    kinds,
    isSection: path.length === 0 || isPlain(value),
    errors: path.length === 0 ? [] : errorsAt(errors, path),
  };
}

/** Schema of the key with its default and reason, if the path ends in an index of its list. */
function fieldOf(path: Path, data: unknown): Schema | null {
  const end = path.findLastIndex((step) => typeof step === "string");
  const parent = schemaAt(path.slice(0, end), data);
  if (!parent || end < 0) return null;
  return shapeFor(parent, valueAt(data, path.slice(0, end)))?.[path[end] as string] ?? null;
}

/** Converts the input of a field to data: numbers and lists where the format requires them, otherwise text. */
export function typed(field: Pick<Described, "forms" | "key">, text: string): Plain | null {
  const trimmed = text.trim();
  if (trimmed === "") return null;
  const is = (form: Described["forms"][number]["is"]): boolean => field.forms.some((f) => f.is === form);
  const plain = (one: string): Plain => (is("number") && /^[+-]?(\d+\.?\d*|\.\d+)$/.test(one) ? Number(one) : one);
  if (is("values")) return trimmed.split(/\s*,\s*/).map((one) => (/^[+-]?\d+(\.\d+)?$/.test(one) ? Number(one) : one));
  if (is("yes or no") && /^(yes|true)$/i.test(trimmed)) return true;
  if (is("yes or no") && /^(no|false)$/i.test(trimmed)) return false;
  return is("text") && !is("number") ? text : plain(trimmed);
}

/** A new section at a path with the required keys; a previous short word or value moves to the corresponding key. */
export function freshSection(path: Path, data: unknown, read: (example: string) => Plain): Plain {
  const schema = schemaAt(path, data);
  const shape = schema && shapeFor(schema, undefined);
  if (!schema || !shape) return {};
  const old = valueAt(data, path);
  const fresh: Record<string, Plain> = {};
  for (const [key, field] of Object.entries(shape)) {
    const described = describe(key, field);
    if (described.required) fresh[key] = read(described.example);
  }
  // Some sections have no required key but make no sense when empty: the format gives a complete example of them.
  const whole = sectionExample(schema);
  if (whole !== null) for (const [key, value] of Object.entries(read(whole) as object)) fresh[key] ??= value as Plain;
  if (old !== undefined && old !== "none" && !isPlain(old) && !Array.isArray(old)) {
    const key = takesOver(shape, old);
    if (key) fresh[key] = old as Plain;
  }
  return fresh;
}

/** A section of another kind at the same path; keeps the common keys. */
export function asKind(path: Path, data: unknown, key: string, word: string, read: (example: string) => Plain): Plain {
  const schema = schemaAt(path, data);
  const old = valueAt(data, path);
  const shape = schema && shapeFor(schema, { [key]: word });
  if (!shape) return { [key]: word };
  const fresh: Record<string, Plain> = {};
  for (const [name, field] of Object.entries(shape)) {
    const kept = isPlain(old) ? old[name] : undefined;
    const described = describe(name, field);
    if (name === key) fresh[name] = word;
    else if (kept !== undefined) fresh[name] = kept as Plain;
    else if (described.required) fresh[name] = read(described.example);
  }
  return fresh;
}
