// What every section is drawn from. Sections are pure: the same context gives the same tree, in Node and in the page.
import type { RunResult } from "../../scenarios/result/result.ts";
import type { Period } from "../charts/scale.ts";
import type { Reader } from "../view/reader.ts";

export interface Context {
  /** One scenario, or several that are compared. */
  readonly results: readonly RunResult[];
  /** Which of them the drawing, the tables and the sheets are about. */
  readonly focus: number;
  readonly reader: Reader;
  /** Width of the text column in CSS pixels. */
  readonly width: number;
  /** Result of the changed scenario, when the reader has changed something. */
  readonly changed: RunResult | null;
  /** The reader's own readings, on the printed scale. */
  readonly readings?: readonly Reading[];
  /** Controls of "Try it" that stand elsewhere than in the file, by id. */
  readonly moved?: ReadonlyMap<string, string>;
  /** Days that the charts show; all of them when absent. */
  readonly period?: Period;
  /** Folds that are open, by id. */
  readonly open?: ReadonlySet<string>;
  /** In a browser: what the page draws itself, or only when it is opened, is left empty. */
  readonly live?: boolean;
}

/** A reading of one panel's quantity on a day. */
export interface Reading {
  readonly what: string;
  readonly day: number;
  readonly value: number;
}

export const focused = (c: Context): RunResult => c.changed ?? c.results[c.focus] ?? c.results[0]!;

/** Days that the charts show. */
export const periodOf = (c: Context): Period => c.period ?? { from: 0, to: spanDays(c.results) };

/** Longest span of the results [days]. */
export const spanDays = (results: readonly RunResult[]): number =>
  Math.max(1, ...results.map((r) => r.nitrogen.timeDays.at(-1) ?? 0));
