// Maintenance interval of something that fills with solids, derived from its filling in the run.

/**
 * Fill of a pad or chamber at each time of a run, as a fraction of the level at which it is due: inert solids,
 * degradable solids, and solids present at the start.
 */
export interface FillHistory {
  readonly days: readonly number[];
  readonly inert: readonly number[];
  readonly organic: readonly number[];
  readonly before: readonly number[];
}

export interface Due {
  /**
   * Time from clean to full at the feeding of the reference time: the day on which it was full, otherwise the end of
   * the run [d].
   */
  readonly everyDays: number;
  /** First day on which it was full; null when that did not occur in the run. */
  readonly fullDay: number | null;
}

/** Period over which the filling rate is computed [d]; shorter after a cleaning. */
const TREND_DAYS = 7;
/** Intervals longer than this count as never due [d]. */
const LONGEST_DAYS = 5 * 365;

/**
 * The maintenance interval. Inert solids accumulate with the food, while the rest soon degrades as fast as it arrives.
 * The pad or chamber is therefore full when inert solids have filled the fraction that degradable solids leave.
 * @param cleanedOn days on which it was emptied, ascending
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
