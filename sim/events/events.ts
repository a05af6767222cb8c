// Events that can interrupt a run: timed events, and state events located where a guard function crosses zero.

/** What the run does after an event has changed y and its own mode in place; "stop" ends the run there. */
export type Reaction = "continue" | "stop";

interface EventBase {
  readonly id: string;
  /** Plain words for messages, for example "return siphon takes air". */
  readonly label: string;
  /** At one instant the lower priority runs first; ties run in order of declaration. Default 0. */
  readonly priority?: number;
  apply(t: number, y: Float64Array): Reaction;
}

/** An event at a known time; the integrator stops exactly at `at`, `at + every`, `at + 2 every`, ... below `until`. */
export interface TimedEvent extends EventBase {
  readonly kind: "timed";
  readonly at: number;
  readonly every?: number;
  readonly until?: number;
}

/**
 * An event located where `guard` crosses zero. A guard that touches zero without crossing it may be missed. The
 * derivative must not depend on the sign of the guard: a switch is a discrete mode, and only `apply` changes a mode.
 */
export interface StateEvent extends EventBase {
  readonly kind: "state";
  readonly direction: "rising" | "falling" | "either";
  guard(t: number, y: Float64Array): number;
  /** Whether this guard is active in the present mode. Default: always. */
  armed?(): boolean;
}

export type SimulationEvent = TimedEvent | StateEvent;

/** An event that has occurred. `before` and `after` have the length of the state and are valid only during the call. */
export interface EventOccurrence {
  readonly event: SimulationEvent;
  readonly t: number;
  readonly before: Float64Array;
  readonly after: Float64Array;
}

/**
 * Whether a guard has crossed zero in the event's direction. Crossing is strict: reaching zero is not yet crossing.
 * @param side sign of the guard when it was last evaluated (-1 or 1; 0 while it has only been exactly zero)
 * @param value the guard now
 */
export function hasCrossed(direction: StateEvent["direction"], side: number, value: number): boolean {
  if (side < 0) return value > 0 && direction !== "falling";
  if (side > 0) return value < 0 && direction !== "rising";
  return isPast(direction, value);
}

/** Side of zero after an evaluation gave `value`; a value of exactly zero does not change the side. */
export function newSide(side: number, value: number): number {
  return value === 0 ? side : Math.sign(value);
}

/** Whether a guard is beyond the crossing that triggers it; always false for the direction "either". */
export function isPast(direction: StateEvent["direction"], value: number): boolean {
  return direction === "rising" ? value > 0 : direction === "falling" ? value < 0 : false;
}

/**
 * Time of occurrence k of a timed event, computed from whole periods so that rounding does not accumulate; infinity
 * when there is none.
 */
export function turnTime(event: TimedEvent, k: number): number {
  if (event.every === undefined) return k === 0 ? event.at : Number.POSITIVE_INFINITY;
  const time = event.at + k * event.every;
  return time < (event.until ?? Number.POSITIVE_INFINITY) ? time : Number.POSITIVE_INFINITY;
}

/** Number of the first occurrence at or after t. */
export function firstTurn(event: TimedEvent, t: number): number {
  if (event.at >= t) return 0;
  if (event.every === undefined) return 1;
  let k = Math.max(0, Math.floor((t - event.at) / event.every) - 1);
  while (event.at + k * event.every < t) k++;
  return k;
}
