// Messages keep words and quantities apart, so that each reader gets quantities in their own units, kit scale and number format.
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import * as format from "./format.ts";
import type { Species } from "./nitrogen-basis.ts";

/** A quantity in SI units (nitrogen: g N/m³), or a bare number with a count of significant digits. */
export type Quantity =
  | { readonly is: "number"; readonly value: number; readonly digits: number }
  | {
      readonly is: "length" | "area" | "volume" | "mass" | "flow" | "temperature" | "duration" | "hours" | "day" | Species;
      readonly value: number;
    }
  | { readonly is: "hour span"; readonly value: number; readonly to: number | null }
  | {
      readonly is: "span";
      readonly of: Species;
      readonly value: number;
      readonly to: number;
      /** Without its unit: it follows a reading on the same scale. */
      readonly bare?: boolean;
    };

/** Words and quantities, in the order of the sentence. */
export type Message = readonly (string | Quantity)[];

/** How a reader's quantities are formatted. */
export interface MessageFormatter {
  readonly units: format.UnitSystem;
  /** BCP 47 language tag. */
  readonly locale: string;
  /** Scale of the reader's test kit for a species: factor from g N, and its name. */
  scale(species: Species): { readonly perN: number; readonly name: string };
}

const WHOLE = 15;

/** A bare number with at most `digits` significant digits. */
export const number = (value: number, digits = 2): Quantity => ({ is: "number", value, digits });
export const length = (metres: number): Quantity => ({ is: "length", value: metres });
export const area = (m2: number): Quantity => ({ is: "area", value: m2 });
export const volume = (m3: number): Quantity => ({ is: "volume", value: m3 });
export const flow = (m3PerS: number): Quantity => ({ is: "flow", value: m3PerS });
export const temperature = (celsius: number): Quantity => ({ is: "temperature", value: celsius });
export const duration = (seconds: number): Quantity => ({ is: "duration", value: seconds });
/** Hours to act by, as one would say them. */
export const hours = (h: number): Quantity => ({ is: "hours", value: h });
/** From so many hours to so many; open at the end where there is none. */
export const hourSpan = (from: number, to: number | null): Quantity => ({ is: "hour span", value: from, to });
/** A moment as the day it falls in: "day 13". The same rule holds for tables, dates and the calendar file; see `dayOf`. */
export const day = (days: number): Quantity => ({ is: "day", value: days });
/** A duration given in days; under two days it is printed in hours or less. */
export const lasting = (days: number): Quantity => duration(days * SECONDS_PER_DAY);
/** A concentration, printed on the reader's kit scale; negative rounding errors count as zero. */
export const concentration = (species: Species, gNPerM3: number): Quantity => ({ is: species, value: Math.max(0, gNPerM3) });

/** A range of concentrations: "0.3 to 0.9 mg/L as NH4". */
export const span = (species: Species, [low, high]: readonly [number, number]): Extract<Quantity, { is: "span" }> => ({
  is: "span",
  of: species,
  value: Math.max(0, low),
  to: Math.max(0, high),
});

/** The text with its first letter in upper case. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The same for a message that begins with words. */
export const capitalised = ([first, ...rest]: Message): Message => [typeof first === "string" ? capital(first) : first, ...rest];

/** Words in which lengths are written as "30 mm", with these lengths apart. */
export const quantified = (text: string): Message =>
  text
    .split(/(\d+) mm\b/)
    .flatMap((part, n): Message => (n % 2 === 1 ? [length(Number(part) / 1000)] : part === "" ? [] : [part]));

/** Words with a quantity in the place of "{value}". */
export const withValue = (text: string, value: string | Quantity): Message =>
  text.split("{value}").flatMap((part, n): Message => (n === 0 ? quantified(part) : [value, ...quantified(part)]));

/** "a, b and c" */
export const joined = (list: readonly Message[]): Message =>
  list.flatMap((part, i): Message => (i === 0 ? part : [i === list.length - 1 ? " and " : ", ", ...part]));

/** Template of a sentence: strings, numbers as they are, quantities, and other sentences may stand in it. */
export function sentence(words: TemplateStringsArray, ...parts: readonly (string | number | Quantity | Message)[]): Message {
  const said: (string | Quantity)[] = [];
  const add = (part: string | Quantity): void => {
    const last = said.length - 1;
    if (typeof part === "string" && typeof said[last] === "string") said[last] += part;
    else if (part !== "") said.push(part);
  };
  words.forEach((word, i) => {
    add(word);
    const part = parts[i];
    if (part === undefined) return;
    if (typeof part === "number") add(number(part, WHOLE));
    else if (typeof part === "string" || "is" in part) add(part);
    else part.forEach(add);
  });
  return said;
}

function print(quantity: Quantity, messageFormatter: MessageFormatter): string {
  const { is, value } = quantity;
  const { units, locale } = messageFormatter;
  switch (is) {
    case "number":
      return format.plain(value, quantity.digits, locale);
    case "length":
      return format.length(value, locale)[units];
    case "area":
      return format.area(value, locale)[units];
    case "volume":
      return format.volume(value, locale)[units];
    case "mass":
      return format.mass(value, locale)[units];
    case "flow":
      return format.flow(value, locale)[units];
    case "temperature":
      return format.temperature(value, locale)[units];
    case "day":
      return `day ${format.dayOf(value)}`;
    case "duration":
      return format.duration(value, locale);
    case "hours":
      return format.hours(value, locale);
    case "hour span":
      return format.hourRange(value, quantity.to, locale);
    case "span": {
      const { perN, name } = messageFormatter.scale(quantity.of);
      const [low, high] = [value, quantity.to].map((gN) => format.reading(gN * perN, locale));
      const range = low === high ? `about ${low}` : `${low} to ${high}`;
      return quantity.bare ? range : `${range} mg/L as ${name}`;
    }
    default: {
      const { perN, name } = messageFormatter.scale(is);
      return `${format.reading(value * perN, locale)} mg/L as ${name}`;
    }
  }
}

/** The text of a message for one reader. */
export const formatMessage = (said: string | Message, messageFormatter: MessageFormatter): string =>
  typeof said === "string"
    ? said
    : said.map((part) => (typeof part === "string" ? part : print(part, messageFormatter))).join("");
