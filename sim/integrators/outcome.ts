// Outcomes of a run. A run that cannot continue returns a value with a reason; it neither throws nor fails silently.

export type FailureCode =
  | "bad-input"
  | "not-finite"
  | "step-too-small"
  | "negative"
  | "too-many-steps"
  | "too-many-derivatives"
  | "out-of-time"
  | "chattering";

/** A run that could not continue: time, reason, and the responsible component where one is known. */
export interface Failure {
  readonly status: "failed";
  /** Last time with a valid state. */
  readonly t: number;
  readonly code: FailureCode;
  readonly component?: number;
  /** Plain words for a reader, with the component's name where the problem gives one. */
  readonly message: string;
}

export type Outcome =
  | { readonly status: "finished"; readonly t: number }
  /** The observer stopped the run at t, or the named event did. */
  | { readonly status: "stopped"; readonly t: number; readonly event?: string }
  | Failure;

/** A run inside a larger computation that did not finish; the message says which, and the outcome says why. */
export class GaveUpError extends Error {
  /** @param what for example "the settled colony could not be computed" */
  constructor(what: string, outcome: Outcome) {
    super(`${what}: ${outcome.status === "failed" ? outcome.message : `it was ${outcome.status}`}`);
  }
}

/** A failure with the caller's own message. */
export function failure(t: number, code: FailureCode, message: string, component?: number): Failure {
  return component === undefined ? { status: "failed", t, code, message } : { status: "failed", t, code, message, component };
}

/** Message of each failure, the same for all integrators; `name` is the responsible component. */
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
 * A failure at time t with its responsible component.
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
