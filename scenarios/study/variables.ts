// The variables of a study. Each maps a number in [0, 1), or the number of a choice, to values set in the scenario.
import { even, logEven, logNormal, normal, type Quantile, triangle } from "../../sim/design/distributions.ts";
import type { Complaint } from "../load/schema-errors.ts";
import { type Amount, amountOf, rounded, written } from "./amounts.ts";
import type { Change } from "./base.ts";
import { type Path, stepsOf } from "./keys.ts";
import type { VariableText } from "./schema.ts";
import type { Table } from "./table.ts";

/** A column of inputs in the results. */
export interface Input {
  readonly name: string;
  /** Unit as the study writes it; empty for plain numbers and words. */
  readonly unit: string;
  /** The words for 0, 1, 2 ...; null for numbers. */
  readonly labels: readonly string[] | null;
}

export interface Setting {
  readonly changes: readonly Change[];
  /** One number per input of the variable; NaN where a table has an empty cell. */
  readonly values: readonly number[];
  /** Index of the scenario to which it belongs; absent when the setting does not name one. */
  readonly scenario?: number;
}

export interface Variable {
  readonly name: string;
  readonly inputs: readonly Input[];
  /** Number of settings that a full factorial design uses; null for a range without steps. */
  readonly choices: number | null;
  readonly choice: (i: number) => Setting;
  readonly at: (u: number) => Setting;
}

const clampIndex = (u: number, count: number): number => Math.min(count - 1, Math.floor(u * count));

/** A variable with a list of settings. */
export const listed = (name: string, inputs: readonly Input[], settings: readonly Setting[]): Variable => ({
  name,
  inputs,
  choices: settings.length,
  choice: (i) => settings[i],
  at: (u) => settings[clampIndex(u, settings.length)],
});

export const fromTable = (name: string, table: Table): Variable => listed(name, table.inputs, table.rows);

/** The keys of each kind of distribution; the first ones are required. */
const SPREAD_KEYS = {
  even: ["from", "to"],
  "log even": ["from", "to"],
  triangle: ["from", "to", "likely"],
  normal: ["mean", "sd"],
  "log normal": ["median", "factor"],
} as const;
type SpreadKey = (typeof SPREAD_KEYS)[keyof typeof SPREAD_KEYS][number];
const ALL_KEYS: readonly SpreadKey[] = ["from", "to", "likely", "mean", "sd", "median", "factor"];

/** The distribution that the keys of a variable imply. */
const spreadOf = (text: VariableText): keyof typeof SPREAD_KEYS =>
  text.mean !== undefined || text.sd !== undefined
    ? "normal"
    : text.median !== undefined || text.factor !== undefined
      ? "log normal"
      : text.likely !== undefined
        ? "triangle"
        : "even";

/** The variable of a list or range in the study, or the errors, relative to the variable's own place. */
export function variableOf(text: VariableText): Variable | readonly Complaint[] {
  const complaints: Complaint[] = [];
  const complain = (path: readonly PropertyKey[], problem: string): void => {
    complaints.push({ path, problem, at: path.length === 0 ? "value" : "key" });
  };
  const steps: Path[] = [];
  for (const [i, key] of (text.key ?? []).entries()) {
    const found = stepsOf(key);
    if (found) steps.push(found);
    else
      complaints.push({
        path: text.key!.length > 1 ? ["key", i] : ["key"],
        problem: `"${key}" is not a key such as water.temperature or tank[2].rock`,
        at: "value",
      });
  }
  if (!text.key) complain([], "missing: key, the place in the scenario that is varied");
  const name = text.name ?? text.key?.[0] ?? "";
  const changesTo = (value: Change["value"]): readonly Change[] => steps.map((path) => ({ steps: path, value }));

  if (text.values) {
    for (const key of [...ALL_KEYS, "spread", "steps"] as const)
      if (text[key] !== undefined) complain([key], "a list of values needs no range: leave one of the two out");
    if (complaints.length > 0) return complaints;
    const amounts = text.values.map(amountOf);
    const [first] = amounts;
    const numeric = first && amounts.every((amount) => amount?.unit === first.unit);
    const labels = numeric ? null : text.values.map(String);
    return listed(
      name,
      [{ name, unit: numeric ? first.unit : "", labels }],
      text.values.map((value, i) => ({ changes: changesTo(value), values: [numeric ? amounts[i]!.value : i] })),
    );
  }

  const spread = text.spread ?? spreadOf(text);
  const needed: readonly SpreadKey[] = SPREAD_KEYS[spread];
  const absent = needed.filter((key) => text[key] === undefined);
  if (absent.length === needed.length && !text.spread) complain([], "missing: values, or from and to, or file");
  else for (const key of absent) complain([], `missing: ${key}, for a spread that is ${spread}`);
  for (const key of ALL_KEYS)
    if (text[key] !== undefined && !needed.includes(key)) complain([key], `a spread that is ${spread} has no ${key}`);
  const amounts = new Map<SpreadKey, Amount>();
  for (const key of needed) {
    const value = text[key];
    if (value === undefined) continue;
    const amount = amountOf(value);
    if (amount) amounts.set(key, amount);
    else
      complaints.push({
        path: [key],
        problem: `write one number with its unit, such as 24 °C; put "${String(value)}" under values`,
        at: "value",
      });
  }
  const units = new Map([...amounts].filter(([key]) => key !== "factor").map(([key, { unit }]) => [unit, key]));
  if (units.size > 1)
    complaints.push({
      path: [[...units.values()].at(-1)!],
      problem: `all of a range must be in the same unit: here are ${[...units.keys()].map((u) => u || "none").join(" and ")}`,
      at: "value",
    });
  const v = (key: SpreadKey): number => amounts.get(key)?.value ?? Number.NaN;
  if (v("from") >= v("to")) complaints.push({ path: ["to"], problem: "must be above from", at: "value" });
  if (spread === "log even" && v("from") <= 0)
    complaints.push({ path: ["from"], problem: "must be above 0 in a spread that is log even", at: "value" });
  if (spread === "triangle" && (v("likely") < v("from") || v("likely") > v("to")))
    complaints.push({ path: ["likely"], problem: "must lie between from and to", at: "value" });
  if (v("sd") <= 0) complaints.push({ path: ["sd"], problem: "must be above 0", at: "value" });
  if (v("median") <= 0) complaints.push({ path: ["median"], problem: "must be above 0", at: "value" });
  if (complaints.length > 0) return complaints;

  const quantile: Quantile = {
    even: () => even(v("from"), v("to")),
    "log even": () => logEven(v("from"), v("to")),
    triangle: () => triangle(v("from"), v("likely"), v("to")),
    normal: () => normal(v("mean"), v("sd")),
    "log normal": () => logNormal(v("median"), v("factor")),
  }[spread]();
  const unit = [...units.keys()][0];
  const at = (u: number): Setting => {
    const value = rounded(quantile(u));
    return { changes: changesTo(written(value, unit)), values: [value] };
  };
  const ends = spread === "even" || spread === "log even";
  const count = text.steps ?? null;
  return {
    name,
    inputs: [{ name, unit, labels: null }],
    choices: count,
    choice: (i) => at(count === null ? 0.5 : ends ? i / (count - 1) : (i + 0.5) / count),
    at,
  };
}
