// The model in the page: a Web Worker made from text inside this file. One request at a time; a newer one replaces the one waiting.
import type { RunResult, Story } from "../../scenarios/result.ts";
import type { KnobChange } from "../knobs.ts";
import { unpack } from "./unpack.ts";

/** What the page asks of the worker: a run, or, when faults are named, only the story of those faults. */
export interface LiveRequest {
  readonly id: number;
  readonly source: string;
  readonly file: string;
  readonly seed: string;
  readonly changes: readonly KnobChange[];
  readonly faults: readonly string[];
  /** With the matrix of faults, which takes longer. */
  readonly full: boolean;
}

/** What the worker answers. */
export type LiveAnswer =
  | { readonly id: number; readonly ok: true; readonly kind: "result"; readonly result: RunResult }
  | { readonly id: number; readonly ok: true; readonly kind: "story"; readonly story: Story }
  | { readonly id: number; readonly ok: false; readonly errors: readonly string[] };

export interface Engine {
  /** Null when a newer request took this one's place. */
  ask(request: Omit<LiveRequest, "id">): Promise<LiveAnswer | null>;
}

/** The engine, or null when the page carries no model. The worker starts with the first request. */
export function engine(): Engine | null {
  if (!document.getElementById("worker")) return null;
  let worker: Promise<Worker> | null = null;
  let busy = false;
  let waiting: { request: LiveRequest; resolve: (a: LiveAnswer | null) => void } | null = null;
  let current: { id: number; resolve: (a: LiveAnswer | null) => void } | null = null;
  let count = 0;

  function settle(answer: LiveAnswer | null): void {
    current?.resolve(answer);
    current = null;
    busy = false;
    const next = waiting;
    waiting = null;
    if (next) post(next.request, next.resolve);
  }

  async function start(): Promise<Worker> {
    const url = URL.createObjectURL(new Blob([(await unpack("worker")) ?? ""], { type: "text/javascript" }));
    const made = new Worker(url);
    made.addEventListener("message", (e: MessageEvent<LiveAnswer>) => {
      if (e.data.id === current?.id) settle(e.data);
    });
    made.addEventListener("error", (e) => {
      settle({ id: current?.id ?? 0, ok: false, errors: [`The model stopped: ${e.message}`] });
    });
    return made;
  }

  function post(request: LiveRequest, resolve: (a: LiveAnswer | null) => void): void {
    busy = true;
    current = { id: request.id, resolve };
    worker ??= start();
    worker.then(
      (w) => w.postMessage(request),
      (error: unknown) => settle({ id: request.id, ok: false, errors: [`The model could not be started: ${String(error)}`] }),
    );
  }

  return {
    ask(wanted) {
      return new Promise((resolve) => {
        const request: LiveRequest = { ...wanted, id: ++count };
        if (!busy) post(request, resolve);
        else {
          waiting?.resolve(null);
          waiting = { request, resolve };
        }
      });
    },
  };
}
