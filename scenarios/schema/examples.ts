// An example of what may be written at a place, for complaints and for the list of keys: taken from the format itself.
import type * as z from "zod";
import type { FieldMeta } from "./fields.ts";
import { alternatives, elementOf, type Shape, typeOf } from "./insides.ts";

interface Def {
  readonly type: string;
  readonly defaultValue?: unknown;
  readonly innerType?: z.ZodType;
  readonly values?: readonly unknown[];
  readonly entries?: Readonly<Record<string, unknown>>;
  readonly shape?: Shape;
}
const defOf = (schema: z.ZodType): Def => schema.def as unknown as Def;
const metaOf = (schema: z.ZodType): Partial<FieldMeta> => (schema.meta() ?? {}) as Partial<FieldMeta>;

/** Whether a section is without sense when this key is left out. */
export const isRequired = (field: z.ZodType): boolean => !["optional", "prefault"].includes(defOf(field).type);

/** As written in a file inside brackets. */
function written(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(written).join(", ")}]`;
  if (typeof value === "object" && value !== null)
    return `{ ${Object.entries(value)
      .map(([key, v]) => `${key}: ${written(v)}`)
      .join(", ")} }`;
  return String(value);
}

/** A default that says something: not an empty section or list, nor that a thing is not there. */
const tells = (value: unknown): boolean =>
  value !== undefined &&
  value !== "none" &&
  value !== "unknown" &&
  !(typeof value === "object" && value !== null && Object.keys(value).length === 0);

/** The required keys of a section with examples; with fewer than two, some others too. */
function sectionExample(shape: Shape): string {
  const fields = Object.entries(shape);
  const required = fields.filter(([, field]) => isRequired(field));
  const plain = fields.filter(
    ([, field]) => !isRequired(field) && !metaOf(field).onlyWith && alternatives(field).every((a) => typeOf(a) !== "object"),
  );
  const shown = [...required, ...plain.slice(0, Math.max(0, 2 - required.length))];
  return shown.length === 0 ? "{}" : `{ ${shown.map(([key, field]) => `${key}: ${exampleOf(field)}`).join(", ")} }`;
}

function plainExample(schema: z.ZodType): string {
  const { type, values, entries, shape } = defOf(schema);
  if (type === "literal") return String(values?.[0]);
  if (type === "enum") {
    const words = Object.keys(entries ?? {});
    return words.find((word) => word !== "none" && word !== "unknown" && word !== "own") ?? words[0]!;
  }
  if (type === "boolean") return "true";
  if (shape) return sectionExample(shape);
  const element = elementOf(schema);
  if (element) return `[${exampleOf(element)}]`;
  throw new Error(`the format has no example for a ${type}`);
}

/** One thing that may be written at a place, as in a file inside brackets. */
export function exampleOf(schema: z.ZodType): string {
  const { type, defaultValue, innerType } = defOf(schema);
  const { example, likely } = metaOf(schema);
  if (example !== undefined) return example;
  if (type === "prefault" && tells(defaultValue)) return written(defaultValue);
  if (likely !== undefined) return likely;
  if (innerType) return exampleOf(innerType);
  const all = alternatives(schema);
  // A section says more than the word "none"; a single one says more than a list of them.
  const best =
    all.find((one) => typeOf(one) === "pipe") ??
    all.find((one) => typeOf(one) === "object") ??
    all.find((one) => typeOf(one) !== "literal") ??
    all[0]!;
  return best === schema ? plainExample(schema) : exampleOf(best);
}

/** All that may be written at a place, in words: `none, or a section such as { bore: 4 mm, depth: 15 mm }`. */
export function choicesOf(schema: z.ZodType): string {
  const all = alternatives(schema);
  const words = all.flatMap((one) => {
    const { type, values, entries } = defOf(one);
    return type === "literal" ? (values ?? []).map(String) : type === "enum" ? Object.keys(entries ?? {}) : [];
  });
  const section = all.find((one) => typeOf(one) === "object");
  const choices = [
    ...(words.length > 0 ? [words.length > 2 ? `one of ${words.join(", ")}` : words.join(" or ")] : []),
    ...all.filter((one) => typeOf(one) === "pipe" || typeOf(one) === "number").map((one) => `for example ${exampleOf(one)}`),
    ...(all.some((one) => typeOf(one) === "string") ? ["a few words"] : []),
    ...(all.some((one) => typeOf(one) === "boolean") ? ["true or false"] : []),
    ...(section ? [`a section such as ${exampleOf(section)}`] : []),
    ...(!section ? all.filter((one) => typeOf(one) === "array").map((one) => `a list such as ${exampleOf(one)}`) : []),
  ];
  return [...new Set(choices)].join(", or ");
}
