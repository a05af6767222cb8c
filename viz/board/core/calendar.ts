// The timeline as a strip of days: each event with all its repetitions and a sentence.

import { valueAt } from "../../../scenarios/load/edits.ts";
import { parseDay } from "../../../scenarios/text/sizes.ts";
import { parseQuantity } from "../../../scenarios/text/units.ts";
import { eventInWords } from "../../../scenarios/timeline/all.ts";

export interface CalendarEvent {
  /** Path in the timeline or in the stock. */
  readonly path: readonly (string | number)[];
  readonly key: "at" | "arrives";
  readonly what: string;
  /** First day; null if it cannot be parsed. */
  readonly day: number | null;
  /** All days within the run. */
  readonly days: readonly number[];
  readonly every: string | null;
  readonly sentence: string;
}

const MOST = 400;
const isPlain = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const dayOf = (value: unknown): number | null => {
  const read = typeof value === "string" ? parseDay(value) : null;
  return read?.ok ? read.day : null;
};

/** Text of a time: whole days, with the time of day if there is one. */
export function dayText(day: number): string {
  const whole = Math.floor(day + 1e-6);
  const minutes = Math.round((day - whole) * 1440);
  return minutes <= 0
    ? `day ${whole}`
    : `day ${whole} ${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;
}

/** All entries with a day: events, and arrivals of animals. */
export function calendarEvents(data: unknown, runDays: number): readonly CalendarEvent[] {
  const list: CalendarEvent[] = [];
  const timeline = valueAt(data, ["timeline"]);
  (Array.isArray(timeline) ? timeline : []).forEach((entry: unknown, i) => {
    if (!isPlain(entry)) return;
    const what = typeof entry.do === "string" ? entry.do : "event";
    const day = dayOf(entry.at);
    const every = typeof entry.every === "string" ? parseQuantity(entry.every, "duration") : null;
    const stepDays = every?.ok ? every.value / 86_400 : 0;
    const until = Math.min(dayOf(entry.until) ?? runDays, runDays);
    const days: number[] = [];
    if (day !== null)
      for (let d = day; d <= until + 1e-9 && days.length < MOST; d += stepDays || Number.POSITIVE_INFINITY) days.push(d);
    const words = eventInWords(what, entry) ?? what;
    const often = stepDays > 0 ? `, again every ${String(entry.every)}` : "";
    list.push({
      path: ["timeline", i],
      key: "at",
      what,
      day,
      days,
      every: stepDays > 0 ? String(entry.every) : null,
      sentence: `${typeof entry.at === "string" ? entry.at.charAt(0).toUpperCase() + entry.at.slice(1) : "No day yet"}: ${words.charAt(0).toLowerCase()}${words.slice(1)}${often}.`,
    });
  });
  const stock = valueAt(data, ["stock"]);
  (Array.isArray(stock) ? stock : stock === undefined ? [] : [stock]).forEach((group: unknown, i) => {
    if (!isPlain(group)) return;
    const day = dayOf(group.arrives) ?? 0;
    list.push({
      path: ["stock", i],
      key: "arrives",
      what: "animals",
      day,
      days: day <= runDays ? [day] : [],
      every: null,
      sentence: `${dayText(day).replace("day", "Day")}: ${group.count ?? "some"} ${group.name ?? "animals"} arrive.`,
    });
  });
  return list.sort((a, b) => (a.day ?? 0) - (b.day ?? 0));
}
