// Worker threads for ensembles on Node. Browsers use web-pool.ts and never import this.

import { Piscina } from "piscina";
import type { EnsembleChunk, MemberPool, MemberResult } from "./ensemble.ts";

/** Worker threads that compute outputs from inputs, up to `size` at the same time; both must survive structured cloning. */
export interface TaskPool<Input, Output> {
  readonly size: number;
  run(input: Input, signal?: AbortSignal): Promise<Output>;
  close(): Promise<void>;
}

/**
 * A pool of worker threads.
 * @param worker URL of a module whose default export is a function of one input; a .ts file is loaded through tsx
 * @param threads number of workers
 */
export function taskPool<Input, Output>(worker: URL, threads: number): TaskPool<Input, Output> {
  const piscina = new Piscina<Input, Output>({
    filename: worker.href,
    minThreads: threads,
    maxThreads: threads,
    execArgv: worker.pathname.endsWith(".ts") ? ["--import", "tsx"] : [],
  });
  return {
    size: threads,
    run: (input, signal) => piscina.run(input, signal ? { signal } : {}),
    close: () => piscina.destroy(),
  };
}

/** A pool of worker threads for ensembles; the default export of the module must be `chunkRunner(create)`. */
export const nodePool = <Setup>(worker: URL, threads: number): MemberPool<Setup> =>
  taskPool<EnsembleChunk<Setup>, MemberResult[]>(worker, threads);
