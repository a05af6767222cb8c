// Formats quantities in both unit systems, the reader's system first: "23 mm (7/8 in)", "24 L (6.3 US gal)".

import { log10, square } from "../../sim/elementary.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import { unitNamed } from "./unit-table.ts";

export type UnitSystem = "metric" | "US";

/** The same quantity in both systems. */
export interface BothUnits {
  readonly metric: string;
  readonly US: string;
}

/** The given system first, the other in brackets. */
export const inBothUnits = (both: BothUnits, system: UnitSystem): string =>
  system === "metric" ? `${both.metric} (${both.US})` : `${both.US} (${both.metric})`;

const US_GAL_M3 = unitNamed("us gal")!.factor;
const US_GPH_M3_PER_S = unitNamed("us gph")!.factor;
const INCH_M = unitNamed("in")!.factor;
const POUND_G = unitNamed("lb")!.factor;

const marks = new Map<string, Intl.NumberFormat>();

/** A cached number format with at most `decimals` decimals in the notation of a locale. */
function marksOf(locale: string, decimals: number): Intl.NumberFormat {
  const key = `${locale}/${decimals}`;
  const known = marks.get(key) ?? new Intl.NumberFormat(locale, { maximumFractionDigits: decimals, useGrouping: false });
  marks.set(key, known);
  return known;
}

/**
 * A number with at most `digits` significant digits: no exponent, no trailing zeros, minus zero as zero.
 * @throws RangeError when the value is not finite
 */
export function plain(value: number, digits = 3, locale = "en"): string {
  if (!Number.isFinite(value)) throw new RangeError(`${value} cannot be printed`);
  if (value === 0) return "0";
  const decimals = Math.min(20, Math.max(0, digits - 1 - Math.floor(log10(Math.abs(value)))));
  const text = marksOf(locale, decimals).format(value);
  return text === "-0" ? "0" : text;
}

/** Inches, rounded to sixteenths as on a ruler: "8 5/8 in". */
export function inches(metres: number): string {
  const sixteenths = Math.round((Math.abs(metres) / INCH_M) * 16);
  const whole = Math.floor(sixteenths / 16);
  let over = sixteenths % 16;
  let under = 16;
  while (over > 0 && over % 2 === 0) {
    over /= 2;
    under /= 2;
  }
  const sign = metres < 0 && sixteenths > 0 ? "-" : "";
  const fraction = over === 0 ? "" : `${over}/${under}`;
  return `${sign}${whole === 0 && fraction !== "" ? fraction : `${whole}${fraction === "" ? "" : ` ${fraction}`}`} in`;
}

/** Millimetres (a decimal below 10 mm) and sixteenths of an inch; metres and feet from 10 m on. */
export function length(metres: number, locale?: string): BothUnits {
  const m = Math.abs(metres);
  if (m >= 10) return { metric: `${plain(metres, 3, locale)} m`, US: `${plain(metres / (12 * INCH_M), 3, locale)} ft` };
  return { metric: `${m < 0.00995 ? plain(metres * 1000, 2, locale) : Math.round(metres * 1000)} mm`, US: inches(metres) };
}

export const area = (m2: number, locale?: string): BothUnits => ({
  metric: `${plain(m2, 3, locale)} m²`,
  US: `${plain(m2 / square(12 * INCH_M), 3, locale)} ft²`,
});

/** No more figures than a bucket can show: one below 1, two below 100, whole above. */
const bucketDigits = (value: number): number => (Math.abs(value) < 0.95 ? 1 : Math.abs(value) < 99.5 ? 2 : 3);

/** Litres and US gallons. */
export const volume = (m3: number, locale?: string): BothUnits => {
  const [litres, gallons] = [m3 * 1000, m3 / US_GAL_M3];
  return {
    metric: `${plain(litres, bucketDigits(litres), locale)} L`,
    US: `${plain(gallons, bucketDigits(gallons), locale)} US gal`,
  };
};

/** Litres per hour and US gallons per hour. */
export const flow = (m3PerS: number, locale?: string): BothUnits => ({
  metric: `${plain(m3PerS * 3.6e6, 3, locale)} L/h`,
  US: `${plain(m3PerS / US_GPH_M3_PER_S, 3, locale)} US gph`,
});

