// Parses quantities as people write them: "75 US gal", "1 1/2 in", "5 ft 3 in", "3 mg/L as NH3", "8 dKH". The expected
// kind determines the meaning of a unit, so that "25 C" is a temperature only where one is expected.

import { BICARBONATE_G_PER_MOL, CALCIUM_CARBONATE_G_PER_EQ, EQ_PER_M3_PER_DKH } from "../../models/water/molar-mass.ts";
import { pow } from "../../sim/elementary.ts";
import { AMMONIA_BASES, NITRATE_BASES, NITRITE_BASES, type NitrogenBasis } from "./nitrogen-basis.ts";
import { nearest } from "./suggest.ts";
import { type Dimensions, unitNamed, unitNames } from "./unit-table.ts";

/** The expected kind of quantity, with the internal unit of its value. */
export type Kind =
  | "length" // m
  | "area" // m2
  | "volume" // m3
  | "flow" // m3/s
  | "temperature" // °C
  | "share" // 0..1
  | "duration" // s
  | "mass" // g
  | "mass per day" // g/day
  | "concentration" // g/m3, on the basis given
  | "alkalinity" // eq/m3
  | "salinity" // g/kg
  | "power" // W
  | "energy" // Wh
  | "specific surface" // m2/m3
  | "turning"; // turns/min

export interface Quantity {
  readonly ok: true;
  readonly value: number;
  /** Unit system of the written unit; `both` when it belongs to both. */
  readonly system: "metric" | "US" | "both";
  /** For concentrations only: the basis after the unit; null when none is written. */
  readonly basis: NitrogenBasis | "Cl" | "Cl2" | null;
}

/** What is wrong, and where in the text: `offset` and `length` in characters. */
export interface QuantityError {
  readonly ok: false;
  readonly problem: string;
  readonly offset: number;
  readonly length: number;
}

interface KindFacts {
  readonly dimensions: Dimensions | null;
  /** Factor from metres, grams and seconds to the internal unit. */
  readonly scale: number;
  readonly example: string;
}

export const KINDS: Readonly<Record<Kind, KindFacts>> = {
  length: { dimensions: [1, 0, 0], scale: 1, example: "250 mm or 9 7/8 in" },
  area: { dimensions: [2, 0, 0], scale: 1, example: "0.5 m2 or 5 ft2" },
  volume: { dimensions: [3, 0, 0], scale: 1, example: "180 L or 48 US gal" },
  flow: { dimensions: [3, 0, -1], scale: 1, example: "2000 L/h or 530 US gph" },
  temperature: { dimensions: null, scale: 1, example: "25 °C or 77 °F" },
  share: { dimensions: null, scale: 1, example: "60 %" },
  duration: { dimensions: [0, 0, 1], scale: 1, example: "4 h or 7 days" },
  mass: { dimensions: [0, 1, 0], scale: 1, example: "20 g or 0.7 oz" },
  "mass per day": { dimensions: [0, 1, -1], scale: 86400, example: "2 g/day" },
  concentration: { dimensions: [-3, 1, 0], scale: 1, example: "3 mg/L as NH3" },
  alkalinity: { dimensions: null, scale: 1, example: "8 dKH, 143 mg/L CaCO3 or 2.9 meq/L" },
  salinity: { dimensions: null, scale: 1, example: "35 ppt" },
  power: { dimensions: [2, 1, -3], scale: 1e-3, example: "40 W" },
  energy: { dimensions: [2, 1, -2], scale: 1e-3 / 3600, example: "500 Wh" },
  "specific surface": { dimensions: [-1, 0, 0], scale: 1, example: "160 m2/m3 or 49 ft2/ft3" },
  turning: { dimensions: [0, 0, -1], scale: 60, example: "2 rpm" },
};

/** An error at a place of the text; it marks at least one character. */
export const fail = (problem: string, offset: number, length: number): QuantityError => ({
  ok: false,
  problem,
  offset,
  length: Math.max(1, length),
});

