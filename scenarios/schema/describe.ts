// Description of each key of the format as plain data, for forms, completion and help, so that no key is described twice.
import { exampleOf, isRequired } from "../fields/examples.ts";
import type { FieldMeta } from "../fields/fields.ts";
import { alternatives, elementOf, type Shape, sections, typeOf } from "../fields/insides.ts";
import { scenarioSchema } from "./schema.ts";

type Schema = Parameters<typeof alternatives>[0];

/** One of the forms in which a value may be written. */
export type Form =
  | { readonly is: "words"; readonly words: readonly string[] }
  | { readonly is: "quantity"; readonly example: string }
  | { readonly is: "number"; readonly example: string }
  | { readonly is: "text" }
  | { readonly is: "yes or no" }
  | { readonly is: "section" }
  | { readonly is: "values" }
  | { readonly is: "sections" };

export interface Described {
  readonly key: string;
  /** Meaning of the key, without its range. */
  readonly about: string;
  /** `length, 5 mm to 3 m`; empty where the format sets no limits. */
  readonly range: string;
  /** The usual range in words; empty when there is none. */
  readonly usual: string;
  readonly required: boolean;
  /** The default as written; null when there is none. */
  readonly standsIn: string | null;
  /** Reason for the default, or how it is derived; empty when there is none. */
  readonly why: string;
  /** The key counts only when a neighbouring key has this word. */
  readonly onlyWith: readonly [key: string, word: string] | null;
  readonly forms: readonly Form[];
  /** A valid value, as in a file inside brackets. */
  readonly example: string;
}

interface Def {
  readonly type: string;
  readonly defaultValue?: unknown;
  readonly values?: readonly unknown[];
  readonly entries?: Readonly<Record<string, unknown>>;
}
const defOf = (schema: Schema): Def => schema.def as unknown as Def;
/** Metadata of a field; where a wrapper has none, that of the wrapped field. */
function metaOf(schema: Schema): Partial<FieldMeta> {
  const inner = (schema.def as unknown as { readonly innerType?: Schema }).innerType;
  return { ...(inner ? metaOf(inner) : {}), ...((schema.meta() ?? {}) as Partial<FieldMeta>) };
}

const RANGE = /^(.*) \(([^()]* to [^()]*|one, or a list of up to \d+)\)$/s;

const shown = (value: unknown): string =>
  Array.isArray(value)
    ? value.length === 0
      ? "none"
      : value.map(shown).join(", ")
    : typeof value === "object" && value !== null
      ? Object.keys(value).length === 0
        ? "as usual"
        : Object.entries(value)
            .map(([key, inner]) => `${key} ${shown(inner)}`)
            .join(", ")
      : typeof value === "boolean"
        ? value
          ? "yes"
          : "no"
        : String(value);

const stringLike = (schema: Schema): boolean => typeOf(schema) === "string";

function formsOf(schema: Schema): readonly Form[] {
  const all = alternatives(schema);
  const forms: Form[] = [];
  const words = all.flatMap((one) => {
    const { type, values, entries } = defOf(one);
    return type === "literal" ? (values ?? []).map(String) : type === "enum" ? Object.keys(entries ?? {}) : [];
  });
  if (words.length > 0) forms.push({ is: "words", words });
  for (const one of all) {
    const type = typeOf(one);
    const form: Form | null =
      type === "pipe"
        ? { is: "quantity", example: exampleOf(one) }
        : type === "number"
          ? { is: "number", example: exampleOf(one) }
          : stringLike(one)
            ? { is: "text" }
            : type === "boolean"
              ? { is: "yes or no" }
              : type === "object"
                ? { is: "section" }
                : type === "array"
                  ? { is: sections(elementOf(one)!).length > 0 ? "sections" : "values" }
                  : null;
    if (form && !forms.some((f) => f.is === form.is)) forms.push(form);
  }
  return forms;
}

/** Description of one key of a section. */
export function describe(key: string, schema: Schema): Described {
  const meta = metaOf(schema);
  const def = defOf(schema);
  const [, about, range] = RANGE.exec(meta.description ?? "") ?? [null, meta.description ?? "", ""];
  const standsIn = def.type === "prefault" ? shown(def.defaultValue) : meta.derived !== undefined ? "worked out" : null;
  return {
    key,
    about: about!,
    range: range!,
    usual: meta.usualWords ?? "",
    required: isRequired(schema),
    standsIn,
    why: meta.why ?? meta.derived ?? "",
    onlyWith: meta.onlyWith ?? null,
    forms: formsOf(schema),
    example: exampleOf(schema),
  };
}

const isPlain = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** The section form of a value; among several, the one whose fixed words agree (`do: water change`). */
export function shapeFor(schema: Schema, value: unknown): Shape | null {
  const shapes = sections(schema, true);
  if (shapes.length < 2 || !isPlain(value)) return shapes[0] ?? null;
  return (
    shapes.find((shape) =>
      Object.entries(shape).every(([key, field]) => {
        const { type, values } = defOf(field);
        return type !== "literal" || values?.includes(value[key]) === true;
      }),
    ) ??
    shapes[0] ??
    null
  );
}

/** The words that distinguish the sections of one place, as after `do:`. Empty where there is only one section. */
export function kindsOf(schema: Schema): { readonly key: string; readonly words: readonly string[] } | null {
  const shapes = sections(schema, true);
  if (shapes.length < 2) return null;
  const key = Object.keys(shapes[0]!).find((name) => shapes.every((shape) => shape[name] && typeOf(shape[name]!) === "literal"));
  return key ? { key, words: shapes.map((shape) => String(defOf(shape[key]!).values?.[0])) } : null;
}

/** Schema at a path of keys and list indices in a file with this data; null where nothing is allowed. */
export function schemaAt(path: readonly (string | number)[], data: unknown): Schema | null {
  let schema: Schema = scenarioSchema;
  let at: unknown = data;
  for (const step of path) {
    if (typeof step === "number") {
      if (Array.isArray(at)) at = at[step];
      const element = alternatives(schema)
        .map(elementOf)
        .find((one) => one !== undefined);
      if (element && sections(element).length > 0) schema = element;
      continue;
    }
    const field = shapeFor(schema, at)?.[step];
    if (!field) return null;
    schema = field;
    at = isPlain(at) ? at[step] : undefined;
  }
  return schema;
}

/**
 * The key of a field's section form that keeps the value of its short form: `pump: 2000 L/h` becomes `pump: { flow:
 * 2000 L/h }`.
 */
export function takesOver(shape: Shape, value: unknown): string | null {
  for (const [key, field] of Object.entries(shape)) if (field.safeParse(value).success) return key;
  return null;
}

/** The format's own example of a whole section; null where it has none. */
export const sectionExample = (schema: Schema): string | null =>
  alternatives(schema)
    .flatMap((one) => (typeOf(one) === "array" ? alternatives(elementOf(one)!) : [one]))
    .filter((one) => typeOf(one) === "object")
    .map((one) => metaOf(one).example ?? null)
    .find((example) => example !== null) ?? null;

/** Whether one value or a list is allowed. */
export const mayRepeat = (schema: Schema): boolean =>
  alternatives(schema).some((one) => {
    const element = elementOf(one);
    return element !== undefined && sections(element).length > 0;
  });
