// Structured concurrency: a scope ends only when everything that started in it has ended, and aborts all of it when any
// part fails.

/**
 * Runs `work` with a signal and a function that starts more work in the same scope. When `work` returns or throws, or
 * the caller's signal is aborted, the scope aborts its signal and waits for everything that was started, so that
 * nothing keeps running and no rejection is unhandled.
 * @param outer the caller's own signal; aborting it makes the scope reject with its reason
 * @throws the error of `work`, or the reason of `outer`
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
    // The failure reaches whoever awaits the task. Until then it aborts the rest, and this handler keeps it from being
    // reported as unhandled.
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

/** Yields to the event loop. Call it between parts of long work. @throws the signal's reason when it is aborted */
export async function yieldToEventLoop(signal: AbortSignal): Promise<void> {
  await new Promise((resolve) => setTimeout(resolve, 0));
  signal.throwIfAborted();
}
