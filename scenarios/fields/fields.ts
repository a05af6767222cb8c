// The building blocks of the scenario format. A field parses text into a number in an internal unit. Its range, usual
// range, purpose, default and the reason for the default are all defined in one place.
import * as z from "zod";
import { unseenIn } from "../text/invisible-characters.ts";
import { AMMONIA_BASES, NITRATE_BASES, NITRITE_BASES, type NitrogenBasis } from "../text/nitrogen-basis.ts";
import { parseClock, parseDay, parseSize } from "../text/sizes.ts";
import { KINDS, type Kind, parseQuantity, type QuantityError, withoutComma } from "../text/units.ts";
import { exampleOf } from "./examples.ts";

/** Metadata of a field; `usual` is in the internal unit and causes only a warning. */
export interface FieldMeta {
  readonly description: string;
  readonly usual?: readonly [low: number, high: number];
  /** Text of the usual range, for readers. */
  readonly usualWords?: string;
  /** Text of the default, when it is derived from the rest of the scenario. */
  readonly derived?: string;
  /** The field counts only when a neighbouring key has this value. */
  readonly onlyWith?: readonly [key: string, value: string];
  /** Reason for the default. */
  readonly why?: string;
  /** A valid value, as in a file inside brackets; without one, the default is used, or else a likely value. */
  readonly example?: string;
  readonly likely?: string;
}

interface Range {
  readonly about: string;
  /** Physical limits and the usual range, as written in a scenario: ["5 mm", "3 m"]. */
  readonly within: readonly [string, string];
  readonly usual?: readonly [string, string];
  /** Used where the middle of the usual range would be an unnatural example. */
  readonly example?: string;
}

/**
 * A round value in the middle of a range, in the unit of its upper end: the arithmetic mean of a narrow range, the
 * geometric mean of a wide one, a tenth of the upper end where the range begins at zero.
 */
function middleOf([low, high]: readonly [number, number]): number {
  if (low <= 0) return Number((high / 10).toPrecision(1));
  return Number((high < 3 * low ? (low + high) / 2 : Math.sqrt(low * high)).toPrecision(high < 3 * low ? 2 : 1));
}

function middleText(range: readonly [string, string], kind: Kind): string {
  const [low, high] = range.map((end) => inUnit(end, kind)) as [number, number];
  const inUnitOf = (end: string, inside: number): { readonly value: number; readonly unit: string } => {
    const [, number, unit] = /^([\d.]+)(.*)$/.exec(end)!;
    // Temperature units differ in their zero, but the format writes its ranges in one unit.
    const perUnit = kind === "temperature" || Number(number) === 0 ? 1 : inside / Number(number);
    return { value: middleOf([low / perUnit, high / perUnit]), unit: unit! };
  };
  const large = inUnitOf(range[1], high);
  const { value, unit } = large.value < 1 && low > 0 ? inUnitOf(range[0], low) : large;
  return `${value}${unit}`;
}

const inUnit = (words: string, kind: Kind): number => {
  const read = parseQuantity(words, kind);
  if (!read.ok) throw new Error(`the format itself is wrong: ${words}: ${read.problem}`);
  return read.value;
};

const asText = (kind: string, example: string) =>
  z.string({
    error: ({ input }) =>
      input === undefined
        ? `missing: write, for example, ${example}`
        : typeof input === "number"
          ? `${input} has no unit: write, for example, ${example}`
          : `write ${/^[aeiou]/.test(kind) ? "an" : "a"} ${kind}, for example ${example}`,
  });

type Context = z.core.$RefinementCtx<string>;

function complain(context: Context, input: string, error: Pick<QuantityError, "problem"> & Partial<QuantityError>): never {
  context.issues.push({
    code: "custom",
    message: error.problem,
    input,
    params: error.offset === undefined ? {} : { offset: error.offset, length: error.length },
  });
  return z.NEVER;
}

/** A quantity of a kind, within physical limits, parsed into the internal unit of the kind. */
function quantity(kind: Kind, { about, within, usual, example }: Range) {
  const [low, high] = [inUnit(within[0], kind), inUnit(within[1], kind)];
  const meta: FieldMeta = {
    description: `${about} (${kind}, ${within[0]} to ${within[1]})`,
    ...(example === undefined ? {} : { example }),
    likely: middleText(usual ?? within, kind),
    ...(usual ? { usual: [inUnit(usual[0], kind), inUnit(usual[1], kind)], usualWords: `${usual[0]} to ${usual[1]}` } : {}),
  };
  return asText(kind, KINDS[kind].example)
    .transform((text, context): number => {
      const read = parseQuantity(text, kind);
      if (!read.ok) return complain(context, text, read);
      // The limits come from the same parser, so a value equal to a limit is accepted exactly; the slack covers only
      // the last bit.
      const slack = 1e-12 * Math.max(Math.abs(low), Math.abs(high));
      if (read.value < low - slack || read.value > high + slack) {
        return complain(context, text, { problem: `outside the possible range, ${within[0]} to ${within[1]}` });
      }
      return read.value;
    })
    .meta({ ...meta });
}

