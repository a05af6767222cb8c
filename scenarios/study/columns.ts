// The columns of numbers that a study records, determined by running each of its scenarios once.

import { faultsFor } from "../../models/hydraulics/outage/faults.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import type { Complaint } from "../load/schema-errors.ts";
import type { LocatedError } from "../load/yaml.ts";
import { coupleModels } from "../model/compile.ts";
import { nitrogenResult } from "../report/nitrogen-report.ts";
import { Answers, finders, RunFailure } from "../run/answers.ts";
import { parseQuantity } from "../text/units.ts";
import type { Base } from "./base.ts";
import { orRather, type Study } from "./load.ts";
import type { Column } from "./schema.ts";

export const LEVELS = ["info", "watch", "alarm"] as const;
export const VERDICTS = ["HOLDS", "TIGHT", "FLOODS"] as const;
const MOST_CURVE_VALUES = 400;
const USUAL_STEP = "7 days";

/** Results of one scenario, to check a study against. The scenario runs only when findings or curves are requested. */
class ReferenceRun {
  private readonly base: Base;
  private asked: Answers | undefined;
  private listed: readonly { readonly id: string; readonly unit: string; readonly finder: number }[] | undefined;

  constructor(base: Base) {
    this.base = base;
  }

  private get answers(): Answers {
    const { scenario, text, file } = this.base;
    try {
      this.asked ??= new Answers(coupleModels(scenario, text), { matrix: false });
      return this.asked;
    } catch (error) {
      throw new RunFailure(`${file}: ${error instanceof Error ? error.message : String(error)}`, { cause: error });
    }
  }

  get findings() {
    this.listed ??= finders.flatMap((find, finder) => find(this.answers).map(({ id, unit }) => ({ id, unit, finder })));
    return this.listed;
  }

  get series(): readonly { readonly id: string; readonly unit: string }[] {
    const run = this.answers.run();
    return nitrogenResult(run, run.states.length - 1, null, []).series;
  }

  get faults(): readonly string[] {
    return faultsFor(this.answers.resolved.rig).map(({ id }) => id);
  }

  get days(): number {
    return this.base.scenario.days;
  }
}

/** The first result found in a list; the rest of the list is not evaluated. */
function first<T, Found>(list: readonly T[], find: (one: T) => Found | undefined): Found | undefined {
  for (const one of list) {
    const found = find(one);
    if (found !== undefined) return found;
  }
  return undefined;
}

/**
 * The columns of a study, or the errors in its list of records.
 * @throws RunFailure when an unchanged scenario cannot be run
 */
