// Every key of the scenario format with its meaning, default and an example, as data for the list of keys.
import type * as z from "zod";
import { exampleOf, isRequired } from "../fields/examples.ts";
import type { FieldMeta } from "../fields/fields.ts";
import { alternatives, elementOf, type Shape, typeOf } from "../fields/insides.ts";

export interface KeyEntry {
  /** `tank.overflow.drains.bore`; an event of the timeline has its name in the path: `timeline: water change.share`. */
  readonly path: string;
  readonly key: string;
  readonly about: string;
  /** The allowed values: a kind of quantity, words, a section, a list. */
  readonly takes: string;
  readonly required: boolean;
  /** The default of a missing key, or how it is derived; null when the key is required or has no default. */
  readonly leftOut: string | null;
  readonly example: string;
  /** Nesting depth of the key; 0 at the top level. */
  readonly depth: number;
}

const metaOf = (schema: z.ZodType): Partial<FieldMeta> => (schema.meta() ?? {}) as Partial<FieldMeta>;

interface Def {
  readonly defaultValue?: unknown;
  readonly values?: readonly unknown[];
  readonly entries?: Readonly<Record<string, unknown>>;
  readonly shape?: Shape;
}
const defOf = (schema: z.ZodType): Def => schema.def as unknown as Def;

/** Description of a field: its own, or that of the field that a wrapper contains. */
const aboutOf = (field: z.ZodType): string =>
  metaOf(field).description ??
  alternatives(field)
    .map((one) => metaOf(one).description)
    .find((description) => description !== undefined) ??
  "";

function leftOut(field: z.ZodType): string | null {
  if (isRequired(field)) return null;
  const { why, derived, onlyWith } = metaOf(field);
  const only = onlyWith ? ` (only where ${onlyWith[0]} is ${onlyWith[1]})` : "";
  if (derived !== undefined) return `${derived}${only}`;
  const { defaultValue } = defOf(field);
  if (defaultValue === undefined) return null;
  const isPart = typeof defaultValue === "object" && defaultValue !== null;
  const value = !isPart ? String(defaultValue) : Object.keys(defaultValue).length === 0 ? "" : exampleOf(field);
  const shown = value === "" ? (Array.isArray(defaultValue) ? "none" : "the defaults below") : value;
  return `${shown}${why && why !== "none given" ? `, ${why}` : ""}${only}`;
}

function takes(field: z.ZodType): string {
  const kinds = alternatives(field).map((one) => {
    const { values, entries } = defOf(one);
    switch (typeOf(one)) {
      case "literal":
        return (values ?? []).map(String).join(", ");
      case "enum":
        return Object.keys(entries ?? {}).join(", ");
      case "boolean":
        return "true or false";
      case "object":
        return "a section";
      case "array":
        return "a list";
      case "string":
        return "words";
      case "number":
        return "a number";
      default:
        return "a quantity with its unit";
    }
  });
  return [...new Set(kinds)].join("; or ");
}

/** All keys of a format, in the order of the definition. */
export function* keysOf(schema: z.ZodType, path = "", depth = 0): Generator<KeyEntry> {
  for (const one of alternatives(schema)) {
    const element = elementOf(one);
    if (element) {
      // An entry that may stand alone is already listed.
      if (!alternatives(schema).some((other) => other !== one && typeOf(other) === "object")) yield* keysOf(element, path, depth);
      continue;
    }
    const { shape } = defOf(one);
    if (!shape) continue;
    const event = shape.do ? defOf(shape.do).values?.[0] : undefined;
    const here = event === undefined ? path : `${path}: ${String(event)}`;
    if (event !== undefined)
      yield {
        path: here,
        key: "do",
        about: metaOf(one).description ?? "",
        takes: "an event",
        required: false,
        leftOut: null,
        example: exampleOf(one),
        depth,
      };
    for (const [key, field] of Object.entries(shape)) {
      if (key === "do") continue;
      const own = here === "" ? key : `${here}.${key}`;
      yield {
        path: own,
        key,
        about: aboutOf(field),
        takes: takes(field),
        required: isRequired(field),
        leftOut: leftOut(field),
        example: `${key}: ${exampleOf(field)}`,
        depth,
      };
      yield* keysOf(field, own, depth + 1);
    }
  }
}
