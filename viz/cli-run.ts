// The commands `run` and `check`: they read scenario files and write results and messages.
import { watchFile } from "node:fs";
import { availableParallelism } from "node:os";
import { basename } from "node:path";
import { BOOKS_ID } from "../scenarios/findings/books.ts";
import type { EnsembleSetup } from "../scenarios/model/members.ts";
import type { Level, RunResult } from "../scenarios/result/result.ts";
import { runScenario } from "../scenarios/run/run.ts";
import { nodePool } from "../sim/ensemble/node-pool.ts";
import { ensembleWorker, pageScripts } from "./assets.ts";
import { BadInput, type Checked, checkAll, isStandardInput, outputNames, shownName } from "./cli-input.ts";
import { logoAddress } from "./cli-logo.ts";
import { stopSignal } from "./cli-progress.ts";
import { complain, EXIT, type Exit, say } from "./cli-terminal.ts";
import { csvFiles, csvSuffixes } from "./csv.ts";
import { type OutputFile, prepareOutputs } from "./outputs.ts";
import { renderIndex, renderPage } from "./report.ts";

export const FORMATS = ["html", "json", "csv"] as const;
export type Format = (typeof FORMATS)[number];

export interface RunOptions {
  readonly out: string;
  readonly seed: string;
  readonly runs: number;
  readonly format: readonly Format[];
  readonly failOn?: Exclude<Level, "info">;
  readonly together?: boolean;
  readonly watch?: boolean;
  readonly quiet?: boolean;
}

/** A progress line, updated in place on a terminal and omitted in a pipe. */
function progressLine(name: string, quiet: boolean): (what: string, done: number, of: number) => void {
  if (quiet || !process.stderr.isTTY) return () => undefined;
  return (what, done, of) => {
    process.stderr.write(`\r\x1b[K${done < of ? `${name}: ${what}${of > 1 ? ` ${done} of ${of}` : ""}` : ""}`);
  };
}

/** The planned output files: names are known before the run, texts are made after it. */
interface Planned {
  readonly name: string;
  readonly text: (results: readonly RunResult[]) => string;
}

function planOutputs(files: readonly string[], { format, together }: RunOptions): readonly Planned[] {
  const pages = format.includes("html");
  const listed = pages && !together && files.length > 1;
  const names = outputNames(files, [...(listed ? ["index"] : []), ...(pages && together ? ["compared"] : [])]);
  const page = (results: readonly RunResult[]): string => {
    const { page: script, ...carried } = pageScripts();
    return renderPage(results, script, carried);
  };
  const planned: Planned[] = [];
  if (pages && together) planned.push({ name: "compared.html", text: page });
  if (pages && !together)
    for (const [i, name] of names.entries()) planned.push({ name: `${name}.html`, text: (results) => page([results[i]!]) });
  if (listed)
    planned.push({
      name: "index.html",
      text: (results) => renderIndex(results.map((result, i) => ({ href: `${encodeURIComponent(names[i]!)}.html`, result }))),
    });
  for (const [i, name] of names.entries()) {
    if (format.includes("json")) planned.push({ name: `${name}.json`, text: (results) => `${JSON.stringify(results[i])}\n` });
    if (format.includes("csv"))
      for (const suffix of csvSuffixes)
        planned.push({
          name: `${name}.${suffix}.csv`,
          text: (results) => csvFiles(results[i]!).find((file) => file.suffix === suffix)!.text,
        });
  }
  return planned;
}