export function columnsOf(study: Study): { readonly columns: readonly Column[] } | { readonly errors: readonly LocatedError[] } {
  const given = study.bases.map((base) => new ReferenceRun(base));
  const complaints: Complaint[] = [];
  const columns: Column[] = [];
  study.text.record.forEach((record, i) => {
    const complain = (key: string | null, problem: string): void => {
      complaints.push({ path: ["record", i, ...(key === null ? [] : [key])], problem, at: "value" });
    };
    const kinds = (["finding", "curve", "fault"] as const).filter((kind) => record[kind] !== undefined);
    if (kinds.length !== 1) {
      complain(
        null,
        kinds.length === 0
          ? "missing: finding, curve or fault"
          : `one of ${kinds.join(" and ")} is enough: record the other by itself`,
      );
      return;
    }
    if (record.in !== undefined && record.finding === undefined) complain("in", "only findings have a choice of units");
    if (record.take !== undefined && record.curve === undefined) complain("take", "only of curves one number can be taken");
    if (record.every !== undefined && record.curve === undefined) complain("every", "only curves have values every so often");
    if (record.finding !== undefined) {
      const id = record.finding;
      const found = first(given, ({ findings }) => findings.find((f) => f.id === id));
      if (!found && record.in === undefined) {
        const known = [...new Set(given.flatMap(({ findings }) => findings.map((f) => f.id)))];
        complain(
          "finding",
          `the scenario gives no finding "${id}" as it is${orRather(id, known)}; if others do, add its unit with in`,
        );
        return;
      }
      const name = record.name ?? id;
      const from = { is: "finding", id, finder: found?.finder ?? null } as const;
      columns.push({ name, unit: record.in ?? found?.unit ?? "", labels: null, from: { ...from, part: "value" } });
      columns.push({ name: `${name} level`, unit: "", labels: [...LEVELS], from: { ...from, part: "level" } });
    } else if (record.curve !== undefined) {
      const series = record.curve;
      const found = first(given, (one) => one.series.find(({ id }) => id === series));
      if (!found) {
        complain(
          "curve",
          `there is no curve "${series}"${orRather(series, [...new Set(given.flatMap((one) => one.series.map(({ id }) => id)))])}`,
        );
        return;
      }
      const name = record.name ?? series;
      if (record.take !== undefined) {
        if (record.every !== undefined) complain("every", `one number is taken: the ${record.take}; leave this out`);
        columns.push({
          name: record.name ?? `${series} ${record.take}`,
          unit: found.unit,
          labels: null,
          from: { is: "curve", series, at: record.take },
        });
        return;
      }
      const every = parseQuantity(record.every ?? USUAL_STEP, "duration");
      if (!every.ok || every.value <= 0) {
        complain("every", every.ok ? "must be above 0" : every.problem);
        return;
      }
      const step = every.value / SECONDS_PER_DAY;
      const count = Math.floor(Math.max(...given.map(({ days }) => days)) / step + 1e-9) + 1;
      if (count > MOST_CURVE_VALUES) {
        complain("every", `that is ${count} values of one curve: at most ${MOST_CURVE_VALUES}`);
        return;
      }
      for (let n = 0; n < count; n++) {
        const day = Number((n * step).toPrecision(6));
        columns.push({ name: `${name} day ${day}`, unit: found.unit, labels: null, from: { is: "curve", series, at: day } });
      }
    } else {
      const faults = record.fault!.filter((fault) => fault !== "none");
      const known = [...new Set(given.flatMap((one) => one.faults))];
      const unknown = faults.find((fault) => !known.includes(fault));
      if (unknown !== undefined) {
        complain("fault", `there is no fault "${unknown}" here${orRather(unknown, ["none", ...known])}`);
        return;
      }
      const name = record.name ?? (faults.join(" and ") || "power cut");
      const from = { is: "fault", faults } as const;
      columns.push({ name: `${name} verdict`, unit: "", labels: [...VERDICTS], from: { ...from, part: "verdict" } });
      columns.push({ name: `${name} margin`, unit: "m", labels: null, from: { ...from, part: "margin" } });
      columns.push({ name: `${name} floor`, unit: "m3", labels: null, from: { ...from, part: "floor" } });
    }
  });
  complaints.push(...misnamed(study, columns));
  return complaints.length > 0 ? { errors: study.locate(complaints) } : { columns };
}

function* misnamed({ text, inputs }: Study, columns: readonly Column[]): Generator<Complaint> {
  const names = [...inputs, ...columns].map(({ name }) => name);
  const twice = columns.find(({ name }) => names.indexOf(name) !== names.lastIndexOf(name));
  if (twice) yield { path: ["record"], problem: `two columns are called "${twice.name}": give one a name of its own`, at: "key" };
  const recorded = columns.map(({ name }) => name);
  const numbers = inputs.map(({ name }) => name);
  const { rank, map } = text;
  if (rank && !recorded.includes(rank.by))
    yield { path: ["rank", "by"], problem: `nothing recorded is called "${rank.by}"${orRather(rank.by, recorded)}`, at: "value" };
  if (!map) return;
  for (const side of ["across", "up"] as const)
    if (!numbers.includes(map[side]))
      yield { path: ["map", side], problem: `no variable is called "${map[side]}"${orRather(map[side], numbers)}`, at: "value" };
  if (map.across === map.up) yield { path: ["map", "up"], problem: "must be another variable than across", at: "value" };
  if (map.of !== undefined && !recorded.includes(map.of))
    yield { path: ["map", "of"], problem: `nothing recorded is called "${map.of}"${orRather(map.of, recorded)}`, at: "value" };
}

/** The column by which points are ranked, and whether high or low values are good. */
export function rankOf({ text }: Study, columns: readonly Column[]): { readonly column: number; readonly sign: 1 | -1 } {
  const column = text.rank ? columns.findIndex(({ name }) => name === text.rank!.by) : 0;
  return { column, sign: text.rank?.best === "highest" ? -1 : 1 };
}
