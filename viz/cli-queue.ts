// Studies on many machines: the client side, and the command `worker`.
import { availableParallelism } from "node:os";
import type { Batch } from "../scenarios/study/batch.ts";
import { BatchSize, runRange } from "../scenarios/study/execute.ts";
import { pause, QueueProblem, StudyQueue, viewName } from "../scenarios/study/node-queue.ts";
import { work } from "../scenarios/study/node-queue-worker.ts";
import type { StudySetup } from "../scenarios/study/schema.ts";
import { nodePool } from "../sim/ensemble/node-pool.ts";
import { studyWorker } from "./assets.ts";
import { BadInput } from "./cli-input.ts";
import { StudyProgress, stopSignal } from "./cli-progress.ts";
import type { PreparedStudy, StudyOptions } from "./cli-study.ts";
import { complain, EXIT, type Exit, say } from "./cli-terminal.ts";

/** Target duration of one job [s]. */
const JOB_SECONDS = 3;
/** Time for which the client runs points itself, to measure how long one takes [s]. */
const TRIAL_SECONDS = 2;
/** A batch counts as lost after this multiple of its expected time. */
const PATIENCE = 10;
const POLL_S = 0.5;

/** The database URL, from the command or from the environment, where no process list shows it. */
function addressOf(given: string | true): string {
  const url = given === true ? process.env.SUMPWRIGHT_QUEUE : given;
  if (!url) throw new BadInput("no queue: give its address, or set SUMPWRIGHT_QUEUE");
  return url;
}

const asBadInput = (error: unknown): unknown => (error instanceof QueueProblem ? new BadInput(error.message) : error);

/**
 * Runs a study on the workers of a queue.
 * @param write receives the results in order once all are present
 * @returns null when the user stopped it; the workers continue
 */
export async function studyByQueue<T>(
  prepared: PreparedStudy,
  options: StudyOptions & { readonly queue: string | true },
  program: string,
  write: (batches: AsyncIterable<Batch>) => Promise<T>,
): Promise<T | null> {
  const { study, setup, id } = prepared;
  const { signal, release } = stopSignal();
  const quiet = options.quiet === true;
  const tell = (text: string): void => void (quiet || say(text));
  try {
    const queue = await StudyQueue.open({ url: addressOf(options.queue), lostAfter: options.lostAfter, signal, say: complain });
    try {
      if (options.anew) await queue.forget(id);
      await queue.enter(id, program, study, setup);
      let done = await queue.doneCount(id);
      const batch = done < study.points ? await trial(queue, prepared, done, options.lostAfter, signal) : 1;
      const progress = new StudyProgress(study.points, done, quiet);
      for (let polls = 0; done < study.points && !signal.aborted; polls++) {
        // Missing jobs, whatever the reason, are added again at regular intervals.
        if (polls % 10 === 0) await queue.addMissingJobs(id, study.points, batch);
        done = await queue.doneCount(id);
        progress.show(done);
        if (done < study.points) await pause(POLL_S, signal);
      }
      progress.end();
      if (done < study.points) {
        say(
          `Stopped waiting: ${done} of ${study.points} points are done, the workers go on. The same command fetches the results.`,
        );
        return null;
      }
      const result = await write(queue.batches(id, study.points, setup.columns.length));
      await queue.finish(id);
      tell(`in the database: ${viewName(id)}`);
      return result;
    } finally {
      await queue.close();
    }
  } catch (error) {
    throw asBadInput(error);
  } finally {
    release();
  }
}

/** Runs a few points here, whose results are used. @returns the number of points for a job of some seconds */
async function trial(
  queue: StudyQueue,
  { id, study, setup }: PreparedStudy,
  done: number,
  lostAfter: number,
  signal: AbortSignal,
): Promise<number> {
  const seconds = Math.min(JOB_SECONDS, lostAfter / PATIENCE);
  const size = new BatchSize(seconds);
  const pool = nodePool<StudySetup>(studyWorker(), 1);
  try {
    const begun = performance.now();
    for (let from = done; from < study.points && performance.now() - begun < TRIAL_SECONDS * 1000 && !signal.aborted; ) {
      const to = Math.min(study.points, from + size.points);
      const start = performance.now();
      const rows = await runRange(pool, setup, { from, to }, signal);
      if (!rows) break;
      size.took(to - from, (performance.now() - start) / 1000);
      await queue.store(id, study, { from, rows }, null);
      from = to;
    }
  } finally {
    await pool.close();
  }
  return size.points;
}

export interface WorkerOptions {
  readonly queue: string | true;
  readonly threads?: number;
  readonly lostAfter: number;
  readonly untilDone?: boolean;
  readonly quiet?: boolean;
}

/** Works for a queue until stopped. @returns the exit code */
export async function worker(options: WorkerOptions, program: string): Promise<Exit> {
  const { signal, release } = stopSignal();
  const tell = (text: string): void => void (options.quiet || say(text));
  try {
    const queue = await StudyQueue.open({ url: addressOf(options.queue), lostAfter: options.lostAfter, signal, say: complain });
    const pool = nodePool<StudySetup>(studyWorker(), options.threads ?? availableParallelism());
    try {
      tell(`Working on ${pool.size} ${pool.size === 1 ? "core" : "cores"}. Press Ctrl-C to stop after the batches under way.`);
      await work({ queue, pool, program, signal, untilDone: options.untilDone === true, say: complain });
      return EXIT.fine;
    } finally {
      await Promise.all([pool.close(), queue.close()]);
    }
  } catch (error) {
    throw asBadInput(error);
  } finally {
    release();
  }
}
