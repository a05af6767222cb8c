// What every kind of planned event declares. Each kind is a module of this folder; `all.ts` lists them.
import type { OnDay } from "../management.ts";
import type { ChallengeTest } from "../operation/challenge-test.ts";
import type { Feeding } from "../operation/feeding.ts";
import type { OutageOptions } from "../operation/power-cut.ts";
import type { RunState } from "../operation/run-state.ts";

/** What an event may act on. */
export interface EventContext {
  readonly run: RunState;
  readonly feeding: Feeding;
  readonly challengeTest: ChallengeTest;
  readonly outage: OutageOptions;
}

/**
 * One kind of event.
 * @typeParam Body its data: `kind`, and what the plan says of it, in SI units
 */
export interface EventRule<Body extends { readonly kind: string }> {
  readonly kind: Body["kind"];
  /** Does it. Nitrogen that comes or goes is booked with `run.book`. @returns false when it was not due, so that it is not recorded */
  apply(context: EventContext, event: OnDay<Body>): boolean;
  /** Whether it burdens or harms the filter, so that the result says what came of it. */
  isShock(event: Body): boolean;
  /** Whether it is a habit that a keeper goes on with after an outage. */
  isHabit(event: Body): boolean;
  /** Whether the keeper's calendar has a line for it: no for what only happens, such as a power cut that is tried. */
  readonly inCalendar: boolean;
}

/**
 * A rule from its action and what differs from a plain event, which is no shock, no habit, and has a line in the calendar.
 * @param apply returns false when the event was not due
 */
export function eventRule<Body extends { readonly kind: string }>(
  kind: Body["kind"],
  apply: (context: EventContext, event: OnDay<Body>) => unknown,
  differs: Partial<Omit<EventRule<Body>, "kind" | "apply">> = {},
): EventRule<Body> {
  return {
    kind,
    apply: (context, event) => apply(context, event) !== false,
    isShock: () => false,
    isHabit: () => false,
    inCalendar: true,
    ...differs,
  };
}
