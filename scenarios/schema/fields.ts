// The building blocks of the scenario format: a field is words in, an internal number out, with its range, its usual range, what it
// is for, its default and the reason for that default, all in one place.
import * as z from "zod";
import { unseenIn } from "../text/invisible-characters.ts";
import { AMMONIA_BASES, NITRATE_BASES, NITRITE_BASES, type NitrogenBasis } from "../text/nitrogen-basis.ts";
import { parseClock, parseDay, parseSize } from "../text/sizes.ts";
import { KINDS, type Kind, parseQuantity, type QuantityError } from "../text/units.ts";

/** What a field carries beside its shape; `usual` is in the internal unit and only warns. */
export interface FieldMeta {
  readonly description: string;
  readonly usual?: readonly [low: number, high: number];
  /** Words for the usual range, theirs to read. */
  readonly usualWords?: string;
  /** The default as printed, when it is worked out from the rest of the scenario. */
  readonly derived?: string;
  /** Only counts when a neighbour key has this value. */
  readonly onlyWith?: readonly [key: string, value: string];
  /** Why the default is what it is. */
  readonly why?: string;
}

interface Range {
  readonly about: string;
  /** Physical limits and the usual range, as written in a scenario: ["5 mm", "3 m"]. */
  readonly within: readonly [string, string];
  readonly usual?: readonly [string, string];
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
        ? `missing: write for example ${example}`
        : typeof input === "number"
          ? `${input} has no unit: write for example ${example}`
          : `${/^[aeiou]/.test(kind) ? "an" : "a"} ${kind} is wanted: write for example ${example}`,
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

/** A quantity of a kind, within physical limits; comes out as a number in the internal unit of the kind. */
function quantity(kind: Kind, { about, within, usual }: Range) {
  const [low, high] = [inUnit(within[0], kind), inUnit(within[1], kind)];
  const meta: FieldMeta = {
    description: `${about} (${kind}, ${within[0]} to ${within[1]})`,
    ...(usual ? { usual: [inUnit(usual[0], kind), inUnit(usual[1], kind)], usualWords: `${usual[0]} to ${usual[1]}` } : {}),
  };
  return asText(kind, KINDS[kind].example)
    .meta({ examples: KINDS[kind].example.split(" or ") })
    .transform((text, context): number => {
      const read = parseQuantity(text, kind);
      if (!read.ok) return complain(context, text, read);
      // The limits come from the same parser, so a written limit is met exactly; the slack only covers the last bit.
      const slack = 1e-12 * Math.max(Math.abs(low), Math.abs(high));
      if (read.value < low - slack || read.value > high + slack) {
        return complain(context, text, { problem: `outside what is possible here: ${within[0]} to ${within[1]}` });
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
export const alkalinity = of("alkalinity");
export const salinity = of("salinity");
export const power = of("power");
export const energy = of("energy");
export const specificSurface = of("specific surface");
export const turning = of("turning");

export interface Concentration {
  readonly gPerM3: number;
  /** The words after the number; null = on the scale of the kit. */
  readonly basis: NitrogenBasis | "Cl" | "Cl2" | null;
}

const SPECIES_BASES = {
  ammonia: ["N", ...AMMONIA_BASES],
  nitrite: ["N", ...NITRITE_BASES],
  nitrate: ["N", ...NITRATE_BASES],
  chloride: ["Cl"],
  chloramine: ["Cl2"],
} as const;

/** A concentration of one substance; without words for the basis it is read on the scale of the kit. */
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
          problem: `${species} cannot be on the basis ${read.basis}: write as ${bases.join(", ")}`,
        });
      }
      if (read.value < 0 || read.value > high) {
        return complain(context, text, { problem: `outside what is possible here: ${within[0]} to ${within[1]}` });
      }
      return { gPerM3: read.value, basis: read.basis };
    })
    .meta({
      description: `${about} (mg/L, ${within[0]} to ${within[1]})`,
      ...(usual
        ? {
            usual: [inUnit(usual[0], "concentration"), inUnit(usual[1], "concentration")],
            usualWords: `${usual[0]} to ${usual[1]}`,
          }
        : {}),
    });
}

/** A size such as `1200 x 500 x 550 mm`; comes out in metres. */
export function size<Count extends 2 | 3>(count: Count, about: string, usualM?: readonly [number, number]) {
  const example = count === 3 ? "1200 x 500 x 550 mm" : "300 x 250 mm";
  return asText("size", example)
    .transform((text, context): Count extends 3 ? readonly [number, number, number] : readonly [number, number] => {
      const read = parseSize(text, count);
      if (!read.ok) return complain(context, text, read);
      if (read.metres.some((m) => m < 0.02 || m > 10))
        return complain(context, text, { problem: "each side must lie between 20 mm and 10 m" });
      return read.metres as never;
    })
    .meta({
      description: about,
      examples: [example],
      ...(usualM ? { usual: usualM, usualWords: `sides of ${usualM[0]} to ${usualM[1]} m` } : {}),
    });
}

