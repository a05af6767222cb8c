// A random value for any part of the scenario format, derived from the format itself: a new key is included as soon as it exists.
import * as z from "zod";
import { exampleOf } from "../../scenarios/fields/examples.ts";
import { KINDS, type Kind, parseQuantity } from "../../scenarios/text/units.ts";
import type { Draw } from "./draw.ts";

/** Range of the values: `usual` stays within the usual ranges, `possible` within those that the format accepts. */
export type Spread = "usual" | "possible";

/** Gives the value at a path instead of a drawn one; `undefined` = omit the key; NOT_MINE = draw it. */
export type Hint = (path: string, siblings: Readonly<Record<string, unknown>>) => unknown;
export const NOT_MINE = Symbol("drawn from the format");

export interface FieldDraw {
  readonly draw: Draw;
  readonly spread: Spread;
  /** Probability that an optional key is present. */
  readonly written: number;
  readonly units: "metric" | "US";
  readonly hint: Hint;
}

/** Units in which each kind is written, metric first. */
const UNITS: Readonly<Record<Kind, readonly [metric: string, us: string]>> = {
  length: ["mm", "in"],
  area: ["cm2", "ft2"],
  volume: ["L", "US gal"],
  flow: ["L/h", "US gph"],
  temperature: ["C", "F"],
  share: ["%", "%"],
  duration: ["h", "h"],
  mass: ["g", "oz"],
  "mass per day": ["g/day", "oz/day"],
  concentration: ["mg/L", "mg/L"],
  alkalinity: ["dKH", "dKH"],
  salinity: ["ppt", "ppt"],
  power: ["W", "W"],
  energy: ["Wh", "Wh"],
  "specific surface": ["m2/m3", "m2/m3"],
  turning: ["rpm", "rpm"],
};

const internal = (text: string, kind: Kind): number => {
  const read = parseQuantity(text, kind);
  if (!read.ok) throw new Error(`cannot read ${text} as ${kind}: ${read.problem}`);
  return read.value;
};

/** A quantity as text with five digits, always within [low, high] (internal units). */
export function quantityText(value: number, kind: Kind, units: FieldDraw["units"], low = -Infinity, high = Infinity): string {
  const unit = UNITS[kind][units === "US" ? 1 : 0];
  const [zero, one] = [internal(`0 ${unit}`, kind), internal(`1 ${unit}`, kind)];
  for (const digits of [5, 17]) {
    const text = `${Number(((value - zero) / (one - zero)).toPrecision(digits))} ${unit}`;
    const back = internal(text, kind);
    if (back >= low && back <= high) return text;
  }
  return `${(value - zero) / (one - zero)} ${unit}`;
}

interface Range {
  readonly kind: Kind;
  readonly low: string;
  readonly high: string;
  readonly usual: readonly [number, number] | undefined;
}

/** Kind and limits of a quantity, from its description. */
function rangeOf(schema: z.ZodType): Range | null {
  const meta = schema.meta() as { description?: string; usual?: readonly [number, number] } | undefined;
  const match = /\(([^()]+), ([-+\d.]+ [^()]+) to ([-+\d.]+ [^()]+)\)$/.exec(meta?.description ?? "");
  if (!match) return null;
  const kind = match[1] === "mg/L" ? "concentration" : (match[1] as Kind);
  return kind in KINDS ? { kind, low: match[2]!, high: match[3]!, usual: meta?.usual } : null;
}

function drawQuantity({ kind, low, high, usual }: Range, { draw, spread, units }: FieldDraw): string {
  if (spread === "possible" && draw.chance(0.04)) return draw.pick([low, high]);
  const [least, most] = [internal(low, kind), internal(high, kind)];
  const wild = spread === "possible" && draw.chance(0.3);
  // Without a usual range, the middle decades of the possible range are used.
  const [from, to] =
    wild || kind === "temperature" || kind === "share" || least <= 0
      ? [least, most]
      : [least * (most / least) ** 0.2, least * (most / least) ** 0.7];
  const [a, b] = !wild && usual ? usual : [from, to];
  const value = kind === "temperature" || kind === "share" ? draw.between(a, b) : draw.spread(a, b);
  return quantityText(value, kind, units, least, most);
}

const clockText = (draw: Draw): string =>
  `${String(draw.whole(0, 23)).padStart(2, "0")}:${String(draw.whole(0, 59)).padStart(2, "0")}`;

