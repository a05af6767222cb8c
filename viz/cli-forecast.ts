// The commands `forecast` and `fit`: a scenario and its readings in, bands, an updated scenario and a page out.
import { availableParallelism } from "node:os";
import { basename } from "node:path";
import type { CourseSetup } from "../scenarios/forecast/course.ts";
import { type ForecastResult, forecast as forecastOf } from "../scenarios/forecast/forecast.ts";
import { type ReadingRow, readingsFrom } from "../scenarios/forecast/readings-file.ts";
import { editedText } from "../scenarios/load/edits.ts";
import { errorText } from "../scenarios/load/load.ts";
import { RunFailure } from "../scenarios/run/run.ts";
import { nodePool } from "../sim/ensemble/node-pool.ts";
import { GaveUpError } from "../sim/integrators/outcome.ts";
import { forecastWorker } from "./assets.ts";
import { BadInput, checkAll, isStandardInput, outputNames, readText, shownName } from "./cli-input.ts";
import { stopSignal } from "./cli-progress.ts";
import { complain, EXIT, type Exit, say } from "./cli-terminal.ts";
import { renderForecast } from "./forecast-page.ts";
import { prepareOutputs } from "./outputs.ts";

export interface ForecastOptions {
  readonly out: string;
  readonly seed: string;
  readonly runs: number;
  readonly threads?: number;
  readonly causes?: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** Runs of the power cut: each takes some hundredths of a second. */
const HYDRAULIC_MEMBERS = 60;

/** A line that is rewritten in place on a terminal, and silence in a pipe. */
export function progressOf(name: string, quiet: boolean): (what: string, done: number, of: number) => void {
  if (quiet || !process.stderr.isTTY) return () => undefined;
  return (what, done, of) => {
    process.stderr.write(`\r\x1b[K${done < of ? `${name}: ${what} ${done} of ${of}` : ""}`);
  };
}

/** Runs work on a pool of threads; Ctrl-C ends it. @returns null when it was stopped */
export async function withPool<T>(
  threads: number | undefined,
  work: (pool: ReturnType<typeof nodePool<CourseSetup>>, signal: AbortSignal) => Promise<T>,
): Promise<T | null> {
  const pool = nodePool<CourseSetup>(forecastWorker(), threads ?? availableParallelism());
  const { signal, release } = stopSignal();
  try {
    return await work(pool, signal);
  } catch (error) {
    if (signal.aborted) {
      if (process.stderr.isTTY) process.stderr.write("\r\x1b[K");
      complain("Stopped. Nothing was written.");
      return null;
    }
    if (error instanceof GaveUpError) throw new RunFailure(error.message, { cause: error });
    throw error;
  } finally {
    release();
    await pool.close();
  }
}

/** The scenario with the readings and with what they taught. */
function updatedScenario(source: string, rows: readonly ReadingRow[], before: number, { learned }: ForecastResult): string {
  return editedText(source, [
    ...rows.map(({ written }, i) => ({ do: "insert" as const, path: ["readings"], index: before + i, value: written })),
    ...learned.map(({ path, value }) => ({ do: "set" as const, path, value })),
  ]);
}

/** @param table a file of readings, or undefined @param learn whether readings are asked for, and what they teach is written */
export async function forecast(
  file: string,
  table: string | undefined,
  options: ForecastOptions,
  program: string,
  learn: boolean,
): Promise<Exit> {
  if (table === "-") throw new BadInput("readings come from a file, not from standard input");
  const [{ source, loaded }] = checkAll([file]);
  const { scenario } = loaded;
  const rows = table === undefined ? [] : readRows(table);
  if (learn && rows.length + scenario.readings.length === 0)
    throw new BadInput(
      `${shownName(file)}: there are no readings to learn from. Write them under readings: in the scenario, or give a table: sumpwright fit ${shownName(file)} readings.csv (sumpwright forecast needs none)`,
    );
  const name = outputNames([file], [])[0];
  const page = `${name}.forecast.html`;
  const updated = `${name}.fitted.yaml`;
  const names = [page, ...(learn ? [updated] : []), ...(options.json ? [`${name}.forecast.json`] : [])];
  const inputs = [...(isStandardInput(file) ? [] : [file]), ...(table === undefined ? [] : [table])];
  const place = prepareOutputs(options.out, names, inputs);
  let result: ForecastResult | null;
  try {
    result = await withPool(options.threads, (pool, signal) =>
      forecastOf(
        {
          scenario,
          source,
          file: isStandardInput(file) ? shownName(file) : basename(file),
          readings: rows.map(({ reading }) => reading),
        },
        {
          pool,
          signal,
          seed: options.seed,
          members: options.runs,
          hydraulicMembers: HYDRAULIC_MEMBERS,
          diagnose: options.causes ? "always" : learn ? "where needed" : "never",
          onProgress: progressOf(scenario.name, options.quiet === true),
        },
      ),
    );
  } catch (error) {
    place.giveUp();
    throw error;
  }
  if (result === null) {
    place.giveUp();
    return EXIT.stopped;
  }
  const claimed = result.summary.trust === "claimed";
  const paths = place.write([
    {
      name: page,
      text: renderForecast({ result, program: `sumpwright ${program}`, updated: learn && claimed ? updated : null }),
    },
    // Readings that fit nothing are kept in the file, and nothing is learned from them.
    ...(learn ? [{ name: updated, text: updatedScenario(source, rows, scenario.readings.length, result) }] : []),
    ...(options.json ? [{ name: `${name}.forecast.json`, text: `${JSON.stringify(result, finite)}\n` }] : []),
  ]);
  if (!options.quiet) {
    say(result.name);
    say(`  ${result.trust}`);
    if (claimed)
      for (const { text, why } of result.answers) {
        say(`  ${text}`);
        say(`      Why it is wide: ${why}.`);
      }
    for (const text of result.contradictions) say(`  ${text}`);
    for (const text of result.hydraulics?.sentences ?? []) say(`  ${text}`);
    if (result.diagnosis) {
      say("  What may be wrong, best first:");
      for (const { title, share } of result.diagnosis.explanations.slice(0, 3))
        say(`    ${String(Math.round(100 * share)).padStart(3)} %  ${title}`);
      say(`  The one test: ${result.diagnosis.test}`);
    }
    for (const path of paths) say(path);
  }
  return claimed ? EXIT.fine : EXIT.findings;
}

/** Infinity has no place in JSON: null stands for "not within the run". */
const finite = (_: string, value: unknown): unknown => (typeof value === "number" && !Number.isFinite(value) ? null : value);

function readRows(table: string): readonly ReadingRow[] {
  const rows = readingsFrom(readText(table), shownName(table));
  const [first] = rows;
  if (first && "problem" in first) throw new BadInput((rows as Parameters<typeof errorText>[0][]).map(errorText).join("\n"));
  return rows as readonly ReadingRow[];
}