async function simulated(checked: readonly Checked[], options: RunOptions, signal: AbortSignal): Promise<readonly RunResult[]> {
  const logos = checked.map(({ file, loaded }) => {
    const logo = loaded.scenario.firm?.logo;
    return logo === undefined ? {} : { logo: logoAddress(isStandardInput(file) ? "." : file, logo) };
  });
  const pool = nodePool<EnsembleSetup>(ensembleWorker(), availableParallelism());
  const results: RunResult[] = [];
  try {
    for (const [i, { file, source, loaded }] of checked.entries()) {
      results.push(
        await runScenario(
          {
            ...loaded,
            source,
            file: isStandardInput(file) ? shownName(file) : basename(file),
            ...logos[i],
          },
          {
            seed: options.seed,
            members: options.runs,
            matrix: true,
            pool,
            signal,
            onProgress: progressLine(loaded.scenario.name, options.quiet === true),
          },
        ),
      );
      if (process.stderr.isTTY) process.stderr.write("\r\x1b[K");
    }
  } finally {
    await pool.close();
  }
  return results;
}

async function runOnce(files: readonly string[], options: RunOptions): Promise<Exit> {
  const checked = checkAll(files);
  const planned = planOutputs(files, options);
  const place = prepareOutputs(
    options.out,
    planned.map(({ name }) => name),
    files.filter((file) => !isStandardInput(file)),
  );
  const { signal, release } = stopSignal();
  let paths: readonly string[];
  let results: readonly RunResult[];
  try {
    results = await simulated(checked, options, signal);
    paths = place.write(planned.map(({ name, text }): OutputFile => ({ name, text: text(results) })));
  } catch (error) {
    place.giveUp();
    if (!signal.aborted) throw error;
    if (process.stderr.isTTY) process.stderr.write("\r\x1b[K");
    complain("Stopped. Nothing was written.");
    return EXIT.stopped;
  } finally {
    release();
  }
  if (!options.quiet) {
    for (const result of results) {
      say(result.name);
      for (const finding of result.findings) say(`  ${finding.word.padEnd(9)} ${finding.text}`);
      for (const warning of result.warnings) say(`  unusual   ${warning}`);
    }
    for (const path of paths) say(path);
  }
  // The pages report it as well. They are written all the same, so that the user can send them with a bug report.
  if (results.some((r) => r.findings.some((f) => f.id === BOOKS_ID))) return EXIT.internal;
  const limits: readonly Level[] = options.failOn === "watch" ? ["watch", "alarm"] : options.failOn === "alarm" ? ["alarm"] : [];
  return results.some((r) => r.findings.some((f) => limits.includes(f.level))) ? EXIT.findings : EXIT.fine;
}

/** Runs again whenever one of the files changes, until the user stops it. `explain` reports what is wrong with a file. */
async function watch(files: readonly string[], options: RunOptions, explain: (error: unknown) => void): Promise<Exit> {
  if (files.some(isStandardInput)) throw new BadInput("--watch needs files: standard input (-) cannot change");
  let wake: () => void = () => undefined;
  let changed = true;
  // Polling the file times works on every system, also when an editor replaces the file.
  for (const file of files)
    watchFile(file, { interval: 300 }, () => {
      changed = true;
      wake();
    });
  for (;;) {
    while (changed) {
      changed = false;
      try {
        if ((await runOnce(files, options)) === EXIT.stopped) return EXIT.stopped;
      } catch (error) {
        explain(error);
      }
    }
    say(`Watching ${files.map(shownName).join(", ")}. Press Ctrl-C to stop.`);
    await new Promise<void>((resolve) => {
      wake = resolve;
    });
  }
}

/** Runs scenarios and writes their pages. @returns the exit code */
export const run = (files: readonly string[], options: RunOptions, explain: (error: unknown) => void): Promise<Exit> =>
  options.watch ? watch(files, options, explain) : runOnce(files, options);

/** Checks scenarios. @returns the exit code */
export function check(files: readonly string[], { quiet }: { readonly quiet?: boolean }): Exit {
  for (const { file, loaded } of checkAll(files)) {
    if (quiet) continue;
    const count = loaded.defaults.length;
    say(`${shownName(file)}: no mistakes. ${count} ${count === 1 ? "value was" : "values were"} not given; defaults are used.`);
    for (const warning of loaded.warnings) say(`  unusual: ${warning}`);
  }
  return EXIT.fine;
}
