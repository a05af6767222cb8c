// The command `size`: a scenario with tank, animals and cabinet in, a table of parts that work out.
import { basename } from "node:path";
import { MEDIA_TYPES } from "../models/tower/media.ts";
import { ScenarioFormatter } from "../scenarios/build/scenario-formatter.ts";
import { dataOf } from "../scenarios/load/edits.ts";
import { coupleModels } from "../scenarios/model/compile.ts";
import type { SizeRow, Sizes } from "../scenarios/sizing/size-types.ts";
import { closest, SizeTexts } from "../scenarios/sizing/size-words.ts";
import { sizesOf } from "../scenarios/sizing/sizes.ts";
import * as format from "../scenarios/text/format.ts";
import { concentration, formatMessage, sentence } from "../scenarios/text/message.ts";
import { massPerN } from "../scenarios/text/nitrogen-basis.ts";
import { nearest } from "../scenarios/text/suggest.ts";
import { progressOf, withPool } from "./cli-forecast.ts";
import { BadInput, checkAll, isStandardInput, outputNames, shownName } from "./cli-input.ts";
import { EXIT, type Exit, say } from "./cli-terminal.ts";
import { renderSizes } from "./forecast-page.ts";
import { prepareOutputs } from "./outputs.ts";
import { csvLine } from "./view/csv-line.ts";

export interface SizeOptions {
  readonly out: string;
  readonly seed: string;
  readonly runs: number;
  readonly check: number;
  readonly threads?: number;
  /** mg/L as NO2, mg/L as NH3. */
  readonly nitrite: number;
  readonly ammonia: number;
  /** Percent. */
  readonly confidence: number;
  readonly turnover: readonly number[];
  readonly media?: readonly string[];
  readonly choose?: number;
  readonly quiet?: boolean;
}

/** Kinds that stand in a tower. */
const TOWER_MEDIA = MEDIA_TYPES.filter(({ suits }) => suits !== "submerged").map(({ kind }) => kind);

/** The kinds of a list, each checked. */
function kindsOf(list: readonly string[] | undefined): readonly string[] {
  for (const kind of list ?? [])
    if (!TOWER_MEDIA.includes(kind)) {
      const guess = nearest(kind, TOWER_MEDIA);
      throw new BadInput(
        `--media: "${kind}" is no kind of media for a tower${guess ? `: did you mean "${guess}"?` : ""} Known: ${TOWER_MEDIA.join(", ")}`,
      );
    }
  return list ?? TOWER_MEDIA;
}

const HEADS = [
  "number",
  "works",
  "media",
  "media L",
  "least media by the load L",
  "most media that fits L",
  "tower length mm",
  "tower width mm",
  "tower depth mm",
  "deepest media mm",
  "sump inside length mm",
  "longest sump mm",
  "filled to mm",
  "lowest level mm",
  "highest level mm",
  "room over the water L",
  "comes back L",
  "pump label L/h",
  "pump highest head mm",
  "pump flow L/h",
  "pump head mm",
  "asked system volumes an hour",
  "system volumes an hour",
  "share of fresh runs within the limits",
  "nitrite of nine runs in ten mg/L as NO2",
  "un-ionised ammonia of nine runs in ten mg/L as NH3",
  "mass filled kg",
  "closest to its limit",
  "what is in the way",
] as const;

/** Figures of a row, in the order of the heads; empty where the search did not get so far. */
function cells(row: SizeRow, n: number, sizes: Sizes, limits: readonly string[]): string[] {
  const { tower, sump, pump, fresh } = row;
  const figure = (value: number | null | undefined, factor = 1): string =>
    value === null || value === undefined ? "" : String(Number((value * factor).toPrecision(5)));
  return [
    String(n + 1),
    row.failure === null ? "yes" : "no",
    row.media,
    figure(tower && tower.lengthM * tower.widthM * tower.depthM, 1000),
    figure(tower?.leastM3, 1000),
    figure(tower?.mostM3, 1000),
    figure(tower?.lengthM, 1000),
    figure(tower?.widthM, 1000),
    figure(tower?.depthM, 1000),
    figure(tower?.deepestM, 1000),
    figure(sump?.lengthM, 1000),
    figure(sizes.room.longestSumpM, 1000),
    figure(sump?.waterM, 1000),
    figure(sump?.lowM, 1000),
    figure(sump?.highM, 1000),
    figure(sump?.roomM3, 1000),
    figure(sump?.comesBackM3, 1000),
    figure(pump?.labelM3PerS, 3.6e6),
    figure(pump?.shutOffM, 1000),
    figure(pump?.flowM3PerS, 3.6e6),
    figure(pump?.headM, 1000),
    figure(row.turnover),
    figure(pump?.turnoverPerHour),
    figure(fresh?.share),
    figure(fresh?.no2GPerM3, massPerN("NO2")),
    figure(fresh?.nh3GPerM3),
    figure(row.wetMassKg),
    row.failure === null ? closest(row, sizes).part : "",
    row.failure === null ? "" : limits.join("; "),
  ];
}

