// The model in the page: a Web Worker created from text in the page. It handles one request at a time; a newer request
// replaces the waiting one.
import type { Posterior } from "../../scenarios/forecast/posterior.ts";
import type { CachedFaults } from "../../scenarios/report/cached-faults.ts";
import type { NitrogenResult, OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import type { KnobChange } from "../sections/knobs.ts";
import { unpack } from "./unpack.ts";

/** Request to the worker: a run, only the outage run of the named faults, or only the changed text. */
export interface LiveRequest {
  readonly id: number;
  readonly source: string;
  readonly file: string;
  readonly seed: string;
  readonly changes: readonly KnobChange[];
  readonly faults: readonly string[];
  /** A run whose faults and marks are reused for a quick answer; null computes all of them. */
  readonly cachedFaults: CachedFaults | null;
  /** Requests only the text of the changed scenario. */
  readonly textOnly?: boolean;
  /** Requests the forecast that follows from the readings of the changed scenario. */
  readonly learn?: boolean;
}

/**
 * Answer of the worker. The days arrive before a quick result, and the progress before a forecast. The result is `whole` if its faults and marks belong to its
 * own rig.
 */
export type LiveAnswer =
  | { readonly id: number; readonly ok: true; readonly kind: "days"; readonly nitrogen: NitrogenResult }
  | { readonly id: number; readonly ok: true; readonly kind: "progress"; readonly done: number; readonly of: number }
  | { readonly id: number; readonly ok: true; readonly kind: "forecast"; readonly forecast: Posterior }
  | { readonly id: number; readonly ok: true; readonly kind: "result"; readonly result: RunResult; readonly whole: boolean }
  | { readonly id: number; readonly ok: true; readonly kind: "text"; readonly text: string }
  | { readonly id: number; readonly ok: true; readonly kind: "story"; readonly story: OutageTrace }
  | { readonly id: number; readonly ok: false; readonly errors: readonly string[] };

/** What arrives before an answer. */
export interface Early {
  readonly onDays?: (nitrogen: NitrogenResult) => void;
  readonly onProgress?: (done: number, of: number) => void;
}

export interface Engine {
  /**
   * @param early called with what comes before the answer
   * @returns null if a newer request replaced this one, or if it was cancelled
   */
  ask(request: Omit<LiveRequest, "id">, early?: Early): Promise<LiveAnswer | null>;
  /** Cancels the current request. */
  drop(): void;
}

/** Whether the page contains the model. */
export const hasModel = (): boolean => document.getElementById("worker") !== null;

let modelUrl: Promise<string> | null = null;
const urlOfModel = (): Promise<string> => {
  modelUrl ??= unpack("worker").then((text) => URL.createObjectURL(new Blob([text ?? ""], { type: "text/javascript" })));
  return modelUrl;
};

interface Asked {
  readonly request: LiveRequest;
  readonly resolve: (answer: LiveAnswer | null) => void;
  readonly early: Early;
}

/** A separate worker, started with the first request. */
export function engine(): Engine {
  let worker: Promise<Worker> | null = null;
  let waiting: Asked | null = null;
  let current: Asked | null = null;
  let count = 0;

  function settle(answer: LiveAnswer | null): void {
    current?.resolve(answer);
    current = null;
    const next = waiting;
    waiting = null;
    if (next) post(next);
  }

  async function start(): Promise<Worker> {
    const made = new Worker(await urlOfModel());
    made.addEventListener("message", (e: MessageEvent<LiveAnswer>) => {
      if (e.data.id !== current?.request.id) return;
      if (e.data.ok && e.data.kind === "days") current.early.onDays?.(e.data.nitrogen);
      else if (e.data.ok && e.data.kind === "progress") current.early.onProgress?.(e.data.done, e.data.of);
      else settle(e.data);
    });
    made.addEventListener("error", (e) => {
      settle({ id: current?.request.id ?? 0, ok: false, errors: [`The model stopped: ${e.message}`] });
    });
    return made;
  }

  function post(asked: Asked): void {
    const { request } = asked;
    current = asked;
    worker ??= start();
    worker.then(
      (w) => {
        if (current === asked) w.postMessage(request);
      },
      (error: unknown) => settle({ id: request.id, ok: false, errors: [`The model could not be started: ${String(error)}`] }),
    );
  }

  return {
    ask(wanted, early = {}) {
      return new Promise((resolve) => {
        const asked: Asked = { request: { ...wanted, id: ++count }, resolve, early };
        if (!current) post(asked);
        else {
          waiting?.resolve(null);
          waiting = asked;
        }
      });
    },
    drop() {
      if (!current) return;
      void worker?.then((w) => w.terminate());
      worker = null;
      waiting?.resolve(null);
      waiting = null;
      settle(null);
    },
  };
}
