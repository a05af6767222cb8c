// Data stored in the browser: the current sheet with its history, and the kept systems. Plain data, independent of the
// storage.

export interface StoredScenario {
  readonly id: string;
  readonly name: string;
  readonly text: string;
  /** Time of the last save [ms since 1970]. */
  readonly at: number;
}

/** The current sheet, restored when the page opens again. */
export interface Sheet {
  readonly text: string;
  readonly saved: string;
  readonly past: readonly string[];
  readonly keptId: string | null;
}

/** Undo steps preserved when the page closes. */
export const MOST_PAST = 200;

export const isStoredScenario = (value: unknown): value is StoredScenario =>
  typeof value === "object" &&
  value !== null &&
  ["id", "name", "text"].every((key) => typeof (value as Record<string, unknown>)[key] === "string") &&
  typeof (value as StoredScenario).at === "number";

/** The list with this system added or replaced, newest first. */
export const withStored = (list: readonly StoredScenario[], one: StoredScenario): readonly StoredScenario[] => [
  one,
  ...list.filter(({ id }) => id !== one.id),
];

/** A name not yet used in the list. */
export function freshName(list: readonly StoredScenario[], name: string): string {
  const taken = new Set(list.map((kept) => kept.name));
  if (!taken.has(name)) return name;
  const stem = name.replace(/ \(\d+\)$/, "");
  for (let i = 2; ; i++) if (!taken.has(`${stem} (${i})`)) return `${stem} (${i})`;
}

/** The kept systems as one file. */
export const bundle = (list: readonly StoredScenario[]): string =>
  JSON.stringify({ format: "sumpwright-systems", version: 1, systems: list }, null, 1);

/**
 * The systems in a file of kept systems.
 * @throws Error with a message for the user if the file is of another kind
 */
export function unbundled(text: string): readonly StoredScenario[] {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (cause) {
    throw new Error("This is neither a scenario nor a file of kept systems.", { cause });
  }
  const { format, version, systems } = (typeof data === "object" && data !== null ? data : {}) as Record<string, unknown>;
  if (format !== "sumpwright-systems") throw new Error("This file holds no kept systems.");
  if (version !== 1) throw new Error("This file was written by a later version, which this page cannot read.");
  if (!Array.isArray(systems) || !systems.every(isStoredScenario))
    throw new Error("Some of the systems in this file are not whole.");
  return systems;
}
