// Parses sizes such as "48 x 18 x 21 in", days such as "day 3 18:00", and times of day.
import { fail, LONGEST_QUANTITY, parseQuantity, type Quantity, type QuantityError } from "./units.ts";

export interface Size {
  readonly ok: true;
  readonly metres: readonly number[];
  readonly system: Quantity["system"];
}

/**
 * Parses a size of `count` lengths, such as `1200 x 500 x 550 mm` or `48 in x 18 in`. A part without a unit takes the
 * unit of the last part.
 * @returns the lengths in metres, in the order written, or what is wrong and where
 */
export function parseSize(text: string, count: 2 | 3): Size | QuantityError {
  if (text.length > LONGEST_QUANTITY) return fail("too long for a size", 0, text.length);
  const example = count === 3 ? "1200 x 500 x 550 mm or 48 x 20 x 22 in" : "300 x 250 mm or 12 x 10 in";
  const parts = text.split(/[x×*]/i);
  if (parts.length !== count) return fail(`write ${count} lengths, for example ${example}`, 0, text.length);
  const lastUnit = /[a-z"'”’″′]+\s*$/i.exec(parts[count - 1]!)?.[0];
  if (!lastUnit) return fail(`a unit is missing: write, for example, ${example}`, text.length - 1, 1);
  // Parse the last part first: the others take its unit, so an error in it must point at it.
  const metres: number[] = [];
  let system: Quantity["system"] = "both";
  for (let i = count - 1; i >= 0; i--) {
    const part = parts[i]!;
    const length = parseQuantity(/[a-z"'”’″′]/i.test(part) ? part : `${part.trimEnd()} ${lastUnit.trim()}`, "length");
    const offset = parts.slice(0, i).reduce((sum, before) => sum + before.length + 1, 0);
    if (!length.ok)
      return fail(
        length.problem,
        offset + Math.min(length.offset, Math.max(0, part.length - 1)),
        Math.min(length.length, part.length),
      );
    metres.unshift(length.value);
    system = length.system;
  }
  return { ok: true, metres, system };
}

/** Parses `day 3`, `day 3.5`, `week 2` or `day 3 18:00` into days since the start (the run begins at day 0, 00:00). */
export function parseDay(text: string): { readonly ok: true; readonly day: number } | QuantityError {
  const match = /^\s*(day|week)\s+(\d+(?:\.\d+)?)(?:\s+(?:at\s+)?(\d{1,2}):(\d{2}))?\s*$/i.exec(text);
  if (!match) return fail("write when, for example day 3, day 3 18:00 or week 2", 0, text.length);
  const clock = parseClock(match[3] === undefined ? "0:00" : `${match[3]}:${match[4]}`);
  if (!clock.ok) return fail(clock.problem, text.indexOf(match[3]!, match[0].indexOf(match[2]!) + match[2]!.length), text.length);
  return { ok: true, day: Number(match[2]) * (match[1]!.toLowerCase() === "week" ? 7 : 1) + clock.hour / 24 };
}

/** Parses a time of day such as `18:00` into hours since midnight. */
export function parseClock(text: string): { readonly ok: true; readonly hour: number } | QuantityError {
  const match = /^\s*(\d{1,2}):(\d{2})\s*$/.exec(text);
  if (!match || Number(match[1]) > 23 || Number(match[2]) > 59)
    return fail("write a time of day, for example 18:00", 0, text.length);
  return { ok: true, hour: Number(match[1]) + Number(match[2]) / 60 };
}
