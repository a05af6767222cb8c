// Input of every section. Sections are pure functions: the same context gives the same tree, in Node and in the page.
import type { RunResult } from "../../scenarios/result/result.ts";
import type { Period } from "../charts/scale.ts";
import type { Reader } from "../view/reader.ts";

export interface Context {
  /** One scenario, or several in a comparison. */
  readonly results: readonly RunResult[];
  /** Index of the scenario that the drawing, the tables and the sheets show. */
  readonly focus: number;
  readonly reader: Reader;
  /** Width of the text column [CSS pixels]. */
  readonly width: number;
  /** Result of the changed scenario after the reader has changed something. */
  readonly changed: RunResult | null;
  /** The reader's own readings, on the printed scale. */
  readonly readings?: readonly Reading[];
  /** Values of the controls of "Try it" that differ from the file, by id. */
  readonly moved?: ReadonlyMap<string, string>;
  /** Period shown by the charts; the whole run when absent. */
  readonly period?: Period;
  /** Ids of the open folds. */
  readonly open?: ReadonlySet<string>;
  /** True in a browser: what the page draws itself, or only on demand, is left empty. */
  readonly live?: boolean;
}

/** A reading of a panel's quantity on a day. */
export interface Reading {
  readonly what: string;
  readonly day: number;
  readonly value: number;
}

export const focused = (c: Context): RunResult => c.changed ?? c.results[c.focus] ?? c.results[0]!;

/** Period shown by the charts [d]. */
export const periodOf = (c: Context): Period => c.period ?? { from: 0, to: spanDays(c.results) };

/** Longest time span of the results [d]. */
export const spanDays = (results: readonly RunResult[]): number =>
  Math.max(1, ...results.map((r) => r.nitrogen.timeDays.at(-1) ?? 0));
