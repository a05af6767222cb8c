// Conversion factors between units of time.
export const HOURS_PER_DAY = 24;
export const SECONDS_PER_HOUR = 3600;
export const SECONDS_PER_DAY = HOURS_PER_DAY * SECONDS_PER_HOUR;
