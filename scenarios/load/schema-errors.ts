// Turns the complaints of the format into plain words: which alternative was meant, which key or word is a near miss.
import type * as z from "zod";
import { scenarioSchema } from "../schema/schema.ts";
import { EVENT_NAMES } from "../schema/timeline.ts";
import { nearest } from "../text/suggest.ts";

/** One complaint, and what to underline. */
export interface Complaint {
  readonly path: readonly PropertyKey[];
  readonly problem: string;
  readonly at: "key" | "value";
  readonly part?: { readonly offset: number; readonly length: number };
}

/** Of the alternatives of a union, the one meant: its complaints lie deepest, not about the kind of thing itself. */
function meant(branches: readonly (readonly z.core.$ZodIssue[])[]): readonly z.core.$ZodIssue[] | null {
  const fitting = branches.filter(
    (issues) =>
      !issues.some((issue) => issue.path.length === 0 && (issue.code === "invalid_type" || issue.code === "invalid_value")),
  );
  return fitting.length > 0 ? fitting.reduce((best, issues) => (issues.length < best.length ? issues : best)) : null;
}

function keysAt(schema: z.ZodType, path: readonly PropertyKey[]): readonly string[] {
  let schemas: readonly z.ZodType[] = [schema];
  for (const step of path) schemas = schemas.flatMap((s) => childrenOf(s, step));
  return [...new Set(schemas.flatMap((s) => sections(s)).flatMap((shape) => Object.keys(shape)))];
}

type Shape = Readonly<Record<string, z.ZodType>>;
interface Insides {
  readonly type: string;
  readonly innerType?: z.ZodType;
  readonly in?: z.ZodType;
  readonly options?: readonly z.ZodType[];
  readonly element?: z.ZodType;
  readonly shape?: Shape;
}
const insides = (schema: z.ZodType): Insides => schema.def as unknown as Insides;

/** Shapes of all sections that may stand where this schema stands. */
function sections(schema: z.ZodType): readonly Shape[] {
  const { type, innerType, in: source, options, shape } = insides(schema);
  if (type === "object" && shape) return [shape];
  if (innerType) return sections(innerType);
  if (type === "pipe" && source) return sections(source);
  return options ? options.flatMap(sections) : [];
}

function childrenOf(schema: z.ZodType, step: PropertyKey): readonly z.ZodType[] {
  const { type, innerType, in: source, options, element } = insides(schema);
  if (innerType) return childrenOf(innerType, step);
  if (type === "pipe" && source) return childrenOf(source, step);
  if (options) return options.flatMap((option) => childrenOf(option, step));
  if (element) return typeof step === "number" ? [element] : [];
  return sections(schema).flatMap((shape) => (shape[String(step)] ? [shape[String(step)]!] : []));
}

/** What people write for some keys when they do not know ours. */
const OTHER_WORDS: Readonly<Record<string, string>> = {
  alkalinity: "kh",
  hardness: "kh",
  tanks: "tank",
  display: "tank",
  aquarium: "tank",
  fish: "stock",
  animals: "stock",
  events: "timeline",
  pump: "return",
  filter: "tower",
  ato: "top off",
  temperature: "water",
};

const unknownKey = (key: string, known: readonly string[]): string => {
  const other = OTHER_WORDS[key.toLowerCase()];
  const guess = nearest(key, known) ?? (other && known.includes(other) ? other : null);
  return `there is no key "${key}" here${guess ? `: did you mean "${guess}"?` : known.length > 0 ? `; there is ${known.join(", ")}` : ""}`;
};

const valueAt = (input: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>(
    (value, key) => (typeof value === "object" && value !== null ? (value as Record<PropertyKey, unknown>)[key] : undefined),
    input,
  );

/** ": did you mean ...?" for a word that is nearly one of those allowed. */
function didYouMean(written: unknown, allowed: readonly unknown[]): string {
  const guess =
    typeof written === "string"
      ? nearest(
          written,
          allowed.filter((a) => typeof a === "string"),
        )
      : null;
  return guess ? `: did you mean "${guess}"?` : "";
}

const allowedWords = (issues: readonly z.core.$ZodIssue[]): readonly unknown[] =>
  issues.flatMap((issue) => (issue.code === "invalid_value" ? issue.values : []));

const eitherOf = (branches: readonly (readonly z.core.$ZodIssue[])[]): string =>
  [...new Set(branches.map((issues) => issues[0]?.message).filter((message) => message !== undefined))].join(", or ");

/** The complaints of a format (that of scenarios unless another is given) in plain words, each with its place. */
export function* complaintsOf(
  issues: readonly z.core.$ZodIssue[],
  base: readonly PropertyKey[],
  input: unknown,
  schema: z.ZodType = scenarioSchema,
): Generator<Complaint> {
  for (const issue of issues) {
    const path = [...base, ...issue.path];
    if (issue.code === "unrecognized_keys") {
      const known = keysAt(schema, path);
      for (const key of issue.keys) yield { path: [...path, key], problem: unknownKey(key, known), at: "key" };
    } else if (issue.code === "invalid_union" && issue.errors.length > 0) {
      const branch = meant(issue.errors);
      if (branch) yield* complaintsOf(branch, path, input, schema);
      else
        yield {
          path,
          problem: eitherOf(issue.errors) + didYouMean(valueAt(input, path), issue.errors.flatMap(allowedWords)),
          at: "value",
        };
    } else if (issue.code === "invalid_value" || issue.code === "invalid_union") {
      const allowed = issue.code === "invalid_value" ? issue.values : EVENT_NAMES;
      yield { path, problem: issue.message + didYouMean(valueAt(input, path), allowed), at: "value" };
    } else {
      const part =
        issue.code === "custom" && typeof issue.params?.offset === "number"
          ? { offset: issue.params.offset, length: Number(issue.params.length) }
          : undefined;
      yield { path, problem: issue.message, at: "value", ...(part ? { part } : {}) };
    }
  }
}
