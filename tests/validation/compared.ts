// What the tests compare with measurements and published values, written down for the validation page when it is asked for
// (`npm run validate` names a file in VALIDATION_FILE).
import { appendFileSync } from "node:fs";

/** One number beside one from outside the project. */
export interface Pair {
  /** Set of data, a heading of the page. */
  readonly set: string;
  readonly what: string;
  readonly unit: string;
  readonly source: string;
  /** How the number from outside came about. */
  readonly kind: "measured" | "published" | "computed elsewhere" | "practice";
  /** One number, or the range that was seen. */
  readonly outside: number | readonly [low: number, high: number];
  readonly model: number;
}

/** A course in time beside the model's. */
export interface Course {
  readonly set: string;
  readonly what: string;
  readonly unit: string;
  readonly source: string;
  readonly note: string;
  /** Unit of the times. */
  readonly per: "days" | "minutes";
  readonly times: readonly number[];
  readonly measured: readonly (number | null)[];
  readonly model: readonly number[];
  /** 5-95 % of an ensemble, where there is one. */
  readonly low?: readonly number[];
  readonly high?: readonly number[];
}

const write = (record: object): void => {
  const file = process.env.VALIDATION_FILE;
  if (file) appendFileSync(file, `${JSON.stringify(record)}\n`);
};

export const compared = (pair: Pair): void => write({ pair });
export const comparedCourse = (course: Course): void => write({ course });
/** Figures of an acceptance scenario. */
export const figuresOf = (scenario: string, figures: Readonly<Record<string, number>>): void => write({ scenario, figures });
