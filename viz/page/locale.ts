// The reader's language, as reported by the browser.

/** Language of the browser; some systems report one that number formatting does not support. */
export function usableLocale(): string {
  try {
    return new Intl.NumberFormat(navigator.language).resolvedOptions().locale;
  } catch (error) {
    if (error instanceof RangeError) return "en";
    throw error;
  }
}
