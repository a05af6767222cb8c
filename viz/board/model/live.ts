// Two models beside the board: one answers while somebody drags, one works out bands and faults when the hands rest.
import type { Rig } from "../../../models/rig.ts";
import type { Change } from "../../../scenarios/load/save.ts";
import type { LocatedError } from "../../../scenarios/load/yaml.ts";
import { type CachedFaults, faultsOf } from "../../../scenarios/report/cached-faults.ts";
import type { NitrogenResult, OutageTrace, RunResult } from "../../../scenarios/result/result.ts";

export interface Question {
  readonly id: number;
  readonly text: string;
  /** Changes that are not in the text yet, while something is dragged. */
  readonly changes: readonly Change[];
  readonly file: string;
  /** levels: only where the water stands; days: the days too; whole: with bands and faults. */
  readonly depth: "levels" | "days" | "whole";
  /** Runs in the band. */
  readonly members: number;
  readonly cached: CachedFaults | null;
}

export type Answer =
  | { readonly id: number; readonly is: "levels"; readonly rig: Rig; readonly story: OutageTrace }
  | { readonly id: number; readonly is: "days"; readonly nitrogen: NitrogenResult }
  | { readonly id: number; readonly is: "result"; readonly result: RunResult; readonly whole: boolean }
  | { readonly id: number; readonly is: "progress"; readonly what: string; readonly done: number; readonly of: number }
  | { readonly id: number; readonly is: "refused"; readonly errors: readonly LocatedError[] }
  | { readonly id: number; readonly is: "failed"; readonly problem: string };

export interface Model {
  /** Asks; what was asked before is forgotten. The answer comes in parts. */
  ask(question: Omit<Question, "id">): void;
  /** Ends what is being worked out. */
  drop(): void;
}

/** What a quick answer needs of an earlier whole one. */
export const cachedOf = (result: RunResult | null): CachedFaults | null =>
  result ? { rig: result.rig, findings: result.findings, hydraulics: faultsOf(result.hydraulics) } : null;

const isLast = (answer: Answer, depth: Question["depth"]): boolean =>
  answer.is === "result" || answer.is === "refused" || answer.is === "failed" || (answer.is === "levels" && depth === "levels");

/**
 * A worker of its own, started with the first question. A question that comes while one is worked on waits; a newer takes its place.
 * @param url of the worker's script
 */
export function model(url: () => Promise<string>, onAnswer: (answer: Answer) => void): Model {
  let worker: Promise<Worker> | null = null;
  let busy: Question | null = null;
  let waiting: Question | null = null;
  let count = 0;

  function next(): void {
    busy = waiting;
    waiting = null;
    if (busy) post(busy);
  }

  async function start(): Promise<Worker> {
    const made = new Worker(await url());
    made.addEventListener("message", ({ data }: MessageEvent<Answer>) => {
      if (!busy || data.id !== busy.id) return;
      onAnswer(data);
      // Whoever hears the answer may drop the model.
      if (data.id !== busy?.id) return;
      // Between levels and days a newer question goes first.
      if (data.is === "levels" && waiting) next();
      else if (isLast(data, busy.depth)) next();
    });
    made.addEventListener("error", (e) => {
      const id = busy?.id ?? 0;
      onAnswer({ id, is: "failed", problem: `The model stopped: ${e.message}` });
      next();
    });
    return made;
  }

  function post(question: Question): void {
    worker ??= start();
    worker.then(
      (w) => {
        if (busy === question) w.postMessage(question);
      },
      (error: unknown) => {
        onAnswer({ id: question.id, is: "failed", problem: `The model could not be started: ${String(error)}` });
        next();
      },
    );
  }

  return {
    ask(question) {
      const asked = { ...question, id: ++count };
      if (busy) waiting = asked;
      else {
        busy = asked;
        post(asked);
      }
    },
    drop() {
      waiting = null;
      if (!busy) return;
      void worker?.then((w) => w.terminate());
      worker = null;
      busy = null;
    },
  };
}