/** A moment such as `day 3` or `day 3 18:00`; comes out as days from the start. */
export const day = (about: string) =>
  asText("moment", "day 3")
    .transform((text, context): number => {
      const read = parseDay(text);
      if (!read.ok) return complain(context, text, read);
      return read.day > 3660 ? complain(context, text, { problem: "later than ten years" }) : read.day;
    })
    .meta({ description: about, examples: ["day 3", "day 3 18:00", "week 2"] });

/** A time of day such as `18:00`; comes out as hours from midnight. */
export const clock = (about: string) =>
  asText("time of day", "18:00")
    .transform((text, context): number => {
      const read = parseClock(text);
      return read.ok ? read.hour : complain(context, text, read);
    })
    .meta({ description: about, examples: ["08:00"] });

/** A plain number without a unit, such as a pH or a count. */
export function number({
  about,
  within,
  usual,
  whole,
}: {
  about: string;
  within: readonly [number, number];
  usual?: readonly [number, number];
  whole?: boolean;
}) {
  const wanted = `a ${whole ? "whole number" : "number"} from ${within[0]} to ${within[1]} is wanted`;
  const base = z.number({ error: ({ input }) => (input === undefined ? `missing: ${wanted}` : wanted) });
  return (whole ? base.int({ error: wanted }) : base)
    .min(within[0], { error: wanted })
    .max(within[1], { error: wanted })
    .meta({ description: about, ...(usual ? { usual, usualWords: `${usual[0]} to ${usual[1]}` } : {}) });
}

/** One of a few words. */
export const oneOf = <const Words extends readonly [string, ...string[]]>(words: Words, about: string) =>
  z
    .enum(words, { error: ({ input }) => `${input === undefined ? "missing: " : ""}one of ${words.join(", ")} is wanted` })
    .meta({ description: about });

/**
 * Words of the writer. Refused: characters that do not show, since they could clear a terminal, turn a line round, or start a line of
 * their own in a calendar.
 * @param lines whether line ends and tabs are fine
 */
export const words = (about: string, longest = 200, lines = false) =>
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
    .meta({ description: about });

export const yesNo = (about: string) => z.boolean({ error: "true or false is wanted" }).meta({ description: about });

/** The field with a default that stands in when the key is left out, and the reason for it. */
export const usually = <S extends z.ZodType>(field: S, value: z.input<S> & z.core.util.NoUndefined<z.input<S>>, why: string) =>
  field.prefault(value).meta({ ...field.meta(), why });

/** A field whose default is worked out from the rest of the scenario; `derived` says how in a few words. */
export const derived = <S extends z.ZodType>(field: S, how: string) => field.optional().meta({ ...field.meta(), derived: how });

/** The field only counts when a neighbour key has this value; otherwise its defaults are nobody's business. */
export const onlyWith = <S extends z.ZodType>(field: S, key: string, value: string) =>
  field.meta({ ...field.meta(), onlyWith: [key, value] });

const sectionWanted = (input: unknown): string => `${input === undefined ? "missing: " : ""}a section with keys is wanted here`;

/** A section: unknown keys are errors. */
export const section = <Shape extends z.core.$ZodLooseShape>(about: string, shape: Shape) =>
  z
    .strictObject(shape, { error: (issue) => (issue.code === "invalid_type" ? sectionWanted(issue.input) : undefined) })
    .meta({ description: about });

/** A section, or the word `none`. */
export const orNone = <S extends z.ZodType>(field: S, about: string) =>
  z.union([z.literal("none"), field]).meta({ description: `${about}, or none` });

export const orNever = <S extends z.ZodType>(field: S, about: string) =>
  z.union([z.literal("never"), field]).meta({ description: `${about}, or never` });

/** One, or a list of at most `most`; comes out as a list. */
export const oneOrMany = <S extends z.ZodType>(field: S, about: string, most: number) =>
  z
    .union([
      field,
      z
        .array(field, { error: ({ input }) => sectionWanted(input) })
        .min(1, { error: "the list is empty" })
        .max(most, { error: `at most ${most}` }),
    ])
    .transform((value): z.output<S>[] => (Array.isArray(value) ? value : [value]))
    .meta({ description: `${about} (one, or a list of up to ${most})` });

/** A list of at most `most`. */
export const list = <S extends z.ZodType>(field: S, about: string, most: number) =>
  z
    .array(field, { error: "a list is wanted here" })
    .max(most, { error: `at most ${most} are allowed` })
    .meta({ description: about });
