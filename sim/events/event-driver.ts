// Runs any integrator from event to event. The class comment gives the rules.

import type { AcceptedStep, Integrator, Observer } from "../integrators/integrator.ts";
import { failure, type Outcome } from "../integrators/outcome.ts";
import type { RunStatistics } from "../integrators/problem.ts";
import {
  type EventOccurrence,
  firstTurn,
  hasCrossed,
  isPast,
  newSide,
  type SimulationEvent,
  type StateEvent,
  type TimedEvent,
  turnTime,
} from "./events.ts";
import { type Bracket, narrow } from "./locate.ts";

export interface EventDriverOptions {
  /**
   * Number of points per step, its end included, at which guards are evaluated, so that two crossings in one step are
   * found. Default 4.
   */
  readonly samples?: number;
  /** Number of events at one instant after which the run fails with the code "chattering". Default 50. */
  readonly chatterLimit?: number;
  readonly onEvent?: (occurrence: EventOccurrence) => void;
}

/** Events closer together than this fraction of an advance count as simultaneous. */
const INSTANT = 1e-12;
/** Times that differ by no more than this relative rounding error count as equal. */
const ROUNDING = 4 * Number.EPSILON;

/** A state event between its crossings. */
interface Watch {
  readonly event: StateEvent;
  /** Sign of the guard at its last evaluation; 0 while it has only been exactly zero. */
  side: number;
  armed: boolean;
  value: number;
  crossing: boolean;
  readonly bracket: Bracket;
}

/** A timed event and the number of its next occurrence. */
interface Clock {
  readonly event: TimedEvent;
  turn: number;
}

/**
 * An integrator that stops at events, lets the model change its state and mode there, and continues.
 *
 * - Guards are evaluated on accepted steps only, at several points inside each step.
 * - An event is located on the far side of its crossing, within 1e-12 of the step (or the rounding of t). After the event
 *   the guard therefore has its new sign, and the event cannot occur again before the guard has crossed back.
 * - Simultaneous events run by priority, then in order of declaration (a timed event runs before a crossing at the same
 *   time, since the crossing is located on its far side). Guards are evaluated again after each event, so an event that
 *   another one disarmed does not occur, and an event whose threshold a jump crossed does.
 * - After events the integrator restarts with a new first step and no memory of earlier steps.
 * - Too many events at one instant end the run as chattering; the failure names the event.
 * - A guard that is already past its crossing at the start is an input error.
 * - A timed event at the end of an advance belongs to the next advance.
 *
 * @throws Error at construction when a timed event has no finite time or no positive period
 */
export class EventDriver implements Integrator {
  readonly size: number;
  private readonly integrator: Integrator;
  private readonly options: EventDriverOptions;
  /** All events in the order in which they run at one instant. */
  private readonly ranked: readonly SimulationEvent[];
  private readonly watches: readonly Watch[];
  private readonly clocks: readonly Clock[];
  private readonly sample: Float64Array;
  private readonly before: Float64Array;
  private readonly partial: PartialStep;
  private started = false;
  private lastEventTime = Number.NEGATIVE_INFINITY;
  private atOneInstant = 0;

  constructor(integrator: Integrator, events: readonly SimulationEvent[], options: EventDriverOptions) {
    this.integrator = integrator;
    this.options = options;
    this.size = integrator.size;
    this.ranked = [...events].sort((a, b) => (a.priority ?? 0) - (b.priority ?? 0));
    this.watches = events
      .filter((event) => event.kind === "state")
      .map((event) => ({ event, side: 0, armed: false, value: 0, crossing: false, bracket: { left: 0, right: 0 } }));
    this.clocks = events.filter((event) => event.kind === "timed").map((event) => ({ event, turn: 0 }));
    for (const { event } of this.clocks)
      if (!Number.isFinite(event.at) || !((event.every ?? 1) > 0)) throw new Error(`event ${event.id} has no valid time`);
    this.sample = new Float64Array(this.size);
    this.before = new Float64Array(this.size);
    this.partial = new PartialStep(this.size);
  }

  get statistics(): RunStatistics {
    return this.integrator.statistics;
  }

  /**
   * Call this after the state or the time was changed from outside: guards and clocks are evaluated and checked as at a
   * start.
   */
  restart(): void {
    this.started = false;
    this.integrator.restart();
  }

  advance(t0: number, t1: number, y: Float64Array, observer?: Observer): Outcome {
    if (!this.started) {
      const early = this.start(t0, y);
      if (early) return early;
    }
    const instant = INSTANT * (t1 - t0);
    let observerStopped = false;
    const watchStep: Observer = (step) => {
      const crossing = this.findCrossing(step);
      const seen = crossing === undefined ? step : this.partial.cut(step, crossing);
      const stop = observer?.(seen);
      observerStopped = stop !== undefined && stop < (crossing ?? Number.POSITIVE_INFINITY);
      return observerStopped ? stop : crossing;
    };
    let t = t0;
    while (true) {
      let due = Number.POSITIVE_INFINITY;
      for (const { event, turn } of this.clocks) due = Math.min(due, turnTime(event, turn));
      const timedInside = due < t1 - ROUNDING * Math.abs(t1);
      const end = timedInside ? Math.max(t, due) : t1;
      if (end > t) {
        const outcome = this.integrator.advance(t, end, y, watchStep);
        if (outcome.status === "failed") return outcome;
        t = outcome.t;
        if (observerStopped) {
          for (const watch of this.watches) watch.side = newSide(watch.side, watch.event.guard(t, y));
          return outcome;
        }
      }
      const ending = this.react(
        t,
        y,
        timedInside && t >= end ? end + ROUNDING * Math.abs(end) : Number.NEGATIVE_INFINITY,
        instant,
      );
      if (ending) return ending;
      if (t >= t1) return { status: "finished", t: t1 };
    }
  }

