// Progress of long work, and its interruption by the user.

const duration = (seconds: number): string =>
  seconds < 90
    ? `${Math.round(seconds)} s`
    : seconds < 5400
      ? `${Math.round(seconds / 60)} min`
      : `${(seconds / 3600).toFixed(1)} h`;

/** Progress with rate and remaining time: updated in place on a terminal, printed at intervals to a pipe. */
export class StudyProgress {
  private readonly points: number;
  private readonly quiet: boolean;
  private readonly begun = performance.now();
  private readonly first: number;
  private shownAt = 0;

  constructor(points: number, done: number, quiet: boolean) {
    this.points = points;
    this.first = done;
    this.quiet = quiet;
  }

  show(done: number): void {
    const now = performance.now();
    const terminal = process.stderr.isTTY;
    if (this.quiet || (done < this.points && now - this.shownAt < (terminal ? 200 : 15_000))) return;
    this.shownAt = now;
    const rate = (done - this.first) / ((now - this.begun) / 1000);
    const left = rate > 0 ? `, ${rate.toPrecision(2)} a second, ${duration((this.points - done) / rate)} left` : "";
    process.stderr.write(
      `${terminal ? "\r\x1b[K" : ""}${done} of ${this.points} points${done < this.points ? left : ""}${terminal ? "" : "\n"}`,
    );
  }

  end(): void {
    if (!this.quiet && process.stderr.isTTY) process.stderr.write("\r\x1b[K");
  }
}

/** Aborts the work when the user presses Ctrl-C or the system asks the program to stop. */
export function stopSignal(): { readonly signal: AbortSignal; readonly release: () => void } {
  const controller = new AbortController();
  const stop = (): void => controller.abort();
  process.once("SIGINT", stop).once("SIGTERM", stop);
  return { signal: controller.signal, release: () => process.off("SIGINT", stop).off("SIGTERM", stop) };
}
