// Worker threads for ensembles on Node. Browsers use web-pool.ts and never import this.

import { Piscina } from "piscina";
import type { EnsembleChunk, MemberPool, MemberResult } from "./ensemble.ts";

/**
 * A pool of worker threads.
 * @param worker URL of a module whose default export is `chunkRunner(create)`; a .ts file is loaded through tsx
 * @param threads how many workers
 */
export function nodePool<Setup>(worker: URL, threads: number): MemberPool<Setup> {
  const piscina = new Piscina<EnsembleChunk<Setup>, MemberResult[]>({
    filename: worker.href,
    minThreads: threads,
    maxThreads: threads,
    execArgv: worker.pathname.endsWith(".ts") ? ["--import", "tsx"] : [],
  });
  return {
    size: threads,
    run: (chunk, signal) => piscina.run(chunk, { signal }),
    close: () => piscina.destroy(),
  };
}
