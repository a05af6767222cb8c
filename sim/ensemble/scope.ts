// Work that belongs together: what is begun in a scope ends with it, and is told to stop when any part of it fails.

/**
 * Runs `work` with a signal and a way to begin more work beside it. When `work` returns or throws, or the caller's signal is aborted, the signal
 * is aborted and everything begun is awaited before the scope ends, so that nothing is left running and no rejection is left alone.
 * @param outer the caller's own signal; aborting it makes the scope reject with its reason
 */
export async function scoped<T>(
  outer: AbortSignal | undefined,
  work: (signal: AbortSignal, begin: <R>(task: Promise<R>) => Promise<R>) => Promise<T>,
): Promise<T> {
  outer?.throwIfAborted();
  const controller = new AbortController();
  const stop = () => controller.abort(outer?.reason);
  outer?.addEventListener("abort", stop, { once: true });
  const begun: Promise<unknown>[] = [];
  const begin = <R>(task: Promise<R>): Promise<R> => {
    begun.push(task);
    // Whoever awaits the task gets its failure; until then it stops the rest, and it is never reported as left alone.
    task.catch((cause: unknown) => controller.abort(cause));
    return task;
  };
  try {
    return await work(controller.signal, begin);
  } finally {
    controller.abort();
    outer?.removeEventListener("abort", stop);
    await Promise.allSettled(begun);
  }
}

/** Lets events be heard, then throws the signal's reason when it has been aborted: to be called between pieces of long work. */
export async function breathe(signal: AbortSignal): Promise<void> {
  await new Promise((resolve) => setTimeout(resolve, 0));
  signal.throwIfAborted();
}
