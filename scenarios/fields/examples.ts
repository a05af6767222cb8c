// Examples of valid values, derived from the format itself, for error messages and the list of keys.
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

/** Whether a section is invalid without this key. */
export const isRequired = (field: z.ZodType): boolean => !["optional", "prefault"].includes(defOf(field).type);

/** The value as written in a file inside brackets. */
function written(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(written).join(", ")}]`;
  if (typeof value === "object" && value !== null)
    return `{ ${Object.entries(value)
      .map(([key, v]) => `${key}: ${written(v)}`)
      .join(", ")} }`;
  return String(value);
}

/** Whether a default is informative: not an empty section or list, and not "none". */
const tells = (value: unknown): boolean =>
  value !== undefined &&
  value !== "none" &&
  value !== "unknown" &&
  !(typeof value === "object" && value !== null && Object.keys(value).length === 0);

/** The required keys of a section with examples; if there are fewer than two, some optional keys as well. */
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

/** One valid value at a place, as in a file inside brackets. */
export function exampleOf(schema: z.ZodType): string {
  const { type, defaultValue, innerType } = defOf(schema);
  const { example, likely } = metaOf(schema);
  if (example !== undefined) return example;
  if (type === "prefault" && tells(defaultValue)) return written(defaultValue);
  if (likely !== undefined) return likely;
  if (innerType) return exampleOf(innerType);
  const all = alternatives(schema);
  // A section is more informative than the word "none", and a single one more than a list.
  const best =
    all.find((one) => typeOf(one) === "pipe") ??
    all.find((one) => typeOf(one) === "object") ??
    all.find((one) => typeOf(one) !== "literal") ??
    all[0]!;
  return best === schema ? plainExample(schema) : exampleOf(best);
}

/** All valid forms at a place, in words: `none, or a section such as { bore: 4 mm, depth: 15 mm }`. */
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
