// Linear scales, round ticks, and the period of days shown by the charts.
import { ticks } from "d3";
import { log10 } from "../../sim/elementary.ts";
import { number, type Reader } from "../view/reader.ts";

/** Period shown by the charts [d]. */
export interface Period {
  readonly from: number;
  readonly to: number;
}

/** Linear map from [from, to] in the data to [start, end] in the drawing. */
export function linear([from, to]: readonly [number, number], [start, end]: readonly [number, number]): (v: number) => number {
  const slope = to === from ? 0 : (end - start) / (to - from);
  return (v) => start + (v - from) * slope;
}

/** About `count` round values between two ends, with their text. */
export function roundTicks(
  reader: Reader,
  low: number,
  high: number,
  count: number,
): readonly { readonly value: number; readonly text: string }[] {
  const values = ticks(low, high, count);
  const step = values.length > 1 ? values[1]! - values[0]! : 1;
  const decimals = Math.max(0, -Math.floor(log10(step) + 1e-9));
  return values.map((value) => ({ value, text: number(reader, value, decimals) }));
}
