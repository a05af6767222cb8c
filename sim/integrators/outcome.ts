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

/** A run that could not go on: when, why, and the component to blame where one is known. */
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

/** A failure with a message of the caller's own. */
export function failure(t: number, code: FailureCode, message: string, component?: number): Failure {
  return component === undefined ? { status: "failed", t, code, message } : { status: "failed", t, code, message, component };
}

/** What each way to fail means, whichever integrator failed; `name` is the component to blame. */
const MESSAGES: Record<FailureCode, (name: string) => string> = {
  "bad-input": (name) => `${name} cannot be integrated`,
  "not-finite": (name) => `${name} is not a finite number, however small the step`,
  "step-too-small": (name) => `the step became too small to go on (${name})`,
  negative: (name) => `${name} falls below zero, however small the step`,
  "too-many-steps": () => "gave up after too many steps; the problem may be stiff",
  "too-many-derivatives": () => "gave up after too many evaluations of the derivative",
  "out-of-time": () => "the time allowed for the run is used up",
  chattering: (name) => `${name} switches without end`,
};

/**
 * A failure at time t that blames a component.
 * @param component index of the component, or -1 where none is known
 */
export function failureOf(
  problem: { componentName?(index: number): string },
  t: number,
  code: FailureCode,
  component: number,
): Failure {
  if (component < 0) return failure(t, code, MESSAGES[code]("a component"));
  return failure(t, code, MESSAGES[code](problem.componentName?.(component) ?? `component ${component}`), component);
}
