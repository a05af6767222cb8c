// The declaration of one kind of planned event. Each kind is a module in this folder; `all.ts` lists them.
import type { OnDay } from "../management.ts";
import type { ChallengeTest } from "../operation/challenge-test.ts";
import type { Feeding } from "../operation/feeding.ts";
import type { OutageOptions } from "../operation/power-cut.ts";
import type { RunState } from "../operation/run-state.ts";

/** Objects on which an event may act. */
export interface EventContext {
  readonly run: RunState;
  readonly feeding: Feeding;
  readonly challengeTest: ChallengeTest;
  readonly outage: OutageOptions;
}

/**
 * One kind of event.
 * @typeParam Body its data: `kind`, and the values that the plan gives, in SI units
 */
export interface EventRule<Body extends { readonly kind: string }> {
  readonly kind: Body["kind"];
  /**
   * Applies the event. Book nitrogen that enters or leaves with `run.book`.
   * @returns false when it was not due, so that it is not recorded
   */
  apply(context: EventContext, event: OnDay<Body>): boolean;
  /** Whether it burdens or harms the filter, so that the result reports its effect. */
  isShock(event: Body): boolean;
  /** Whether it is a habit that a keeper continues after an outage. */
  isHabit(event: Body): boolean;
  /** Whether it has a line in the keeper's calendar: no for events that just happen, such as a simulated power cut. */
  readonly inCalendar: boolean;
}

/**
 * Creates a rule from its action and from what differs from a plain event, which is no shock, no habit, and has a line
 * in the calendar.
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
