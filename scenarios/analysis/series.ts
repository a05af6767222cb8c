// Time series of readings and their peak, time above a level and day of clearing. Numbers only.

import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { freeAmmoniaNGPerM3 } from "../../models/water/ammonia.ts";
import { AMMONIA_PER_N } from "../../models/water/molar-mass.ts";

/** Time series of one quantity over the outputs of a run; `days` and `values` have the same length. */
export interface Track {
  readonly days: readonly number[];
  readonly values: readonly number[];
}

/** Series of one substance in the first display [g N/m³, g O2/m³, eq/m³], one value per output. */
export function track(run: Run, substance: "tan" | "no2" | "no3" | "o2" | "alk"): Track {
  const i = run.aquarium.layout.cellIndex(run.aquarium.displayCells[0], substance);
  return { days: run.days, values: run.states.map((y) => Math.max(0, y[i])) };
}

export interface Peak {
  readonly day: number;
  readonly value: number;
}

/** Highest value from a day on, and its day. */
export function peakOf(t: Track, from = 0): Peak {
  let best = { day: from, value: 0 };
  t.days.forEach((day, n) => {
    if (day >= from && t.values[n] > best.value) best = { day, value: t.values[n] };
  });
  return best;
}

/** Days above a level, between two days. */
export function daysAbove(t: Track, level: number, from = 0, until = Number.POSITIVE_INFINITY): number {
  let days = 0;
  for (let n = 1; n < t.days.length; n++)
    if (t.days[n] > from && t.days[n] <= until && t.values[n] > level) days += t.days[n] - t.days[n - 1];
  return days;
}

/** Values closer to the highest than this share count as equally high: each dose brings ammonia back to one level. */
const AS_HIGH = 0.95;

/** The highest value, with the first day on which the value is about as high. */
export function firstPeakOf(t: Track): Peak {
  const { value } = peakOf(t);
  const n = t.values.findIndex((one) => one >= AS_HIGH * value);
  return { day: t.days[Math.max(0, n)], value };
}

/** First day after the first peak on which the value is below `level`; null when there is none. */
export function clearedAfterPeak(t: Track, level: number): number | null {
  const peak = firstPeakOf(t);
  const n = t.days.findIndex((day, i) => day > peak.day && t.values[i] < level);
  return n < 0 ? null : t.days[n];
}

/** Mean over all displays, weighted by volume, because they do not mix during an outage. */
export function inDisplays(run: Run, substance: "tan" | "no2"): Track {
  const { layout, displayCells, exchange } = run.aquarium;
  const waterM3 = displayCells.reduce((sum, c) => sum + exchange.volumesM3[c], 0);
  const mean = (y: Float64Array) =>
    displayCells.reduce((sum, c) => sum + (exchange.volumesM3[c] / waterM3) * y[layout.cellIndex(c, substance)], 0);
  return { days: run.days, values: run.states.map(mean) };
}

/** Alkalinity below which nitrification is limited [eq/m³] (about 0.5 dKH; the half-saturation of the model). */
export const SPENT_ALKALINITY = 0.1;

/** First day with alkalinity below that limit; null when there is none. */
export function alkalinityGone(run: Run): number | null {
  const alk = track(run, "alk");
  const n = alk.values.findIndex((value) => value < SPENT_ALKALINITY);
  return n < 0 ? null : alk.days[n];
}

/** Un-ionised ammonia of the first display at one output [g NH3/m3]. */
export function unionised(run: Run, n: number): number {
  const c = run.aquarium.displayCells[0];
  const { temperatureC, salinityGPerKg } = run.operating[n];
  const tan = run.states[n][run.aquarium.layout.cellIndex(c, "tan")];
  return freeAmmoniaNGPerM3(tan, run.ph[n][c], temperatureC[c], salinityGPerKg) * AMMONIA_PER_N;
}
