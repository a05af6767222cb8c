// The reader's own readings: kept in this browser for one scenario, and written as the scenario format has them.
import type { Reading } from "../sections/context.ts";
import type { KnobChange } from "../sections/knobs.ts";

/** The part of a browser's store that is used. */
export interface Store {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
}

const keyOf = (file: string, name: string): string => `sumpwright readings: ${file}: ${name}`;

const isReading = (value: unknown): value is Reading => {
  const r = value as Partial<Reading> | null;
  return typeof r?.what === "string" && Number.isFinite(r.day) && Number.isFinite(r.value);
};

/** The kept readings of a scenario; none where there is nothing to be read. */
export function keptReadings(store: Store | null, file: string, name: string): readonly Reading[] {
  const text = store?.getItem(keyOf(file, name));
  if (!text) return [];
  try {
    const list: unknown = JSON.parse(text);
    return Array.isArray(list) ? list.filter(isReading) : [];
  } catch (error) {
    // Somebody else's text under our key is no reading.
    if (error instanceof SyntaxError) return [];
    throw error;
  }
}

export function keepReadings(store: Store | null, file: string, name: string, readings: readonly Reading[]): void {
  if (!store) return;
  if (readings.length === 0) store.removeItem(keyOf(file, name));
  else store.setItem(keyOf(file, name), JSON.stringify(readings));
}

/** This browser's store; null where the reader has switched it off. */
export function browserStore(): Store | null {
  try {
    return globalThis.localStorage;
  } catch (error) {
    if (error instanceof DOMException) return null;
    throw error;
  }
}

const KEYS: Readonly<Record<string, string>> = { tan: "ammonia", no2: "nitrite", no3: "nitrate" };

/** Readings as changes of a scenario file, after the `count` that it has: those of one day are one entry. */
export function readingChanges(readings: readonly Reading[], count: number): readonly KnobChange[] {
  const days = [...new Set(readings.map((r) => r.day))].sort((a, b) => a - b);
  return days.flatMap((day, i) => {
    const path = ["readings", count + i];
    const values = readings.filter((r) => r.day === day && KEYS[r.what] !== undefined);
    return [
      { path: [...path, "at"], value: `day ${day}` },
      ...values.map((r) => ({ path: [...path, KEYS[r.what]!], value: r.value })),
    ];
  });
}
