// The model in the page: a Web Worker made from text inside this file. One request at a time; a newer one replaces the one waiting.
import type { CachedFaults } from "../../scenarios/report/cached-faults.ts";
import type { NitrogenResult, OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import type { KnobChange } from "../sections/knobs.ts";
import { unpack } from "./unpack.ts";

/** What the page asks of the worker: a run; when faults are named, only the outage run of those faults; or only the changed text. */
export interface LiveRequest {
  readonly id: number;
  readonly source: string;
  readonly file: string;
  readonly seed: string;
  readonly changes: readonly KnobChange[];
  readonly faults: readonly string[];
  /** A run whose faults and marks are used for a quick answer; null works all of them out. */
  readonly cachedFaults: CachedFaults | null;
  /** Only the text of the changed scenario is wanted. */
  readonly textOnly?: boolean;
}

/** What the worker answers. The days come ahead of a quick result, which is whole when its faults and marks are of its own rig. */
export type LiveAnswer =
  | { readonly id: number; readonly ok: true; readonly kind: "days"; readonly nitrogen: NitrogenResult }
  | { readonly id: number; readonly ok: true; readonly kind: "result"; readonly result: RunResult; readonly whole: boolean }
  | { readonly id: number; readonly ok: true; readonly kind: "text"; readonly text: string }
  | { readonly id: number; readonly ok: true; readonly kind: "story"; readonly story: OutageTrace }
  | { readonly id: number; readonly ok: false; readonly errors: readonly string[] };

export interface Engine {
  /**
   * Null when a newer request took this one's place, or it was dropped.
   * @param onDays told the days ahead of the answer
   */
  ask(request: Omit<LiveRequest, "id">, onDays?: (nitrogen: NitrogenResult) => void): Promise<LiveAnswer | null>;
  /** Ends what is being worked out; nobody wants it any more. */
  drop(): void;
}

/** Whether the page carries the model. */
export const hasModel = (): boolean => document.getElementById("worker") !== null;

let modelUrl: Promise<string> | null = null;
const urlOfModel = (): Promise<string> => {
  modelUrl ??= unpack("worker").then((text) => URL.createObjectURL(new Blob([text ?? ""], { type: "text/javascript" })));
  return modelUrl;
};

interface Asked {
  readonly request: LiveRequest;
  readonly resolve: (answer: LiveAnswer | null) => void;
  readonly onDays: ((nitrogen: NitrogenResult) => void) | undefined;
}

/** A worker of its own, started with the first request. */
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
      if (e.data.ok && e.data.kind === "days") current.onDays?.(e.data.nitrogen);
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
    ask(wanted, onDays) {
      return new Promise((resolve) => {
        const asked: Asked = { request: { ...wanted, id: ++count }, resolve, onDays };
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
