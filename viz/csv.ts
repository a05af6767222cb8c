// Results as CSV tables in long form: one value per line, with its unit in the header or beside it.
import type { RunResult, Series } from "../scenarios/result/result.ts";
import { type Cell, csvLine } from "./view/csv-line.ts";
import { type Nitrogen, type NitrogenScale, nitrogenScale, readerOf } from "./view/reader.ts";

export interface CsvFile {
  /** Part of the file name between the scenario's name and ".csv". */
  readonly suffix: string;
  readonly text: string;
}

function table(header: readonly string[], rows: Iterable<readonly Cell[]>): string {
  let text = csvLine(header);
  for (const row of rows) text += csvLine(row);
  return text;
}

const isNitrogen = (id: string): id is Nitrogen => id === "tan" || id === "no2" || id === "no3";

/** The kit's scale of ammonia, nitrite or nitrate; null for all other series. */
function kitScale(result: RunResult, { id, panel }: Series): NitrogenScale | null {
  const [what] = id.split(".");
  if (panel !== "nitrogen" || !isNitrogen(what!)) return null;
  return nitrogenScale({ ...readerOf(result, "en"), basis: "kit" }, result.kit, what);
}

function* trajectories(result: RunResult): Generator<readonly Cell[]> {
  const { name, nitrogen } = result;
  for (const series of nitrogen.series) {
    const scale = kitScale(result, series);
    const band = nitrogen.bands.find((b) => b.series === series.id);
    for (const [i, day] of nitrogen.timeDays.entries()) {
      yield [
        name,
        series.id,
        series.label,
        series.place,
        series.unit,
        day,
        series.values[i] ?? null,
        band?.low[i] ?? null,
        band?.high[i] ?? null,
        scale && series.values[i] !== null ? (series.values[i] ?? 0) * scale.factor : null,
        scale?.as ?? null,
      ];
    }
  }
}

function* levels({ name, hydraulics }: RunResult): Generator<readonly Cell[]> {
  for (const story of hydraulics.stories) {
    for (const vessel of story.vessels) {
      for (const [i, s] of story.timeS.entries())
        yield [name, story.title, vessel.name, s, vessel.levelZ[i] ?? null, vessel.rimZ];
    }
  }
}

function* flows({ name, hydraulics }: RunResult): Generator<readonly Cell[]> {
  for (const story of hydraulics.stories) {
    for (const link of story.flows) {
      for (const [i, s] of story.timeS.entries())
        yield [name, story.title, link.label, link.from, link.to, s, (link.m3PerS[i] ?? 0) * 3.6e6];
    }
  }
}

function* findings({ name, findings: all }: RunResult): Generator<readonly Cell[]> {
  for (const f of all) yield [name, f.id, f.topic, f.level, f.word, f.value, f.unit, f.text];
}

/** The tables of one result, with headers and rows. */
const TABLES = {
  findings: [["scenario", "finding", "topic", "level", "word", "value", "unit", "sentence"], findings],
  days: [
    [
      "scenario",
      "series",
      "label",
      "place",
      "unit",
      "time (days)",
      "likely",
      "low end of band",
      "high end of band",
      "likely, as the kit prints it (mg/L)",
      "scale of the kit",
    ],
    trajectories,
  ],
  levels: [["scenario", "story", "vessel", "time (s)", "level above sump floor (m)", "rim above sump floor (m)"], levels],
  flows: [["scenario", "story", "link", "from", "to", "time (s)", "flow (L/h)"], flows],
} as const satisfies Readonly<
  Record<string, readonly [header: readonly string[], rows: (result: RunResult) => Iterable<readonly Cell[]>]>
>;

export const csvSuffixes: readonly string[] = Object.keys(TABLES);

/** The tables of one result: findings, trajectories (nitrogen as N), levels and flows of the outage runs. */
export const csvFiles = (result: RunResult): readonly CsvFile[] =>
  Object.entries(TABLES).map(([suffix, [header, rows]]) => ({ suffix, text: table(header, rows(result)) }));
