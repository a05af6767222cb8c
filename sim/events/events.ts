// What can interrupt a run: timed events, and state events found where a guard crosses zero.

/** What a model does at an event: it changes y and its own mode in place. "stop" ends the run there. */
export type Reaction = "continue" | "stop";

interface EventBase {
  readonly id: string;
  /** Plain words: "return siphon takes air". */
  readonly label: string;
  /** At one instant the lower comes first; ties go by order of declaration. 0 when absent. */
  readonly priority?: number;
  apply(t: number, y: Float64Array): Reaction;
}

/** Known beforehand; the integrator lands exactly on `at`, `at + every`, `at + 2 every`, ... below `until`. */
export interface TimedEvent extends EventBase {
  readonly kind: "timed";
  readonly at: number;
  readonly every?: number;
  readonly until?: number;
}

/**
 * Found where `guard` crosses zero. A guard that touches zero without crossing may be missed. The derivative must not depend on the
 * sign of the guard: a switch is a mode, and only `apply` changes a mode.
 */
export interface StateEvent extends EventBase {
  readonly kind: "state";
  readonly direction: "rising" | "falling" | "either";
  guard(t: number, y: Float64Array): number;
  /** Whether the present mode uses this guard. Default: always. */
  armed?(): boolean;
}

export type SimulationEvent = TimedEvent | StateEvent;

/** An event that took place; the states are lent for the duration of the call. */
export interface Happening {
  readonly event: SimulationEvent;
  readonly t: number;
  readonly before: Float64Array;
  readonly after: Float64Array;
}

/**
 * Whether a guard last seen on this side of zero (-1 or 1; 0 while it has only been seen exactly on zero) has crossed in the
 * event's direction, being now at `value`. Crossing is strict: reaching zero is not yet crossing.
 */
export function hasCrossed(direction: StateEvent["direction"], side: number, value: number): boolean {
  if (side < 0) return value > 0 && direction !== "falling";
  if (side > 0) return value < 0 && direction !== "rising";
  return isPast(direction, value);
}

/** Side of zero after `value` has been seen from `side`: zero itself changes nothing. */
export function newSide(side: number, value: number): number {
  return value === 0 ? side : Math.sign(value);
}

/** Whether a guard lies beyond the crossing that would fire it ("either" has no beyond). */
export function isPast(direction: StateEvent["direction"], value: number): boolean {
  return direction === "rising" ? value > 0 : direction === "falling" ? value < 0 : false;
}

/** Time of the k-th turn of a timed event, counted in whole periods so that nothing accumulates; infinity when there is none. */
export function turnTime(event: TimedEvent, k: number): number {
  if (event.every === undefined) return k === 0 ? event.at : Number.POSITIVE_INFINITY;
  const time = event.at + k * event.every;
  return time < (event.until ?? Number.POSITIVE_INFINITY) ? time : Number.POSITIVE_INFINITY;
}

/** First turn at or after t. */
export function firstTurn(event: TimedEvent, t: number): number {
  if (event.at >= t) return 0;
  if (event.every === undefined) return 1;
  let k = Math.max(0, Math.floor((t - event.at) / event.every) - 1);
  while (event.at + k * event.every < t) k++;
  return k;
}
