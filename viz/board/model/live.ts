// Two background models of the board: one answers during a drag, the other computes bands and faults when the input rests.
import type { Rig } from "../../../models/rig.ts";
import type { Change } from "../../../scenarios/load/save.ts";
import type { LocatedError } from "../../../scenarios/load/yaml.ts";
import { type CachedFaults, faultsOf } from "../../../scenarios/report/cached-faults.ts";
import type { NitrogenResult, OutageTrace, RunResult } from "../../../scenarios/result/result.ts";

export interface Question {
  readonly id: number;
  readonly text: string;
  /** Changes of a drag that are not in the text yet. */
  readonly changes: readonly Change[];
  readonly file: string;
  /** levels: water levels only; days: also the days; whole: also bands and faults. */
  readonly depth: "levels" | "days" | "whole";
  /** Members of the band. */
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
  /** Sends a question and discards earlier ones. The answer arrives in parts. */
  ask(question: Omit<Question, "id">): void;
  /** Cancels the current computation. */
  drop(): void;
}

/** Parts of an earlier complete answer that a quick answer needs. */
export const cachedOf = (result: RunResult | null): CachedFaults | null =>
  result ? { rig: result.rig, findings: result.findings, hydraulics: faultsOf(result.hydraulics) } : null;

const isLast = (answer: Answer, depth: Question["depth"]): boolean =>
  answer.is === "result" || answer.is === "refused" || answer.is === "failed" || (answer.is === "levels" && depth === "levels");

/**
 * A separate worker, started with the first question. A question waits while another is computed; a newer one replaces it.
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
      // The callback may cancel the model.
      if (data.id !== busy?.id) return;
      // Between levels and days a newer question has priority.
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
