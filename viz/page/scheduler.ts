// Does work in slices, so that the page answers a finger meanwhile. Time and tasks come from outside, so that it can be tested without a browser.

export interface Clock {
  /** Time in ms. */
  readonly now: () => number;
  /** Resolves in a later task. */
  readonly nextTask: () => Promise<void>;
}

export type Step = () => void;

export interface Scheduler {
  /** Does the steps one after the other; newer work ends older work that is not done. @returns whether all steps were done */
  run(steps: readonly Step[]): Promise<boolean>;
  /** Ends what is not done. */
  cancel(): void;
}

/** @param sliceMs no longer than this at a time */
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