export const temperature = (celsius: number, locale?: string): BothUnits => ({
  metric: `${plain(celsius, 3, locale)} °C`,
  US: `${plain((celsius * 9) / 5 + 32, 3, locale)} °F`,
});

/** Grams or kilograms; ounces or pounds. */
export const mass = (grams: number, locale?: string): BothUnits => ({
  metric: Math.abs(grams) < 1000 ? `${plain(grams, 2, locale)} g` : `${plain(grams / 1000, 2, locale)} kg`,
  US: Math.abs(grams) < POUND_G ? `${plain((grams / POUND_G) * 16, 2, locale)} oz` : `${plain(grams / POUND_G, 2, locale)} lb`,
});

/** A share as a percentage, the same in both systems. */
export const share = (value: number): string => `${plain(value * 100)} %`;

/**
 * The day of the run, counted from 0, that contains a time [d]. A small tolerance keeps rounding errors of the solver
 * from giving the day before.
 */
export const dayOf = (days: number): number => Math.floor(days + 1e-6);

/** A reading on a test kit [mg/L]: two figures, and no more than two decimals, which no kit shows. */
export const reading = (mgPerL: number, locale?: string): string => plain(Math.round(100 * mgPerL) / 100, 2, locale);

/** Seconds, minutes with seconds, or hours with minutes, as a watch shows them: "37 s", "3 min 48 s", "2 h 30 min". */
export function watch(seconds: number, locale?: string): string {
  const whole = Math.round(Math.abs(seconds));
  const count = (value: number): string => plain(value, 15, locale);
  const two = (big: number, unit: string, small: number, part: string): string =>
    `${count(big)} ${unit}${small > 0 ? ` ${count(small)} ${part}` : ""}`;
  if (whole < 100) return `${count(whole)} s`;
  if (whole < 600) return two(Math.floor(whole / 60), "min", whole % 60, "s");
  if (whole < 5400) return `${count(Math.round(whole / 60))} min`;
  const minutes = Math.round(whole / 60);
  return two(Math.floor(minutes / 60), "h", minutes % 60, "min");
}

/** Hours to act by, no finer than one would say them: to five minutes below two, to the half below ten, then whole. */
const roundHours = (h: number): number =>
  h < 2 ? Math.max(1, Math.round(h * 12)) / 12 : h < 10 ? Math.round(h * 2) / 2 : Math.round(h);

/** "1 day", "70 days" */
export const count = (n: number, one: string, locale?: string): string => `${plain(n, 15, locale)} ${one}${n === 1 ? "" : "s"}`;

/** "55 min", "1 hour", "2.5 hours" */
export function hours(h: number, locale?: string): string {
  const said = roundHours(h);
  if (said > 1 && said < 2) return `1 h ${plain(Math.round(60 * (said - 1)), 15, locale)} min`;
  return said < 1 ? `${plain(Math.round(60 * said), 15, locale)} min` : count(said, "hour", locale);
}

/** "2.5 to 17 hours", "about 3 hours"; open at the end where `to` is null. */
export function hourRange(from: number, to: number | null, locale?: string): string {
  if (to === null) return `${hours(from, locale)} or more`;
  if (roundHours(from) === roundHours(to)) return `about ${hours(from, locale)}`;
  if (roundHours(to) < 1) return `${plain(Math.round(60 * roundHours(from)), 15, locale)} to ${hours(to, locale)}`;
  return `${roundHours(from) < 2 ? hours(from, locale) : plain(roundHours(from), 15, locale)} to ${hours(to, locale)}`;
}

const LONGEST_IN_HOURS_S = 2 * SECONDS_PER_DAY;

/** Same in both systems: as a watch shows it up to ten hours, then whole hours, and days from two on. */
export function duration(seconds: number, locale?: string): string {
  const s = Math.abs(seconds);
  if (s < 36_000) return watch(s, locale);
  if (s < LONGEST_IN_HOURS_S) return `${plain(Math.round(s / 3600), 15, locale)} h`;
  const days = s / SECONDS_PER_DAY;
  return `${plain(days < 10 ? days : Math.round(days), days < 10 ? 2 : 15, locale)} days`;
}
