// How a run ends. A run that cannot go on is a value with a reason, never an exception and never silence.

export type FailureCode =
  | "bad-input"
  | "not-finite"
  | "step-too-small"
  | "negative"
  | "too-many-steps"
  | "too-many-derivatives"
  | "out-of-time"
  | "chattering";

/** A run that could not be carried on: when, why, and the component to blame where one is known. */
export interface Failure {
  readonly status: "failed";
  /** Last time whose state is valid. */
  readonly t: number;
  readonly code: FailureCode;
  readonly component?: number;
  /** Plain words for a reader, with the component's name where the problem gives one. */
  readonly message: string;
}

export type Outcome =
  | { readonly status: "finished"; readonly t: number }
  /** The observer asked to stop at t, or the event named did. */
  | { readonly status: "stopped"; readonly t: number; readonly event?: string }
  | Failure;

/** A run inside a larger computation that could not be finished; the message says which, and the outcome why. */
export class GaveUpError extends Error {
  /** @param what "the settled colony could not be computed" */
  constructor(what: string, outcome: Outcome) {
    super(`${what}: ${outcome.status === "failed" ? outcome.message : `it was ${outcome.status}`}`);
  }
}

export function failure(t: number, code: FailureCode, message: string, component?: number): Failure {
  return component === undefined ? { status: "failed", t, code, message } : { status: "failed", t, code, message, component };
}
