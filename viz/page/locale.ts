// The reader's language, as the browser tells it.

/** The browser's language; some systems report one that number formats do not know. */
export function usableLocale(): string {
  try {
    return new Intl.NumberFormat(navigator.language).resolvedOptions().locale;
  } catch (error) {
    if (error instanceof RangeError) return "en";
    throw error;
  }
}
