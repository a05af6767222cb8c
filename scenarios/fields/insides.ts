// Inspects the format: which keys and alternatives are allowed at a place, regardless of wrappers.
import type * as z from "zod";

export type Shape = Readonly<Record<string, z.ZodType>>;

interface Insides {
  readonly type: string;
  readonly innerType?: z.ZodType;
  readonly in?: z.ZodType;
  readonly options?: readonly z.ZodType[];
  readonly element?: z.ZodType;
  readonly shape?: Shape;
}
const insides = (schema: z.ZodType): Insides => schema.def as unknown as Insides;

/** The alternatives of a schema without defaults, optionals and transforms: sections, lists, words, numbers, quantities. */
export function alternatives(schema: z.ZodType): readonly z.ZodType[] {
  const { type, innerType, in: source, options } = insides(schema);
  if (innerType) return alternatives(innerType);
  // A quantity is a string that is transformed into a number: it counts as one alternative.
  if (type === "pipe" && source) return insides(source).type === "string" ? [schema] : alternatives(source);
  return options ? options.flatMap(alternatives) : [schema];
}

/** Shapes of all sections allowed where this schema is, in lists too when `inLists`. */
export function sections(schema: z.ZodType, inLists = false): readonly Shape[] {
  return alternatives(schema).flatMap((one) => {
    const { shape, element } = insides(one);
    if (shape) return [shape];
    return element && inLists ? sections(element, true) : [];
  });
}

export const elementOf = (schema: z.ZodType): z.ZodType | undefined => insides(schema).element;

export const typeOf = (schema: z.ZodType): string => insides(schema).type;

/** Schemas one step further: under a key, or in a list. */
function childrenOf(schema: z.ZodType, step: PropertyKey): readonly z.ZodType[] {
  return alternatives(schema).flatMap((one) => {
    const { shape, element } = insides(one);
    if (element) return typeof step === "number" ? [element] : [];
    const field = shape?.[String(step)];
    return field ? [field] : [];
  });
}

/** Schemas allowed at a place. */
export const schemasAt = (schema: z.ZodType, path: readonly PropertyKey[]): readonly z.ZodType[] =>
  path.reduce<readonly z.ZodType[]>((schemas, step) => schemas.flatMap((s) => childrenOf(s, step)), [schema]);

/** Keys of the sections allowed at a place. */
export const keysAt = (schema: z.ZodType, path: readonly PropertyKey[]): readonly string[] => [
  ...new Set(
    schemasAt(schema, path)
      .flatMap((s) => sections(s))
      .flatMap((shape) => Object.keys(shape)),
  ),
];

/** The places where each key is allowed, as paths of keys; `anywhere` comes first. */
export function placesOf(schema: z.ZodType): ReadonlyMap<string, readonly string[]> {
  const places = new Map<string, string[]>();
  const visit = (at: z.ZodType, path: string): void => {
    for (const shape of sections(at, true)) {
      for (const [key, field] of Object.entries(shape)) {
        const known = places.get(key) ?? [];
        places.set(key, known);
        if (!known.includes(path)) known.push(path);
        visit(field, path === "" ? key : `${path}.${key}`);
      }
    }
  };
  visit(schema, "");
  return places;
}
