// Dates of the calendar for the reader; the calendar file itself is made by the sheets.
const DAY_MS = 86_400_000;

/** Date of a day of the run in the reader's language. */
export const dateOf = (dayZero: string, day: number, locale: string): string => {
  const zero = Date.parse(`${dayZero}T00:00:00Z`);
  if (!Number.isFinite(zero)) return "";
  return new Intl.DateTimeFormat(locale, { day: "numeric", month: "short", weekday: "short", timeZone: "UTC" }).format(
    new Date(zero + Math.floor(day) * DAY_MS),
  );
};
