// An amount such as "24 °C" or "3 mg/L as NH3", split into number and unit, so that a study can vary the number.

export interface Amount {
  readonly value: number;
  /** The unit as written; empty for a plain number. */
  readonly unit: string;
}

const NUMBER = /^\s*([+-]?(?:\d+(?:\.\d+)?|\.\d+)(?:e[+-]?\d+)?)\s*(\S.*)?$/i;

/** @returns null for anything but one number and its unit ("900 x 400 mm", "3/4 in", "drip plate") */
export function amountOf(written: unknown): Amount | null {
  if (typeof written === "number") return { value: written, unit: "" };
  const match = typeof written === "string" ? NUMBER.exec(written) : null;
  if (!match) return null;
  const unit = (match[2] ?? "").trim();
  return /\d/.test(unit.replace(/m[23]|in[23]|ft[23]|NH[34]|NO[23]|CO2|CaCO3|HCO3|Cl2/gi, "")) || unit.startsWith("/")
    ? null
    : { value: Number(match[1]), unit };
}

/** Significant figures of a value in a study: enough for any instrument, and readable. */
const FIGURES = 6;

/** The amount as it is written into a scenario. */
export const written = (value: number, unit: string): string | number =>
  unit === "" ? rounded(value) : `${rounded(value)} ${unit}`;

export const rounded = (value: number): number => Number(value.toPrecision(FIGURES));
