// Runs work in time slices, so that the page stays responsive. Clock and tasks are injected, so tests need no browser.

export interface Clock {
  /** Time in ms. */
  readonly now: () => number;
  /** Resolves in a later task. */
  readonly nextTask: () => Promise<void>;
}

export type Step = () => void;

export interface Scheduler {
  /** Runs the steps in order; newer work cancels unfinished older work. @returns whether all steps ran */
  run(steps: readonly Step[]): Promise<boolean>;
  /** Cancels the remaining steps. */
  cancel(): void;
}

/** @param sliceMs longest time slice [ms] */
export function scheduler({ now, nextTask }: Clock, sliceMs: number): Scheduler {
  let turn = 0;
  return {
    async run(steps) {
      const mine = ++turn;
      let began = now();
      for (const step of steps) {
        if (now() - began > sliceMs) {
          await nextTask();
          if (mine !== turn) return false;
          began = now();
        }
        step();
      }
      return true;
    },
    cancel() {
      turn++;
    },
  };
}