  private start(t: number, y: Float64Array): Outcome | undefined {
    for (const clock of this.clocks) clock.turn = firstTurn(clock.event, t);
    for (const watch of this.watches) {
      const { event } = watch;
      const value = event.guard(t, y);
      watch.side = Math.sign(value);
      watch.armed = isArmed(event);
      if (watch.armed && isPast(event.direction, value))
        return failure(t, "bad-input", `at the start, "${event.label}" (${event.id}) has already happened`);
    }
    this.started = true;
    return undefined;
  }

  /** Earliest crossing of an armed guard in an accepted step, on its far side; undefined where there is none. */
  private findCrossing(step: AcceptedStep): number | undefined {
    if (this.watches.length === 0) return undefined;
    const samples = this.options.samples ?? 4;
    const { t0, t1 } = step;
    const tolerance = Math.max(1e-12 * (t1 - t0), ROUNDING * Math.abs(t1));
    for (let k = 1; k <= samples; k++) {
      const left = t0 + ((k - 1) / samples) * (t1 - t0);
      const right = k === samples ? t1 : t0 + (k / samples) * (t1 - t0);
      step.at(right, this.sample);
      let first = Number.POSITIVE_INFINITY;
      for (const watch of this.watches) {
        if (!watch.armed) continue;
        watch.value = watch.event.guard(right, this.sample);
        watch.crossing = hasCrossed(watch.event.direction, watch.side, watch.value);
        if (!watch.crossing) continue;
        this.locate(step, watch, left, right, tolerance);
        first = Math.min(first, watch.bracket.right);
      }
      if (first < Number.POSITIVE_INFINITY) {
        // Crossings that the tolerance cannot separate from the first are simultaneous: stop beyond all of them.
        let landing = first;
        for (const { armed, crossing, bracket } of this.watches)
          if (armed && crossing && bracket.left <= first) landing = Math.max(landing, bracket.right);
        return landing;
      }
      for (const watch of this.watches) if (watch.armed) watch.side = newSide(watch.side, watch.value);
    }
    return undefined;
  }

  private locate(step: AcceptedStep, watch: Watch, left: number, right: number, tolerance: number): void {
    const { event, side, bracket } = watch;
    const guard = (t: number) => {
      step.at(t, this.before);
      return event.guard(t, this.before);
    };
    bracket.left = left;
    bracket.right = right;
    narrow(bracket, guard(left), watch.value, tolerance, guard, (value) => hasCrossed(event.direction, side, value));
  }

  /**
   * Runs every crossing at t and every timed event up to `due`, in order.
   * @returns the outcome that ends the run, or undefined to continue
   */
  private react(t: number, y: Float64Array, due: number, instant: number): Outcome | undefined {
    const timed = new Set<SimulationEvent>();
    for (const clock of this.clocks) {
      if (turnTime(clock.event, clock.turn) > due) continue;
      clock.turn++;
      timed.add(clock.event);
    }
    let happened = false;
    while (true) {
      const crossed = this.findCrossed(t, y);
      const event = this.ranked.find((candidate) => timed.has(candidate) || crossed.has(candidate));
      if (event === undefined) break;
      timed.delete(event);
      if (t - this.lastEventTime > instant) this.atOneInstant = 0;
      this.lastEventTime = t;
      if (++this.atOneInstant > (this.options.chatterLimit ?? 50))
        return failure(
          t,
          "chattering",
          `"${event.label}" (${event.id}) keeps happening at one instant; it needs a mode or a dead band`,
        );
      const watch = crossed.get(event);
      if (watch) watch.side = newSide(watch.side, watch.value);
      this.before.set(y);
      const reaction = event.apply(t, y);
      happened = true;
      this.options.onEvent?.({ event, t, before: this.before, after: y });
      if (reaction === "stop") {
        this.integrator.restart();
        return { status: "stopped", t, event: event.id };
      }
    }
    if (happened) this.integrator.restart();
    return undefined;
  }

  /**
   * Evaluates the guards at this instant. Finds events that have crossed, or were armed when already past; updates the
   * sides of the others.
   */
  private findCrossed(t: number, y: Float64Array): Map<SimulationEvent, Watch> {
    const crossed = new Map<SimulationEvent, Watch>();
    for (const watch of this.watches) {
      const { event } = watch;
      const wasArmed = watch.armed;
      watch.armed = isArmed(event);
      watch.value = event.guard(t, y);
      if (!watch.armed) continue;
      if (!wasArmed) watch.side = Math.sign(watch.value) * (isPast(event.direction, watch.value) ? -1 : 1);
      if (hasCrossed(event.direction, watch.side, watch.value)) crossed.set(event, watch);
      else watch.side = newSide(watch.side, watch.value);
    }
    return crossed;
  }
}

function isArmed(event: StateEvent): boolean {
  return event.armed?.() ?? true;
}

/** The part of a step that precedes an event. */
class PartialStep implements AcceptedStep {
  t0 = 0;
  t1 = 0;
  y0: Float64Array;
  readonly y1: Float64Array;
  private whole: AcceptedStep | undefined;

  constructor(size: number) {
    this.y0 = new Float64Array(size);
    this.y1 = new Float64Array(size);
  }

  cut(step: AcceptedStep, end: number): this {
    this.whole = step;
    this.t0 = step.t0;
    this.t1 = end;
    this.y0 = step.y0;
    step.at(end, this.y1);
    return this;
  }

  at(t: number, out: Float64Array): void {
    this.whole?.at(t, out);
  }
}
