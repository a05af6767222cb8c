// A contradiction between keys of a scenario, with its place.

import { nearest } from "../text/suggest.ts";

export interface Inconsistency {
  readonly path: readonly PropertyKey[];
  readonly problem: string;
}

/** The problem of a name that nothing has, with the most similar known one. */
export const unknownName = (name: string, known: readonly string[], what: string): string => {
  const guess = nearest(name, known);
  return `there is no ${what} called "${name}"${guess ? `: did you mean "${guess}"?` : known.length > 0 ? `. Known names: ${[...new Set(known)].join(", ")}` : ""}`;
};
