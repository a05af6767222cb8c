// Walks the format and a scenario in parallel, to list the defaults that were used and the values that are unusual.
import * as z from "zod";
import type { FieldMeta } from "../fields/fields.ts";
import type { DefaultUsed } from "../text/notes.ts";

export interface Unusual {
  readonly path: readonly (string | number)[];
  readonly text: string;
}

export interface Walked {
  readonly defaults: DefaultUsed[];
  readonly unusual: Unusual[];
}

const isPlain = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** A path in the form that people read: `tank.overflow[2].drains`, with lists counted from one. */
export const pathText = (path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (text, key) => (typeof key === "number" ? `${text}[${key + 1}]` : text === "" ? String(key) : `${text}.${String(key)}`),
    "",
  );

const valueText = (value: unknown): string =>
  Array.isArray(value) ? value.map(valueText).join(", ") : isPlain(value) ? "as listed" : String(value);

const metaOf = (schema: z.ZodType): Partial<FieldMeta> => (schema.meta() ?? {}) as Partial<FieldMeta>;

function usualCheck(schema: z.ZodType, input: unknown, output: unknown, path: readonly (string | number)[], found: Walked): void {
  const { usual, usualWords } = metaOf(schema);
  if (!usual) return;
  const values = isPlain(output) ? [output.gPerM3] : Array.isArray(output) ? output : [output];
  if (values.some((v) => typeof v === "number" && (v < usual[0] * (1 - 1e-9) || v > usual[1] * (1 + 1e-9)))) {
    found.unusual.push({ path, text: `${pathText(path)}: ${String(input)} is unusual (usual: ${usualWords})` });
  }
}

/** The alternative of a union that accepts this input. */
function chosen(options: readonly z.ZodType[], input: unknown, output: unknown): { schema: z.ZodType; input: unknown } | null {
  const fits = options.find((option) => option.safeParse(input).success);
  // One word was parsed into a section: the other keys of the section are defaults.
  if (fits && isPlain(output) && !isPlain(input) && !Array.isArray(input)) {
    const whole = options.find((option) => option instanceof z.ZodObject);
    if (whole)
      return {
        schema: whole,
        input: Object.fromEntries(
          Object.entries(output)
            .filter(([key]) => key in whole.shape && whole.shape[key] instanceof z.ZodOptional)
            .map(([key]) => [key, input]),
        ),
      };
  }
  return fits ? { schema: fits, input } : null;
}

/** Records a default: as a whole, and key by key when it is a section. */
function standIn(schema: z.ZodPrefault, output: unknown, path: readonly (string | number)[], found: Walked): void {
  const value: unknown = schema.def.defaultValue;
  const entries = isPlain(value) ? Object.entries(value) : null;
  if (entries?.length !== 0) {
    const text = entries ? entries.map(([key, v]) => `${key} ${valueText(v)}`).join(", ") : valueText(value);
    found.defaults.push({ key: pathText(path), value: text || "none", why: metaOf(schema).why ?? "" });
  }
  if (entries) visit(schema.unwrap() as z.ZodType, value, output, path, found);
}

function visit(schema: z.ZodType, input: unknown, output: unknown, path: readonly (string | number)[], found: Walked): void {
  if (schema instanceof z.ZodOptional) {
    if (input !== undefined) visit(schema.unwrap() as z.ZodType, input, output, path, found);
  } else if (schema instanceof z.ZodPrefault) {
    if (input === undefined) standIn(schema, output, path, found);
    else visit(schema.unwrap() as z.ZodType, input, output, path, found);
  } else if (schema instanceof z.ZodObject) {
    if (!isPlain(input) || !isPlain(output)) return;
    for (const [key, field] of Object.entries(schema.shape as Readonly<Record<string, z.ZodType>>)) {
      const only = metaOf(field).onlyWith;
      if (!only || output[only[0]] === only[1]) visit(field, input[key], output[key], [...path, key], found);
    }
  } else if (schema instanceof z.ZodArray) {
    if (Array.isArray(input) && Array.isArray(output))
      for (const [i, item] of input.entries()) visit(schema.element as z.ZodType, item, output[i], [...path, i], found);
    usualCheck(schema, input, output, path, found);
  } else if (schema instanceof z.ZodUnion) {
    const one = chosen(schema.options as readonly z.ZodType[], input, output);
    if (one) visit(one.schema, one.input, output, path, found);
  } else if (schema instanceof z.ZodPipe) {
    const source = schema.in as z.ZodType;
    // `oneOrMany` wraps a single section into a list.
    const inner = source instanceof z.ZodUnion && Array.isArray(output) && !Array.isArray(input) ? output[0] : output;
    if (source instanceof z.ZodString) usualCheck(schema, input, output, path, found);
    else visit(source, input, inner, path, found);
  } else usualCheck(schema, input, output, path, found);
}

/** Defaults that were used and values outside their usual range, for an input that the schema parsed into this output. */
export function walk(schema: z.ZodType, input: unknown, output: unknown): Walked {
  const found: Walked = { defaults: [], unusual: [] };
  visit(schema, input, output, [], found);
  return found;
}
