// Readings over a run, and what is asked of them: peak, time above a level, day of clearing. Numbers only.
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";

/** Readings of one quantity over the outputs of a run. */
export interface Track {
  readonly days: readonly number[];
  readonly values: readonly number[];
}

/** Readings of one substance in the first display [g N/m3, g O2/m3, eq/m3]. */
export function track(run: Run, substance: "tan" | "no2" | "no3" | "o2" | "alk"): Track {
  const i = run.aquarium.layout.cellIndex(run.aquarium.displayCells[0], substance);
  return { days: run.days, values: run.states.map((y) => y[i]) };
}

/** Doses and meals lift a reading to nearly the same height many times; the first time it is there counts. */
const AS_GOOD_AS_HIGHEST = 0.98;

export interface Peak {
  readonly day: number;
  readonly value: number;
}

/** Highest value from a day on, and the first day on which it is as good as reached. */
export function peakOf(t: Track, from = 0): Peak {
  let value = Number.NEGATIVE_INFINITY;
  t.days.forEach((day, n) => {
    if (day >= from) value = Math.max(value, t.values[n]);
  });
  const first = t.days.findIndex((day, n) => day >= from && t.values[n] >= AS_GOOD_AS_HIGHEST * value);
  return { day: first < 0 ? from : t.days[first], value };
}

/** Days spent above a level, and the dose above it [d, value x d]. */
export function above(t: Track, level: number, from = 0): { readonly days: number; readonly dose: number } {
  let days = 0;
  let dose = 0;
  for (let n = 1; n < t.days.length; n++) {
    if (t.days[n] <= from || t.values[n] <= level) continue;
    const step = t.days[n] - t.days[n - 1];
    days += step;
    dose += step * (t.values[n] - level);
  }
  return { days, dose };
}

/** First day after the peak at which the level has fallen under `level`; null when it does not. */
export function clearedAfterPeak(t: Track, level: number): number | null {
  const peak = peakOf(t);
  const n = t.days.findIndex((day, i) => day > peak.day && t.values[i] < level);
  return n < 0 ? null : t.days[n];
}

/** Mean of all displays, by their water: during an outage they do not mix. */
export function inDisplays(run: Run, substance: "tan" | "no2"): Track {
  const { layout, displayCells, exchange } = run.aquarium;
  const waterM3 = displayCells.reduce((sum, c) => sum + exchange.volumesM3[c], 0);
  const mean = (y: Float64Array) =>
    displayCells.reduce((sum, c) => sum + (exchange.volumesM3[c] / waterM3) * y[layout.cellIndex(c, substance)], 0);
  return { days: run.days, values: run.states.map(mean) };
}