/** What to write instead of a comma. It may stand for thousands only before three digits and not after a zero. */
export function withoutComma(whole: string, rest: string): string {
  return Number(whole) !== 0 && rest.length === 3
    ? `a comma may mean decimals or thousands: write ${whole}.${rest} or ${whole}${rest}`
    : `use a point for decimals: write ${whole}.${rest}`;
}

const FRACTIONS: Readonly<Record<string, number>> = {
  "½": 1 / 2,
  "¼": 1 / 4,
  "¾": 3 / 4,
  "⅛": 1 / 8,
  "⅜": 3 / 8,
  "⅝": 5 / 8,
  "⅞": 7 / 8,
};
const NUMBER =
  /^\s*([+-]?)(?:(\d+)\s*([½¼¾⅛⅜⅝⅞])|([½¼¾⅛⅜⅝⅞])|(?:(\d+)[ -]+)?(\d+)\s*\/\s*(\d+)(?![\d.])|(\d+(?:\.\d+)?(?:e[+-]?\d+)?|\.\d+))/i;
export const LONGEST_QUANTITY = 80;

/** Parses a number, with or without a fraction, at `from`; `end` is the offset after it. */
function readNumber(text: string, from: number, example: string): { value: number; end: number } | QuantityError {
  const match = NUMBER.exec(text.slice(from));
  if (!match) return fail(`a number is missing here: write, for example, ${example}`, from, Math.max(1, text.length - from));
  const end = from + match[0].length;
  const tenths = /^,(\d+)/.exec(text.slice(end));
  if (tenths) {
    return fail(withoutComma(match[0].trim(), tenths[1]), end, 1);
  }
  const [, sign, whole, glyph, bareGlyph, mixed, over, under, decimal] = match;
  let value: number;
  if (glyph) value = Number(whole) + FRACTIONS[glyph]!;
  else if (bareGlyph) value = FRACTIONS[bareGlyph]!;
  else if (over) {
    if (Number(under) === 0) return fail("a fraction cannot be over zero", from, match[0].length);
    value = Number(mixed ?? 0) + Number(over) / Number(under);
  } else value = Number(decimal);
  if (!Number.isFinite(value)) return fail("this number is too large", from, match[0].length);
  return { value: sign === "-" ? -value : value, end };
}

