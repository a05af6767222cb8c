// Runs the points of a study on a pool of workers, in batches of a few seconds. Does no file I/O.
import type { MemberPool } from "../../sim/ensemble/ensemble.ts";
import { type Batch, LARGEST_LEAD, type Range, shortReason } from "./batch.ts";
import type { StudySetup } from "./schema.ts";

/** Largest number of points in a batch: bounds the results in memory and in one record. */
export const MOST_IN_BATCH = 500;
/** Largest growth factor from one batch to the next, because the first points of a worker are slow. */
const FASTEST_GROWTH = 4;

/** Number of points per batch, from the time that batches took. */
export class BatchSize {
  private readonly seconds: number;
  private perPoint: number | null = null;
  private size = 1;

  /** @param seconds target duration of a batch */
  constructor(seconds: number) {
    this.seconds = seconds;
  }

  get points(): number {
    return this.size;
  }

  /** Measured seconds per point; null before the first batch. */
  get secondsPerPoint(): number | null {
    return this.perPoint;
  }

  took(points: number, seconds: number): void {
    const each = seconds / points;
    this.perPoint = this.perPoint === null ? each : 0.7 * this.perPoint + 0.3 * each;
    const wanted = Math.round(this.seconds / Math.max(this.perPoint, 1e-6));
    this.size = Math.max(1, Math.min(MOST_IN_BATCH, FASTEST_GROWTH * this.size, wanted));
  }
}

export interface Execution {
  readonly pool: MemberPool<StudySetup>;
  readonly setup: StudySetup;
  /** Points to run, ascending. */
  readonly missing: readonly Range[];
  /** Target duration of a batch [s]. */
  readonly seconds: number;
  readonly now: () => number;
  /** Receives each finished batch, in any order. */
  readonly onBatch: (batch: Batch) => void;
  readonly signal: AbortSignal;
}

/**
 * Runs points until none is missing or the signal aborts; batches in progress are then dropped.
 * A point that crashes its worker is recorded as failed; the other points of its batch run again without it.
 */
export async function execute({ pool, setup, missing, seconds, now, onBatch, signal }: Execution): Promise<void> {
  const size = new BatchSize(seconds);
  const gaps = [...missing];
  const underWay = new Set<number>();
  let waiting: (() => void)[] = [];
  const firstUndone = (): number => Math.min(gaps[0]?.from ?? Number.POSITIVE_INFINITY, ...underWay);

  const next = (): Range | null => {
    const gap = gaps[0];
    if (!gap) return null;
    const to = Math.min(gap.to, gap.from + size.points);
    if (to === gap.to) gaps.shift();
    else gaps[0] = { from: to, to: gap.to };
    return { from: gap.from, to };
  };
  const work = async (): Promise<void> => {
    while (!signal.aborted && gaps.length > 0) {
      if (gaps[0].from - firstUndone() >= LARGEST_LEAD) {
        await new Promise<void>((release) => waiting.push(release));
        continue;
      }
      const range = next()!;
      underWay.add(range.from);
      const begun = now();
      const rows = await runRange(pool, setup, range, signal);
      underWay.delete(range.from);
      if (rows) {
        size.took(range.to - range.from, now() - begun);
        onBatch({ from: range.from, rows });
      }
      for (const release of waiting) release();
      waiting = [];
    }
  };
  await Promise.all(Array.from({ length: pool.size }, work));
}

/**
 * The rows of a range. When the worker crashes, the range is halved until the crashing point is alone.
 * @returns null when aborted
 */
export async function runRange(
  pool: MemberPool<StudySetup>,
  setup: StudySetup,
  { from, to }: Range,
  signal: AbortSignal,
): Promise<Batch["rows"] | null> {
  try {
    return await pool.run({ setup, seed: "", from, to }, signal);
  } catch (cause) {
    if (signal.aborted) return null;
    const message = cause instanceof Error ? cause.message : String(cause);
    if (to - from === 1) return [{ failure: shortReason(`the worker broke on this point: ${message}`) }];
    const middle = (from + to) >> 1;
    const first = await runRange(pool, setup, { from, to: middle }, signal);
    const second = first && (await runRange(pool, setup, { from: middle, to }, signal));
    return first && second && [...first, ...second];
  }
}
