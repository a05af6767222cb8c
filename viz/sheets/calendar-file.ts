// The calendar as an iCalendar file (RFC 5545): whole days, counted from the date that the reader sets for day 0.
import ical from "ical-generator";
import type { RunResult } from "../../scenarios/result/result.ts";

const DAY_MS = 86_400_000;

/** @param dayZero the date of day 0 as YYYY-MM-DD */
export function calendarFile(result: Pick<RunResult, "name" | "calendar">, dayZero: string): string {
  const zero = Date.parse(`${dayZero}T00:00:00Z`);
  if (!Number.isFinite(zero)) throw new RangeError(`${dayZero} is not a date`);
  const calendar = ical({ name: result.name, prodId: { company: "Sumpwright", product: "Sumpwright", language: "EN" } });
  result.calendar.forEach((entry, i) => {
    const start = new Date(zero + Math.floor(entry.day) * DAY_MS);
    calendar.createEvent({
      id: `${i}-${dayZero}@sumpwright.invalid`,
      start,
      end: new Date(start.getTime() + DAY_MS),
      allDay: true,
      floating: true,
      stamp: new Date(zero),
      summary: entry.title,
      description: entry.detail,
    });
  });
  return calendar.toString();
}
