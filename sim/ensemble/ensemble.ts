// Many runs of one model with sampled inputs on any pool of workers, with the same bits on every pool.

import seedrandom from "seedrandom";
import { QuantileSketch } from "./quantile-sketch.ts";

/** Generator of uniform random numbers in [0, 1). */
export type Random = () => number;

/** Result of one run of an ensemble: its value at every output point, or a message in plain words why it failed. */
export type MemberResult = Float64Array | { readonly failure: string };

/** Runs member `index` with its own random stream, so that the result depends neither on the worker nor on the order. */
export type Member = (index: number, random: Random) => MemberResult;

/** Creates the member function from the set-up. It runs once per worker, so compile the scenario here. */
export type CreateMember<Setup> = (setup: Setup) => Member;

/** Members from <= index < to of an ensemble. The set-up must survive structured cloning. */
export interface EnsembleChunk<Setup> {
  readonly setup: Setup;
  readonly seed: string;
  readonly from: number;
  readonly to: number;
}

/** Runs chunks, up to `size` of them at the same time. */
export interface MemberPool<Setup> {
  readonly size: number;
  run(chunk: EnsembleChunk<Setup>, signal: AbortSignal): Promise<readonly MemberResult[]>;
  close(): Promise<void>;
}

/**
 * Returns the function that runs a chunk, for the worker's side of every pool; it caches the member function of the
 * last set-up.
 */
export function chunkRunner<Setup>(create: CreateMember<Setup>): (chunk: EnsembleChunk<Setup>) => MemberResult[] {
  let key: string | undefined;
  let member: Member | undefined;
  return (chunk) => {
    const now = JSON.stringify(chunk.setup);
    if (member === undefined || now !== key) {
      member = create(chunk.setup);
      key = now;
    }
    const results: MemberResult[] = [];
    for (let i = chunk.from; i < chunk.to; i++) results.push(member(i, memberStream(chunk.seed, i)));
    return results;
  };
}

/** The random stream of one member. */
export function memberStream(seed: string, index: number): Random {
  return seedrandom(`${seed}/member/${index}`);
}

/** A pool without workers: runs chunks one at a time in the caller's thread and yields between them. */
export function ownThreadPool<Setup>(create: CreateMember<Setup>): MemberPool<Setup> {
  const run = chunkRunner(create);
  return {
    size: 1,
    async run(chunk, signal) {
      await new Promise((resolve) => setTimeout(resolve, 0));
      signal.throwIfAborted();
      return run(chunk);
    },
    async close() {},
  };
}

export interface EnsembleRequest<Setup> {
  readonly pool: MemberPool<Setup>;
  readonly setup: Setup;
  readonly seed: string;
  readonly members: number;
  /** Output points of every member, which the quantiles are of; what a member gives beyond them only `onMember` gets. */
  readonly points: number;
  /** Number of members per chunk. */
  readonly chunk: number;
  /** An earlier, interrupted result: the run continues where it stopped, and adds to it in place. */
  readonly resume?: EnsembleResult;
  readonly onProgress?: (done: number, of: number) => void;
  /** Called with all values of each member that ran, in the order of the members. */
  readonly onMember?: (index: number, values: Float64Array) => void;
  readonly signal?: AbortSignal;
  /** No new chunk starts after the time `at` on the caller's clock. */
  readonly deadline?: { readonly now: () => number; readonly at: number };
}

export interface EnsembleResult {
  readonly status: "finished" | "cancelled" | "out-of-time";
  /** Members 0 .. done - 1 are in the sketch or among the failures. */
  readonly done: number;
  readonly sketch: QuantileSketch;
  readonly failures: readonly { readonly member: number; readonly failure: string }[];
}

/**
 * Runs an ensemble. Chunks may run in any order but are added in the order of the members, so an interrupted result can
 * be resumed and then equals an uninterrupted one.
 * @throws the error of a worker that fails; a member that fails is listed in `failures` instead
 */
export async function runEnsemble<Setup>(request: EnsembleRequest<Setup>): Promise<EnsembleResult> {
  const { pool, setup, seed, members, chunk, deadline } = request;
  const sketch = request.resume?.sketch ?? new QuantileSketch(request.points);
  const failures = [...(request.resume?.failures ?? [])];
  const stop = new AbortController();
  const { signal } = stop;
  const cancel = () => stop.abort(request.signal?.reason);
  if (request.signal?.aborted) cancel();
  request.signal?.addEventListener("abort", cancel, { once: true });
  let begun = request.resume?.done ?? 0;
  let done = begun;
  const waiting = new Map<number, readonly MemberResult[]>();
  let held: (() => void)[] = [];
  const late = () => deadline !== undefined && deadline.now() > deadline.at;

  const takeIn = () => {
    for (let results = waiting.get(done); results; results = waiting.get(done)) {
      waiting.delete(done);
      for (const result of results) {
        if ("failure" in result) failures.push({ member: done, failure: result.failure });
        else {
          sketch.add(result.subarray(0, request.points));
          request.onMember?.(done, result);
        }
        done++;
      }
    }
    request.onProgress?.(done, members);
    for (const release of held) release();
    held = [];
  };
  const work = async () => {
    while (begun < members && !signal.aborted && !late()) {
      // Results wait for those of earlier members; limit how far a worker may run ahead of them.
      if (begun - done >= 4 * chunk * pool.size) {
        await new Promise<void>((release) => held.push(release));
        continue;
      }
      const from = begun;
      begun = Math.min(members, from + chunk);
      const results = await pool.run({ setup, seed, from, to: begun }, signal).catch((cause: unknown) => {
        if (signal.aborted) return undefined;
        throw cause;
      });
      if (results === undefined) {
        takeIn();
        return;
      }
      waiting.set(from, results);
      takeIn();
    }
  };
  // When one worker fails, stop the others, and wait for them before the caller gets the error.
  let broken: { readonly cause: unknown } | null = null;
  const guarded = () =>
    work().catch((cause: unknown) => {
      broken ??= { cause };
      stop.abort(cause);
      for (const release of held) release();
    });
  await Promise.all(Array.from({ length: pool.size }, guarded));
  request.signal?.removeEventListener("abort", cancel);
  const failed = broken as { readonly cause: unknown } | null;
  if (failed) throw failed.cause;
  const status = done === members ? "finished" : signal.aborted ? "cancelled" : "out-of-time";
  return { status, done, sketch, failures };
}