const of = (kind: Kind) => (range: Range) => quantity(kind, range);
export const length = of("length");
export const area = of("area");
export const volume = of("volume");
export const flow = of("flow");
export const temperature = of("temperature");
export const share = of("share");
export const duration = of("duration");
export const mass = of("mass");
export const massPerDay = of("mass per day");
/** Mass of food a day. */
export const foodPerDay = (about: string, example = "2 g/day") =>
  massPerDay({ about, within: ["0 g/day", "20000 g/day"], usual: ["0.05 g/day", "500 g/day"], example });
export const alkalinity = of("alkalinity");
export const salinity = of("salinity");
export const power = of("power");
export const energy = of("energy");
export const specificSurface = of("specific surface");
export const turning = of("turning");

export interface Concentration {
  readonly gPerM3: number;
  /** The basis after the unit; null = on the scale of the kit. */
  readonly basis: NitrogenBasis | "Cl" | "Cl2" | null;
}

const SPECIES_BASES = {
  ammonia: ["N", ...AMMONIA_BASES],
  nitrite: ["N", ...NITRITE_BASES],
  nitrate: ["N", ...NITRATE_BASES],
  chloride: ["Cl"],
  chloramine: ["Cl2"],
} as const;

/** A concentration of one substance; without a basis it is on the scale of the kit. */
export function concentration(species: keyof typeof SPECIES_BASES, { about, within, usual }: Range) {
  const bases: readonly string[] = SPECIES_BASES[species];
  const high = inUnit(within[1], "concentration");
  const example = `3 mg/L${species === "chloride" || species === "chloramine" ? "" : ` as ${bases[1]}`}`;
  return asText("concentration", example)
    .transform((text, context): Concentration => {
      const read = parseQuantity(text, "concentration");
      if (!read.ok) return complain(context, text, read);
      if (read.basis && !bases.includes(read.basis)) {
        return complain(context, text, {
          problem: `${species} cannot be given as ${read.basis}: write as ${bases.join(", as ")}`,
        });
      }
      if (read.value < 0 || read.value > high) {
        return complain(context, text, { problem: `outside the possible range, ${within[0]} to ${within[1]}` });
      }
      return { gPerM3: read.value, basis: read.basis };
    })
    .meta({
      description: `${about} (mg/L, ${within[0]} to ${within[1]})`,
      likely: `${middleText(usual ?? within, "concentration")}${bases.length > 1 ? ` as ${bases[1]}` : ""}`,
      ...(usual
        ? {
            usual: [inUnit(usual[0], "concentration"), inUnit(usual[1], "concentration")],
            usualWords: `${usual[0]} to ${usual[1]}`,
          }
        : {}),
    });
}

/** A size such as `1200 x 500 x 550 mm`, parsed into metres. */
export function size<Count extends 2 | 3>(
  count: Count,
  about: string,
  usualM?: readonly [number, number],
  example = count === 3 ? "1200 x 500 x 550 mm" : "300 x 250 mm",
) {
  return asText("size", example)
    .transform((text, context): Count extends 3 ? readonly [number, number, number] : readonly [number, number] => {
      const read = parseSize(text, count);
      if (!read.ok) return complain(context, text, read);
      if (read.metres.some((m) => m < 0.02 || m > 10))
        return complain(context, text, { problem: "each side must be between 20 mm and 10 m" });
      return read.metres as never;
    })
    .meta({
      description: about,
      likely: example,
      ...(usualM ? { usual: usualM, usualWords: `sides of ${usualM[0]} to ${usualM[1]} m` } : {}),
    });
}

/** A time such as `day 3` or `day 3 18:00`, parsed into days from the start. */
export const day = (about: string) =>
  asText("moment", "day 3")
    .transform((text, context): number => {
      const read = parseDay(text);
      if (!read.ok) return complain(context, text, read);
      return read.day > 3660 ? complain(context, text, { problem: "later than ten years" }) : read.day;
    })
    .meta({ description: `${about} (day 3, day 3 18:00 or week 2)`, likely: "day 3" });

/** A time of day such as `18:00`, parsed into hours since midnight. */
export const clock = (about: string) =>
  asText("time of day", "18:00")
    .transform((text, context): number => {
      const read = parseClock(text);
      return read.ok ? read.hour : complain(context, text, read);
    })
    .meta({ description: about, likely: "08:00" });

/** A plain number without a unit, such as a pH or a count. */
export function number({
  about,
  within,
  usual,
  whole,
  example,
}: {
  about: string;
  within: readonly [number, number];
  usual?: readonly [number, number];
  whole?: boolean;
  example?: number;
}) {
  const range = `a ${whole ? "whole number" : "number"} from ${within[0]} to ${within[1]}`;
  const wrong = `write ${range}`;
  const base = z.number({
    error: ({ input }) => {
      if (input === undefined) return `missing: ${wrong}`;
      const comma = typeof input === "string" ? /^(\d+),(\d+)$/.exec(input) : null;
      return comma ? withoutComma(comma[1], comma[2]) : wrong;
    },
  });
  const middle = middleOf(usual ?? within);
  return (whole ? base.int({ error: wrong }) : base)
    .min(within[0], { error: wrong })
    .max(within[1], { error: wrong })
    .meta({
      description: `${about} (${range})`,
      ...(example === undefined ? {} : { example: String(example) }),
      likely: String(whole ? Math.max(within[0], Math.round(middle)) : middle),
      ...(usual ? { usual, usualWords: `${usual[0]} to ${usual[1]}` } : {}),
    });
}

