// A queue worker: takes batches from the queue, runs them on the cores of this machine, and stores the results.
import type { MemberPool, MemberResult } from "../../sim/ensemble/ensemble.ts";
import type { Range } from "./batch.ts";
import { runRange } from "./execute.ts";
import type { Study } from "./load.ts";
import { MOST_TRIES, pause, QueueProblem, type StudyQueue, type StudyRow } from "./node-queue.ts";
import { studyOf } from "./point.ts";
import type { StudySetup } from "./schema.ts";

/** Polling interval when there is nothing to do [s]. */
const IDLE_S = 0.5;
const GIVEN_UP = `given up: no worker came back with this point, ${MOST_TRIES} times`;

export interface WorkerSettings {
  readonly queue: StudyQueue;
  readonly pool: MemberPool<StudySetup>;
  /** Version of this program; studies of another version are refused. */
  readonly program: string;
  /** No new batch starts after it aborts. */
  readonly signal: AbortSignal;
  /** Whether to stop when no study is open. */
  readonly untilDone: boolean;
  readonly say: (text: string) => void;
}

interface Known {
  readonly setup: StudySetup;
  readonly study: Study;
}

/** Works until the signal aborts, or until no study is open. */
export async function work(settings: WorkerSettings): Promise<void> {
  const worker = new Worker(settings);
  await Promise.all(Array.from({ length: settings.pool.size }, () => worker.loop()));
}

class Worker {
  private readonly settings: WorkerSettings;
  private readonly known = new Map<string, Known | null>();
  private readonly reported = new Set<string>();

  constructor(settings: WorkerSettings) {
    this.settings = settings;
  }

  async loop(): Promise<void> {
    const { queue, signal, untilDone } = this.settings;
    while (!signal.aborted) {
      const studies = await queue.openStudies();
      const mine = studies.filter((study) => this.isMine(study));
      let busy = false;
      for (const study of mine) {
        while (!signal.aborted && (await this.oneJob(study))) busy = true;
        if (busy) break;
      }
      if (busy) continue;
      if (untilDone && mine.length === 0) return;
      await pause(IDLE_S, signal);
    }
  }

  private isMine({ id, name, program }: StudyRow): boolean {
    if (program === this.settings.program) return this.known.get(id) !== null;
    this.sayOnce(
      id,
      `refused: the study "${name}" is of version ${program}, this worker is ${this.settings.program}: install the same version`,
    );
    return false;
  }

  private sayOnce(id: string, text: string): void {
    if (this.reported.has(id)) return;
    this.reported.add(id);
    this.settings.say(text);
  }

  /** @returns whether there was a job */
  private async oneJob({ id, name, points }: StudyRow): Promise<boolean> {
    const known = await this.studyOf(id, name);
    if (!known) return false;
    const { queue } = this.settings;
    const job = await queue.nextJob(id, points);
    if (!job) return false;
    this.sayOnce(`begun ${id}`, `working on "${name}"`);
    if (job.tries > 0 && job.to - job.from > 1) await queue.split(id, job);
    else {
      const rows = job.tries < MOST_TRIES ? await this.run(known, job) : [{ failure: GIVEN_UP }];
      await queue.store(id, known.study, { from: job.from, rows }, job);
    }
    return true;
  }

  private async studyOf(id: string, name: string): Promise<Known | null> {
    const before = this.known.get(id);
    if (before !== undefined) return before;
    let known: Known | null = null;
    try {
      const setup = await this.settings.queue.setupOf(id);
      known = { setup, study: studyOf(setup.bundle) };
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error);
      this.sayOnce(
        id,
        `the study "${name}" is left alone: ${error instanceof QueueProblem ? message : `it does not pass the checks: ${message}`}`,
      );
    }
    this.known.set(id, known);
    return known;
  }

  /** A batch that has started is finished even after the signal, because it takes only seconds. */
  private async run({ setup }: Known, range: Range): Promise<readonly MemberResult[]> {
    const rows = await runRange(this.settings.pool, setup, range, new AbortController().signal);
    return rows!;
  }
}
