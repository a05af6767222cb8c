// Records every value that the program derived because the scenario does not give it.

import { type BothUnits, inBothUnits, type UnitSystem } from "./format.ts";

/** A value that the program used because the file does not give it: key, printed value and reason. */
export interface DefaultUsed {
  readonly key: string;
  readonly value: string;
  readonly why: string;
}

export class Notes {
  readonly defaults: DefaultUsed[] = [];
  readonly warnings: string[] = [];
  readonly units: UnitSystem;

  constructor(units: UnitSystem) {
    this.units = units;
  }

  /**
   * The given value, or the derived one, which is recorded with its reason. `text` is its printed form, in both unit
   * systems or as words.
   */
  or<T>(given: T | undefined, key: string, value: T, text: BothUnits | string, why: string): T {
    if (given !== undefined) return given;
    this.defaults.push({ key, value: typeof text === "string" ? text : inBothUnits(text, this.units), why });
    return value;
  }

  warn(text: string): void {
    this.warnings.push(text);
  }
}