/** @returns exit code 1 where no choice works; the page says why */
export async function size(file: string, options: SizeOptions, program: string): Promise<Exit> {
  const [{ source, loaded }] = checkAll([file]);
  const { scenario } = loaded;
  const media = kindsOf(options.media);
  if (scenario.stock.length === 0)
    throw new BadInput(
      `${shownName(file)}: there are no animals to size for. Write them under stock:, for example stock: { name: tetras, count: 12, mass: 1 g }`,
    );
  const name = outputNames([file], [])[0];
  const names = { page: `${name}.sizes.html`, table: `${name}.sizes.csv`, scenario: `${name}.sized.yaml` };
  const place = prepareOutputs(options.out, Object.values(names), isStandardInput(file) ? [] : [file]);
  const request = {
    limits: { no2GPerM3: options.nitrite / massPerN("NO2"), nh3GPerM3: options.ammonia },
    confidence: options.confidence / 100,
    turnovers: options.turnover,
    media,
  };
  let found: Sizes | null;
  let coupled: ReturnType<typeof coupleModels>;
  const progress = progressOf(scenario.name, options.quiet === true);
  try {
    coupled = coupleModels(scenario, source);
    const model = coupled;
    found = await withPool(options.threads, (pool, signal) =>
      sizesOf({ file, source, data: dataOf(source), rig: model.resolved.rig }, model, request, {
        pool,
        signal,
        seed: options.seed,
        members: options.runs,
        checked: options.check,
        onProgress: (done, of) => progress("choices", done, of),
      }),
    );
  } catch (error) {
    place.giveUp();
    throw error;
  }
  if (found === null) {
    place.giveUp();
    return EXIT.stopped;
  }
  const sizes = found;
  const words = new SizeTexts(coupled.resolved, request, sizes).texts();
  const wanted = options.choose ?? 1;
  const chosen = sizes.rows[wanted - 1];
  if (options.choose !== undefined && !chosen?.text) {
    place.giveUp();
    throw new BadInput(
      `--choose ${wanted}: ${chosen ? "that choice could not be built" : `there are ${sizes.rows.length} choices`}; the numbers are those of the table`,
    );
  }
  const text = chosen?.text && (options.choose !== undefined || chosen.failure === null) ? chosen.text : null;
  const nitrite = formatMessage(
    sentence`${concentration("nitrite", request.limits.no2GPerM3)}`,
    new ScenarioFormatter(coupled.resolved),
  );
  const paths = place.write([
    {
      name: names.page,
      text: renderSizes({
        name: scenario.name,
        file: isStandardInput(file) ? shownName(file) : basename(file),
        seed: options.seed,
        program: `sumpwright ${program}`,
        request,
        words,
        limits: `nitrite under ${nitrite}, un-ionised ammonia under ${format.plain(request.limits.nh3GPerM3, 2)} mg/L`,
        files: text === null ? [names.table] : [names.table, names.scenario],
        chosen: text === null ? null : wanted,
      }),
    },
    {
      name: names.table,
      text: [[...HEADS], ...sizes.rows.map((row, n) => cells(row, n, sizes, words.rows[n].limits))].map(csvLine).join(""),
    },
    ...(text === null ? [] : [{ name: names.scenario, text }]),
  ]);
  if (!options.quiet) {
    say(scenario.name);
    for (const line of words.sentences) say(`  ${line}`);
    words.rows.forEach((row, n) => {
      const parts = row.works
        ? `${row.media}, ${row.tower}; sump ${row.sump}; pump ${row.pump}`
        : `${row.media}: ${row.limits[0]}`;
      say(`  ${String(n + 1).padStart(3)} ${row.works ? "works" : "no   "}  ${parts}`);
    });
    for (const path of paths) say(path);
  }
  return sizes.rows.some(({ failure }) => failure === null) ? EXIT.fine : EXIT.findings;
}