/** One of a few words. */
export const oneOf = <const Words extends readonly [string, ...string[]]>(words: Words, about: string, example?: Words[number]) =>
  z
    .enum(words, { error: ({ input }) => `${input === undefined ? "missing: " : ""}write one of ${words.join(", ")}` })
    .meta({ description: about, ...(example === undefined ? {} : { example }) });

/**
 * Free text. Refuses invisible characters, because they could clear a terminal, reverse a line, or start a new line in
 * a calendar file.
 * @param lines whether line breaks and tabs are allowed
 */
export const words = (about: string, longest = 200, lines = false, example?: string) =>
  z
    .string({ error: ({ input }) => (input === undefined ? "missing: write a few words" : "write a few words here, in quotes") })
    .min(1, { error: "write a few words here" })
    .max(longest, { error: `at most ${longest} characters` })
    .superRefine((text, context) => {
      const unseen = unseenIn(text, lines ? "\n\r\t" : "");
      if (!unseen) return;
      const what =
        unseen.name === "U+000A" ? "a line end" : unseen.name === "U+0009" ? "a tab" : `${unseen.name}, which does not show,`;
      complain(context, text, { problem: `${what} cannot be part of this text: take it out`, ...unseen });
    })
    .meta({ description: about, likely: "a few words", ...(example === undefined ? {} : { example }) });

export const yesNo = (about: string) => z.boolean({ error: "write true or false" }).meta({ description: about });

/** The field with a default for a missing key, and the reason for the default. */
export const usually = <S extends z.ZodType>(field: S, value: z.input<S> & z.core.util.NoUndefined<z.input<S>>, why: string) =>
  field.prefault(value).meta({ ...field.meta(), why });

/** A field whose default is derived from the rest of the scenario; `derived` says how in a few words. */
export const derived = <S extends z.ZodType>(field: S, how: string) => field.optional().meta({ ...field.meta(), derived: how });

/** A field that counts only when a neighbouring key has this value; otherwise its default is not reported. */
export const onlyWith = <S extends z.ZodType>(field: S, key: string, value: string) =>
  field.meta({ ...field.meta(), onlyWith: [key, value] });

/** A section; unknown keys are errors. */
export const section = <Shape extends z.core.$ZodLooseShape>(about: string, shape: Shape, example?: string) =>
  z
    .strictObject(shape, {
      error: (issue) =>
        issue.code === "invalid_type"
          ? `${issue.input === undefined ? "missing: " : ""}write a section with keys, for example ${example ?? exampleOf(z.object(shape as z.core.$ZodShape))}`
          : undefined,
    })
    .meta({ description: about, ...(example === undefined ? {} : { example }) });

/** The given word, or the field. */
const wordOr = <const Word extends string, S extends z.ZodType>(word: Word, field: S, about: string) =>
  z
    .union([z.literal(word, { error: ({ input }) => `${input === undefined ? "missing: " : ""}write ${word}` }), field])
    .meta({ description: `${about}, or ${word}` });

/** A section, or the word `none`. */
export const orNone = <S extends z.ZodType>(field: S, about: string) => wordOr("none", field, about);

export const orNever = <S extends z.ZodType>(field: S, about: string) => wordOr("never", field, about);

/** One value, or a list of at most `most`, which may be empty unless `least` is 1; parsed into a list. */
const oneOrList = <S extends z.ZodType>(field: S, about: string, most: number, least: 0 | 1) =>
  z
    .union([
      field,
      z
        .array(field, { error: `write a list here, for example [${exampleOf(field)}]` })
        .min(least, { error: "the list is empty" })
        .max(most, { error: `at most ${most} are allowed` }),
    ])
    .transform((value): z.output<S>[] => (Array.isArray(value) ? value : [value]))
    .meta({ description: `${about} (one, or a list of up to ${most})` });

/** One value, or a list of one to `most`; parsed into a list. */
export const oneOrMany = <S extends z.ZodType>(field: S, about: string, most: number) => oneOrList(field, about, most, 1);

/** None, one value, or a list of up to `most`; parsed into a list. */
export const anyNumber = <S extends z.ZodType>(field: S, about: string, most: number) => oneOrList(field, about, most, 0);

/** A list of at most `most`. */
export const list = <S extends z.ZodType>(field: S, about: string, most: number, example = `[${exampleOf(field)}]`) =>
  z
    .array(field, { error: `write a list here, for example ${example}` })
    .max(most, { error: `at most ${most} are allowed` })
    .meta({ description: about, likely: example });
