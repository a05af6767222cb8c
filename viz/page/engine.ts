// The model in the page: a Web Worker made from text inside this file. One request at a time; a newer one replaces the one waiting.
import type { Earlier } from "../../scenarios/earlier.ts";
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
  /** A run whose faults and marks stand in, for a quick answer; null works all of them out. */
  readonly earlier: Earlier | null;
}

/** What the worker answers. A result is whole when its faults and marks are of its own rig. */
export type LiveAnswer =
  | { readonly id: number; readonly ok: true; readonly kind: "result"; readonly result: RunResult; readonly whole: boolean }
  | { readonly id: number; readonly ok: true; readonly kind: "story"; readonly story: Story }
  | { readonly id: number; readonly ok: false; readonly errors: readonly string[] };

export interface Engine {
  /** Null when a newer request took this one's place, or it was dropped. */
  ask(request: Omit<LiveRequest, "id">): Promise<LiveAnswer | null>;
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

/** A worker of its own, started with the first request. */
export function engine(): Engine {
  let worker: Promise<Worker> | null = null;
  let waiting: { request: LiveRequest; resolve: (a: LiveAnswer | null) => void } | null = null;
  let current: { id: number; resolve: (a: LiveAnswer | null) => void } | null = null;
  let count = 0;

  function settle(answer: LiveAnswer | null): void {
    current?.resolve(answer);
    current = null;
    const next = waiting;
    waiting = null;
    if (next) post(next.request, next.resolve);
  }

  async function start(): Promise<Worker> {
    const made = new Worker(await urlOfModel());
    made.addEventListener("message", (e: MessageEvent<LiveAnswer>) => {
      if (e.data.id === current?.id) settle(e.data);
    });
    made.addEventListener("error", (e) => {
      settle({ id: current?.id ?? 0, ok: false, errors: [`The model stopped: ${e.message}`] });
    });
    return made;
  }

  function post(request: LiveRequest, resolve: (a: LiveAnswer | null) => void): void {
    current = { id: request.id, resolve };
    worker ??= start();
    worker.then(
      (w) => {
        if (current?.id === request.id) w.postMessage(request);
      },
      (error: unknown) => settle({ id: request.id, ok: false, errors: [`The model could not be started: ${String(error)}`] }),
    );
  }

  return {
    ask(wanted) {
      return new Promise((resolve) => {
        const request: LiveRequest = { ...wanted, id: ++count };
        if (!current) post(request, resolve);
        else {
          waiting?.resolve(null);
          waiting = { request, resolve };
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