/** Times, times of day, sizes and free text are distinguished by the example in their description. */
function drawText(schema: z.ZodType, { draw, units }: FieldDraw): string {
  const example = exampleOf(schema);
  if (/^\d\d:\d\d$/.test(example)) return clockText(draw);
  if (example.startsWith("day"))
    return draw.chance(0.5) ? `day ${draw.whole(0, 20)}` : `day ${draw.whole(0, 20)} ${clockText(draw)}`;
  const count = example.split("x").length;
  if (/\d x \d/.test(example)) {
    const sides = Array.from({ length: count }, () => quantityText(draw.spread(0.08, 1.5), "length", units).split(" ")[0]);
    return `${sides.join(" x ")} ${UNITS.length[units === "US" ? 1 : 0]}`;
  }
  throw new Error(`do not know how to draw ${JSON.stringify(schema.meta())}`);
}

const WORDS = ["reef corner", "fish room", "old oak", "north wall", "shelf two", "école 4", "水 tank"] as const;

/** A value of the format at a path; paths have the form `tank[].overflow[].drains[].bore`. */
export function drawField(schema: z.ZodType, path: string, how: FieldDraw): unknown {
  const { draw } = how;
  if (schema instanceof z.ZodOptional || schema instanceof z.ZodPrefault)
    return drawField(schema.unwrap() as z.ZodType, path, how);
  if (schema instanceof z.ZodObject) return drawSection(schema, path, how);
  if (schema instanceof z.ZodLiteral) return schema.value;
  if (schema instanceof z.ZodEnum) return draw.pick(schema.options);
  if (schema instanceof z.ZodBoolean) return draw.chance(0.5);
  if (schema instanceof z.ZodUnion) return drawField(draw.pick(schema.options as readonly z.ZodType[]), path, how);
  if (schema instanceof z.ZodArray) {
    const { minLength, maxLength } = arrayBounds(schema);
    const length = draw.whole(minLength, Math.min(maxLength, Math.max(minLength, 4)));
    return Array.from({ length }, () => drawField(schema.element as z.ZodType, `${path}[]`, how));
  }
  if (schema instanceof z.ZodNumber) return drawNumber(schema, how);
  if (schema instanceof z.ZodString) return draw.pick(WORDS);
  if (schema instanceof z.ZodPipe) {
    const range = rangeOf(schema);
    if (range) return drawQuantity(range, how);
    const source = schema.in as z.ZodType;
    return source instanceof z.ZodString ? drawText(schema, how) : drawField(source, path, how);
  }
  throw new Error(`do not know how to draw ${schema.def.type} at ${path}`);
}

const boundsOf = new WeakMap<z.ZodArray, { readonly minLength: number; readonly maxLength: number }>();
function arrayBounds(schema: z.ZodArray): { readonly minLength: number; readonly maxLength: number } {
  const known = boundsOf.get(schema);
  if (known) return known;
  const json = z.toJSONSchema(schema, { unrepresentable: "any", io: "input" }) as { minItems?: number; maxItems?: number };
  const bounds = { minLength: json.minItems ?? 0, maxLength: json.maxItems ?? 4 };
  boundsOf.set(schema, bounds);
  return bounds;
}

function drawNumber(schema: z.ZodNumber, { draw, spread }: FieldDraw): number {
  const [low, high] = [schema.minValue!, schema.maxValue!];
  const usual = (schema.meta() as { usual?: readonly [number, number] } | undefined)?.usual;
  if (spread === "possible" && draw.chance(0.04)) return draw.pick([low, high]);
  const wild = spread === "possible" && draw.chance(0.3);
  const [a, b] = !wild && usual ? usual : [low, wild ? high : Math.min(high, low + 6)];
  const value = draw.spread(a, b);
  return schema.format === "safeint" ? Math.round(value) : Number(value.toPrecision(4));
}

export function drawSection(schema: z.ZodObject, path: string, how: FieldDraw): Record<string, unknown> {
  const { draw, hint, written } = how;
  const out: Record<string, unknown> = {};
  for (const [key, field] of Object.entries(schema.shape as Readonly<Record<string, z.ZodType>>)) {
    const at = path === "" ? key : `${path}.${key}`;
    const mine = hint(at, out);
    if (mine !== NOT_MINE) {
      if (mine !== undefined) out[key] = mine;
      continue;
    }
    const mayMiss = field instanceof z.ZodOptional || field instanceof z.ZodPrefault;
    if (mayMiss && !draw.chance(written)) continue;
    const value = drawField(field, at, how);
    if (value !== undefined) out[key] = value;
  }
  return out;
}