const GALLON = /^(us|u\.s\.|imp|imperial|uk)?[ .]*(gallons?|gal|gph|gpm|gpd)\b/i;
const UNIT = /^(?:[a-zµμ]+|["'”’″′])/i;

interface UnitRead {
  readonly factor: number;
  readonly dimensions: Dimensions;
  readonly system: "metric" | "US" | "both";
  readonly end: number;
}

/** Parses one unit at `from`, without its exponent. */
function readUnitWord(text: string, from: number): UnitRead | QuantityError {
  const rest = text.slice(from);
  const gallon = GALLON.exec(rest);
  if (gallon) {
    if (!gallon[1]) {
      return fail(
        `"${gallon[2]}" may be US (3.785 L) or imperial (4.546 L): write "US ${gallon[2]}" or "imp ${gallon[2]}"`,
        from,
        gallon[0].length,
      );
    }
    const unit = unitNamed(`${/^u\.?s/i.test(gallon[1]) ? "us" : "imp"} ${gallon[2]!.toLowerCase()}`);
    if (unit) return { ...unit, end: from + gallon[0].length };
  }
  const match = UNIT.exec(rest);
  if (!match) return fail(`"${rest.slice(0, 12)}" is not a unit`, from, rest.length);
  const word = match[0].toLowerCase().replace("μ", "µ").replace(/[”″]/, '"').replace(/[’′]/, "'");
  const unit = unitNamed(word);
  if (unit) return { ...unit, end: from + match[0].length };
  const guess = nearest(word, unitNames);
  return fail(`unknown unit "${match[0]}"${guess ? `: did you mean "${guess}"?` : ""}`, from, match[0].length);
}

const POWER = /^\s?(?:\^?([23])|([²³]))/;

/** Parses units joined by `/` or `per`, each with an optional exponent 2 or 3. */
function readUnits(text: string, from: number): UnitRead | QuantityError {
  let factor = 1;
  const dimensions: [number, number, number] = [0, 0, 0];
  let system: UnitRead["system"] = "both";
  let at = from;
  for (let sign = 1; ; sign = -1) {
    while (text[at] === " ") at++;
    const unit = readUnitWord(text, at);
    if ("ok" in unit) return unit;
    at = unit.end;
    const power = POWER.exec(text.slice(at));
    // In "5 ft 3 in", a digit after a blank begins the next number.
    const isPower = power && !(power[0].startsWith(" ") && power[1]);
    const exponent = sign * (isPower ? (power[1] ? Number(power[1]) : power[2] === "²" ? 2 : 3) : 1);
    if (isPower) at += power[0].length;
    factor *= pow(unit.factor, exponent);
    for (let i = 0; i < 3; i++) dimensions[i]! += exponent * unit.dimensions[i]!;
    if (unit.system !== "both") system = unit.system;
    const joint = /^\s*(?:\/|per\b)/i.exec(text.slice(at));
    if (!joint) return { factor, dimensions, system, end: at };
    at += joint[0].length;
  }
}

const sameDimensions = (a: Dimensions, b: Dimensions): boolean => a.every((power, i) => power === b[i]);

/** Parses plain quantities: one number with units, or a sum such as `5 ft 3 in` or `1 h 30 min`. */
function parseSum(text: string, kind: Kind): Quantity | QuantityError {
  const { dimensions, scale, example } = KINDS[kind];
  let total = 0;
  let system: Quantity["system"] = "both";
  let at = 0;
  let lastFactor = Number.POSITIVE_INFINITY;
  let negative = false;
  while (text.slice(at).trim() !== "") {
    const number = readNumber(text, at, example);
    if ("ok" in number) return number;
    if (text.slice(number.end).trim() === "") return fail(`a unit is missing: write, for example, ${example}`, number.end, 1);
    const units = readUnits(text, number.end);
    if ("ok" in units) return units;
    const unitText = text.slice(number.end, units.end).trim();
    if (!sameDimensions(units.dimensions, dimensions!)) {
      return fail(
        `"${unitText}" is not a unit of ${kind}: write, for example, ${example}`,
        text.indexOf(unitText, number.end),
        unitText.length,
      );
    }
    if (units.factor >= lastFactor || (lastFactor !== Number.POSITIVE_INFINITY && number.value < 0)) {
      return fail("there are two quantities here: write one", at, text.length - at);
    }
    if (lastFactor === Number.POSITIVE_INFINITY) negative = number.value < 0;
    total += (negative && number.value > 0 ? -number.value : number.value) * units.factor;
    lastFactor = units.factor;
    if (units.system !== "both") system = units.system;
    at = units.end;
  }
  return { ok: true, value: total * scale, system, basis: null };
}

/** Parses a number followed by one of a few unit patterns, each with its own conversion. */
function parseWorded(
  text: string,
  kind: Kind,
  words: readonly (readonly [pattern: RegExp, convert: (x: number) => number, system?: Quantity["system"]])[],
): Quantity | QuantityError {
  const { example } = KINDS[kind];
  const number = readNumber(text, 0, example);
  if ("ok" in number) return number;
  const rest = text.slice(number.end).trim();
  if (rest === "") return fail(`a unit is missing: write, for example, ${example}`, number.end, 1);
  for (const [pattern, convert, system] of words) {
    if (pattern.test(rest)) return { ok: true, value: convert(number.value), system: system ?? "both", basis: null };
  }
  return fail(`"${rest}" is not a unit of ${kind}: write, for example, ${example}`, text.indexOf(rest, number.end), rest.length);
}

/**
 * Salinity of sea water per unit of specific gravity above one (25 °C over 25 °C): 1.0264 at 35 g/kg, taken as linear
 * (error less than 0.2 g/kg below 45). Source: densities of the 1980 equation of state of sea water (from memory).
 */
const SALINITY_PER_GRAVITY = 35 / 0.02637;

const asCaCO3 = (mgPerL: number): number => mgPerL / CALCIUM_CARBONATE_G_PER_EQ;
const SPECIAL: Partial<Record<Kind, Parameters<typeof parseWorded>[2]>> = {
  temperature: [
    [/^(?:°|deg(?:rees?)?)?\s*(?:C|celsius)$/i, (x) => x, "metric"],
    [/^(?:°|deg(?:rees?)?)?\s*(?:F|fahrenheit)$/i, (x) => ((x - 32) * 5) / 9, "US"],
    [/^K$/, (x) => x - 273.15, "metric"],
  ],
  share: [
    [/^(?:%|percent|per cent)$/i, (x) => x / 100],
    [/^ppm$/i, (x) => x / 1e6],
  ],
  alkalinity: [
    [/^(?:°?\s*d?KH|°?dH|degrees? KH)$/i, (x) => x * EQ_PER_M3_PER_DKH],
    [/^(?:meq\/L|mmol\/L|eq\/m3)$/i, (x) => x],
    [/^(?:mg\/L|ppm|g\/m3)\s*(?:as\s*)?CaCO3$/i, asCaCO3],
    [/^ppm$/i, asCaCO3],
    [/^(?:mg\/L|ppm|g\/m3)\s*(?:as\s*)?HCO3-?$/i, (x) => x / BICARBONATE_G_PER_MOL],
  ],
  salinity: [
    [/^(?:ppt|psu|g\/kg|g\/L|‰)$/i, (x) => x],
    [/^(?:sg|specific gravity)$/i, (x) => (x - 1) * SALINITY_PER_GRAVITY],
  ],
};

const BASES = ["N", "Cl2", "Cl", ...AMMONIA_BASES, ...NITRITE_BASES, ...NITRATE_BASES] as const;

function parseConcentration(text: string): Quantity | QuantityError {
  const { example } = KINDS.concentration;
  const number = readNumber(text, 0, example);
  if ("ok" in number) return number;
  const match = /^\s*(mg\/L|ppm|g\/m3|g\/m³|mg\/l|ug\/L|µg\/L|ppb|g\/L)?\s*(.*)$/i.exec(text.slice(number.end));
  const unit = match?.[1]?.toLowerCase();
  if (!unit) return fail(`a unit such as mg/L is missing: write, for example, ${example}`, number.end, text.length - number.end);
  const scale = unit === "ug/l" || unit === "µg/l" || unit === "ppb" ? 1e-3 : unit === "g/l" ? 1e3 : 1;
  const word = match![2]!
    .trim()
    .replace(/^as\s+/i, "")
    .replace(/[+-]$/, "")
    .replaceAll("₃", "3")
    .replaceAll("₂", "2")
    .replaceAll("₄", "4");
  let basis: Quantity["basis"] = null;
  if (word !== "") {
    basis = BASES.find((b) => b.toLowerCase() === word.toLowerCase()) ?? null;
    if (!basis) {
      const from = text.lastIndexOf(match![2]!.trim());
      return fail(
        `"${word}" is not a way to count nitrogen here: write as NH3, NH4, TAN, NO2, NO3, or any of them with -N`,
        from,
        text.length - from,
      );
    }
  }
  return { ok: true, value: number.value * scale, system: "both", basis };
}

/**
 * Parses a quantity of the expected kind.
 * @returns the value in the internal unit given at `Kind`, or what is wrong and where
 * @example
 * parseQuantity("5 ft 3 in", "length"); // { ok: true, value: 1.6002, system: "US", basis: null }
 */
export function parseQuantity(text: string, kind: Kind): Quantity | QuantityError {
  if (text.length > LONGEST_QUANTITY) return fail(`too long for a ${kind}`, 0, text.length);
  if (text.trim() === "") return fail(`nothing here: write, for example, ${KINDS[kind].example}`, 0, 1);
  if (kind === "concentration") return parseConcentration(text);
  const words = SPECIAL[kind];
  return words ? parseWorded(text, kind, words) : parseSum(text, kind);
}
