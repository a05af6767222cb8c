// The reader's own readings: stored in this browser for one scenario, and exported in the scenario format.

import type { RunResult } from "../../scenarios/result/result.ts";
import type { Reading } from "../sections/context.ts";
import type { KnobChange } from "../sections/knobs.ts";
import { type Nitrogen, nitrogenScale, type Reader } from "../view/reader.ts";

/** The used part of the browser's storage interface. */
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

/** The stored readings of a scenario; empty if there are none or they cannot be read. */
export function storedReadings(store: Store | null, file: string, name: string): readonly Reading[] {
  const text = store?.getItem(keyOf(file, name));
  if (!text) return [];
  try {
    const list: unknown = JSON.parse(text);
    return Array.isArray(list) ? list.filter(isReading) : [];
  } catch (error) {
    // Ignore other text under the same key.
    if (error instanceof SyntaxError) return [];
    throw error;
  }
}

export function keepReadings(store: Store | null, file: string, name: string, readings: readonly Reading[]): void {
  if (!store) return;
  if (readings.length === 0) store.removeItem(keyOf(file, name));
  else store.setItem(keyOf(file, name), JSON.stringify(readings));
}

/** Storage of this browser; null if the reader has disabled it. */
export function browserStore(): Store | null {
  try {
    return globalThis.localStorage;
  } catch (error) {
    if (error instanceof DOMException) return null;
    throw error;
  }
}

const KEYS: Readonly<Record<string, string>> = { tan: "ammonia", no2: "nitrite", no3: "nitrate" };

/** Readings on the scale that the page prints, on the scale of the kit that the file names. */
export function onKitScale(readings: readonly Reading[], reader: Reader, kit: RunResult["kit"]): readonly Reading[] {
  if (reader.basis === "kit") return readings;
  return readings.map((reading) => {
    if (KEYS[reading.what] === undefined) return reading;
    const what = reading.what as Nitrogen;
    const [own, printed] = [{ ...reader, basis: "kit" as const }, reader].map((one) => nitrogenScale(one, kit, what).factor);
    return { ...reading, value: Number(((reading.value * own) / printed).toPrecision(4)) };
  });
}

/** Readings as changes of a scenario file, appended to its `count` readings; those of one day form one entry. */
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
