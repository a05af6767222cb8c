// When something that fills with dirt is due, read from how it filled in the run.

/** How full a pad or a chamber was at each time of a run, 1 = due: by what never dissolves, by what does, and by dirt it began with. */
export interface FillHistory {
  readonly days: readonly number[];
  readonly inert: readonly number[];
  readonly organic: readonly number[];
  readonly before: readonly number[];
}

export interface Due {
  /** From clean to full, fed as it was at the reference time: the day it was full, else the end of the run [d]. */
  readonly everyDays: number;
  /** First day on which it was full; null when the run never saw that. */
  readonly fullDay: number | null;
}

/** A rate is read over so many days, or fewer after a cleaning. */
const TREND_DAYS = 7;
/** What fills slower than this is never due. */
const LONGEST_DAYS = 5 * 365;

/**
 * Inert dirt grows as long as there is food, while the rest soon dissolves as fast as it comes: full when the inert has filled what that leaves.
 * @param cleanedOn days on which it was emptied, rising
 * @returns null when it is never due
 */
export function maintenanceInterval({ days, inert, organic, before }: FillHistory, cleanedOn: readonly number[]): Due | null {
  const isFull = (n: number): boolean => inert[n] + organic[n] + before[n] >= 1;
  const all = [...days.keys()];
  const cleaned = cleanedOn.filter((day) => day <= days[days.length - 1] - 1).at(-1) ?? 0;
  const stretch = all.filter((n) => days[n] >= cleaned);
  const start = stretch[0];
  const reference = stretch.find((n) => n > start && isFull(n)) ?? stretch[stretch.length - 1];
  const until = days[reference] - days[start] < 1 ? days[start] + TREND_DAYS : days[reference];
  const window = stretch.filter((n) => days[n] >= until - TREND_DAYS && days[n] <= until);
  const [first, last] = [window[0], window[window.length - 1]];
  const perDay = (inert[last] - inert[first]) / (days[last] - days[first]);
  const everyDays = Math.max(0, 1 - organic[last]) / perDay;
  if (!(perDay > 0) || everyDays > LONGEST_DAYS) return null;
  const full = all.find(isFull);
  return { everyDays, fullDay: full === undefined ? null : days[full] };
}
