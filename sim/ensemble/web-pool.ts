// Web Workers for ensembles in the browser: both ends of a small message protocol.

import { type CreateMember, chunkRunner, type EnsembleChunk, type MemberPool, type MemberResult } from "./ensemble.ts";

/** The part of a Web Worker, or of its global scope, that this module uses. */
export interface MessageEnd {
  postMessage(message: unknown): void;
  onmessage: ((event: MessageEvent) => void) | null;
}

export interface WorkerEnd extends MessageEnd {
  onerror: ((event: ErrorEvent) => void) | null;
  terminate(): void;
}

type Reply = { readonly results: readonly MemberResult[] } | { readonly error: string };

/** The worker's end: call it once in the worker's script with its global scope (`self`). */
export function serveMembers<Setup>(scope: MessageEnd, create: CreateMember<Setup>): void {
  const run = chunkRunner(create);
  scope.onmessage = (event: MessageEvent<EnsembleChunk<Setup>>) => {
    let reply: Reply;
    try {
      reply = { results: run(event.data) };
    } catch (cause) {
      reply = { error: cause instanceof Error ? cause.message : String(cause) };
    }
    scope.postMessage(reply);
  };
}

/**
 * The page's end: a pool of `size` workers that `start` creates. Cancelling terminates a worker in the middle of its
 * chunk; a new one is started when it is needed.
 */
export function webPool<Setup>(start: () => WorkerEnd, size: number): MemberPool<Setup> {
  const idle: WorkerEnd[] = [];
  return {
    size,
    run(chunk, signal) {
      return new Promise<readonly MemberResult[]>((resolve, reject) => {
        if (signal.aborted) return reject(new Error("cancelled"));
        const worker = idle.pop() ?? start();
        const give = (settle: () => void, reusable: boolean) => {
          signal.removeEventListener("abort", cancel);
          worker.onmessage = null;
          worker.onerror = null;
          if (reusable) idle.push(worker);
          else worker.terminate();
          settle();
        };
        const cancel = () => give(() => reject(new Error("cancelled")), false);
        signal.addEventListener("abort", cancel);
        worker.onmessage = (event: MessageEvent<Reply>) => {
          const reply = event.data;
          if ("results" in reply) give(() => resolve(reply.results), true);
          else give(() => reject(new Error(reply.error)), false);
        };
        worker.onerror = (event) => give(() => reject(new Error(event.message)), false);
        worker.postMessage(chunk);
      });
    },
    async close() {
      for (const worker of idle.splice(0)) worker.terminate();
    },
  };
}
