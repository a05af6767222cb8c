// Numbers of a study in the form that its page prints.
import type { StudySummary } from "../../scenarios/study/summary.ts";
import { plain, type UnitSystem } from "../../scenarios/text/format.ts";

interface Shown {
  readonly unit: string;
  readonly factor: number;
}

const METRIC: Readonly<Record<string, Shown>> = {
  m: { unit: "mm", factor: 1000 },
  m3: { unit: "L", factor: 1000 },
  "g N/m3": { unit: "mg/L as N", factor: 1 },
  share: { unit: "%", factor: 100 },
  d: { unit: "days", factor: 1 },
};
const US: Readonly<Record<string, Shown>> = {
  ...METRIC,
  m: { unit: "in", factor: 1 / 0.0254 },
  m3: { unit: "US gal", factor: 1 / 0.003785411784 },
};

/** The unit in which a recorded number is printed; inputs keep the unit of the study file. */
export const shownUnit = (unit: string, system: UnitSystem): Shown =>
  (system === "US" ? US : METRIC)[unit] ?? { unit, factor: 1 };

export interface Field {
  readonly name: string;
  readonly unit: string;
  readonly labels: readonly string[] | null;
}

/** An input or a recorded number of a study, with its formatting. */
export class Reading {
  readonly field: Field;
  readonly unit: string;
  private readonly factor: number;

  constructor(field: Field, system: UnitSystem) {
    const { unit, factor } = shownUnit(field.unit, system);
    this.field = field;
    this.unit = unit;
    this.factor = factor;
  }

  /** Name and unit. */
  get title(): string {
    return this.unit === "" ? this.field.name : `${this.field.name} (${this.unit})`;
  }

  number(value: number | null | undefined, digits = 3): string {
    if (value === null || value === undefined || !Number.isFinite(value)) return "–";
    const { labels } = this.field;
    return labels ? (labels[value] ?? "–") : plain(value * this.factor, digits).replace("-", "−");
  }
}

export interface Readings {
  readonly inputs: readonly Reading[];
  readonly outcomes: readonly Reading[];
}

export const readingsOf = ({ inputs, columns, units }: StudySummary): Readings => ({
  inputs: inputs.map((input) => new Reading(input, units)),
  outcomes: columns.map(({ column }) => new Reading(column, units)),
});
