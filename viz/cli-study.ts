// The command `study`: reads a study file and writes tables and a page.

import { mkdirSync } from "node:fs";
import { availableParallelism } from "node:os";
import { basename, dirname, extname, join, resolve } from "node:path";
import { errorText } from "../scenarios/load/yaml.ts";
import type { Batch, Range } from "../scenarios/study/batch.ts";
import { columnsOf } from "../scenarios/study/columns.ts";
import { execute } from "../scenarios/study/execute.ts";
import { loadStudy, type ReadFile, type Study } from "../scenarios/study/load.ts";
import { PointStore, StoreProblem } from "../scenarios/study/node-store.ts";
import type { Column, StudySetup } from "../scenarios/study/schema.ts";
import type { StudySummary } from "../scenarios/study/summary.ts";
import { nodePool, taskPool } from "../sim/ensemble/node-pool.ts";
import { pageScripts, pointPageWorker, studyWorker } from "./assets.ts";
import { BadInput, readText, shownName } from "./cli-input.ts";
import { StudyProgress, stopSignal } from "./cli-progress.ts";
import { studyByQueue } from "./cli-queue.ts";
import { EXIT, type Exit, say } from "./cli-terminal.ts";
import { writeWhole } from "./outputs.ts";
import { sha256, writeResults } from "./study/node-outputs.ts";
import { type PointPage, renderStudy, scenarioOf } from "./study-page.ts";

export interface StudyOptions {
  readonly out: string;
  readonly threads?: number;
  readonly queue?: string | true;
  readonly lostAfter: number;
  readonly anew?: boolean;
  readonly pages: number;
  readonly check?: boolean;
  readonly quiet?: boolean;
}

/** Target duration of a batch [s]: short enough to lose little work, long enough for negligible overhead. */
const BATCH_SECONDS = 2;

export interface PreparedStudy {
  readonly study: Study;
  readonly columns: readonly Column[];
  readonly setup: StudySetup;
  /** Hash of texts and columns; the same on every machine. */
  readonly id: string;
}

/** Reads and checks a study with all files that it names. @throws BadInput with all errors */
export function prepareStudy(file: string): PreparedStudy {
  const folder = dirname(resolve(file));
  const read: ReadFile = (path) => {
    try {
      return readText(resolve(folder, path));
    } catch (error) {
      if (!(error instanceof BadInput)) throw error;
      return { problem: error.message.slice(error.message.indexOf(": ") + 2) };
    }
  };
  const loaded = loadStudy(readText(file), shownName(file), read);
  if (!loaded.ok) throw new BadInput(loaded.errors.map(errorText).join("\n"));
  const { study } = loaded;
  const found = columnsOf(study);
  if ("errors" in found) throw new BadInput(found.errors.map(errorText).join("\n"));
  const columns = [...found.columns];
  const setup: StudySetup = { bundle: study.bundle, columns };
  return { study, columns, setup, id: sha256(JSON.stringify(setup)) };
}

/** Runs the missing points on the cores of this machine. @returns whether all points are done */
async function runHere(store: PointStore, prepared: PreparedStudy, options: StudyOptions, signal: AbortSignal): Promise<boolean> {
  const { study, setup } = prepared;
  const missing: readonly Range[] = store.done.missing(study.points);
  if (missing.length === 0) return true;
  const progress = new StudyProgress(study.points, store.done.count, options.quiet === true);
  if (store.done.count > 0 && !options.quiet) say(`Going on: ${store.done.count} of ${study.points} points are done.`);
  const left = study.points - store.done.count;
  const pool = nodePool<StudySetup>(studyWorker(), Math.min(options.threads ?? availableParallelism(), left));
  try {
    progress.show(store.done.count);
    const onBatch = (batch: Batch): void => {
      store.append(batch);
      progress.show(store.done.count);
    };
    await execute({ pool, setup, missing, seconds: BATCH_SECONDS, now: () => performance.now() / 1000, onBatch, signal });
  } finally {
    progress.end();
    await pool.close();
  }
  return store.done.count === study.points;
}

/**
 * Runs a study and writes its results.
 * @param program version of this program
 * @returns the exit code
 */
export async function study(file: string, options: StudyOptions, program: string): Promise<Exit> {
  const prepared = prepareStudy(file);
  const { study: read, columns, id } = prepared;
  if (!options.quiet) for (const warning of read.warnings) say(`unusual: ${warning}`);
  if (options.check) {
    if (!options.quiet)
      say(`${shownName(file)}: no mistakes. ${read.points} points, ${columns.length} numbers recorded of each.`);
    return EXIT.fine;
  }
  const name = basename(file, extname(file));
  const write = async (batches: AsyncIterable<Batch>): Promise<Exit> => {
    const { paths, summary } = await writeResults({ study: read, columns, id, program, batches, folder: options.out, name });
    const pages = await pointPages(read, summary, name, options);
    const page = { summary, program: `sumpwright ${program}`, id, pages, files: paths.map((path) => basename(path)) };
    const written = writeWhole(options.out, [{ name: `${name}.html`, text: renderStudy(page) }]);
    if (!options.quiet) for (const path of [...written, ...paths]) say(path);
    return EXIT.fine;
  };
  const { queue } = options;
  if (queue) return (await studyByQueue(prepared, { ...options, queue }, program, write)) ?? EXIT.stopped;
  const { signal, release } = stopSignal();
  try {
    const store = await openStore(join(options.out, `${name}.points`), prepared, program, options.anew === true);
    try {
      if (await runHere(store, prepared, options, signal)) return await write(store.batches());
      say(`Stopped: ${store.done.count} of ${read.points} points are done and kept. The same command goes on from there.`);
      return EXIT.stopped;
    } finally {
      store.close();
    }
  } finally {
    release();
  }
}

async function openStore(path: string, { id, columns }: PreparedStudy, program: string, anew: boolean): Promise<PointStore> {
  try {
    return await PointStore.open(path, id, program, columns.length, anew);
  } catch (error) {
    if (error instanceof StoreProblem) throw new BadInput(error.message);
    throw error;
  }
}

/**
 * Writes pages and scenario files of the best and worst points.
 * @returns the address of each page, relative to the study's page
 */
async function pointPages(
  read: Study,
  { best, worst }: StudySummary,
  name: string,
  { out, pages, threads, quiet }: StudyOptions,
): Promise<ReadonlyMap<number, string>> {
  const points = [...best.slice(0, pages), ...worst.slice(0, pages)].map(({ point }) => point);
  const folder = `${name}-points`;
  const made = new Map<number, string>();
  if (points.length === 0) return made;
  mkdirSync(join(out, folder), { recursive: true });
  const scripts = pageScripts();
  const pool = taskPool<PointPage, string>(pointPageWorker(), Math.min(points.length, threads ?? availableParallelism()));
  let done = 0;
  try {
    await Promise.all(
      points.map(async (point) => {
        const file = `point-${point}`;
        const source = scenarioOf(read, point);
        const text = await pool.run({ file: `${file}.yaml`, source, scripts });
        writeWhole(join(out, folder), [
          { name: `${file}.html`, text },
          { name: `${file}.yaml`, text: source },
        ]);
        made.set(point, `${encodeURIComponent(folder)}/${file}.html`);
        done++;
        if (!quiet && process.stderr.isTTY) process.stderr.write(`\r\x1b[K${done} of ${points.length} pages`);
      }),
    );
  } finally {
    if (!quiet && process.stderr.isTTY) process.stderr.write("\r\x1b[K");
    await pool.close();
  }
  return made;
}
