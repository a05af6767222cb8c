// Temperature of the running water when it is not held constant: it follows room, pump, lamps and a heater of limited power.
import { failure, GaveUpError } from "../../../sim/integrators/outcome.ts";
import { HOURS_PER_DAY } from "../../../sim/time.ts";
import { freezingC } from "../../water/freezing.ts";
import type { EventQueue } from "./event-queue.ts";
import type { RunState } from "./run-state.ts";

/**
 * Change of a cell's temperature after which the equations get new temperatures [K]; each update restarts the solver.
 * The mean temperature applies over the interval, so the error is at most a quarter of a kelvin, about 2 % of a rate.
 */
const PIECE_K = 0.5;
/** Longest interval between two updates [d]. */
const LONGEST_PIECE_DAYS = 2;
const STEP_H = 1;
/** No animal or bacterium of an aquarium lives in water this warm, and the relations for evaporation end here (modelling assumption) [°C]. */
const HOTTEST_C = 60;
/** Change within one hour below which a temperature counts as steady [K]. */
const AT_REST_K = 1e-5;

/** Heat balance of the running system, as the nitrogen simulation uses it. */
export interface RunningHeat {
  /** Whether this weather gives constant room temperatures over the day. */
  even(weather: RunState["operating"]["weather"]): boolean;
  /** Temperatures of all cells after `hours`, from `day` on [°C], in the order of the cells. */
  next(operating: RunState["operating"], temperatureC: readonly number[], day: number, hours: number): readonly number[];
}

/**
 * Integrates the heat balance in intervals, each with its mean temperature. Water at its freezing point stays at it: freezing releases the
 * heat of eighty kelvin of cooling. Ice itself is not modelled (modelling assumption). `changed` and `stopped` report events within
 * an interval.
 */
export class WaterHeat {
  private readonly run: RunState;
  private readonly moments: EventQueue;
  private readonly heat: RunningHeat;
  /** Current interval: its first day and the temperatures of every hour since. Null while the pump is off. */
  private path: { readonly fromDay: number; readonly hourly: readonly (readonly number[])[] } | null = null;
  /** Number of the current interval; scheduled updates of earlier intervals have no effect. */
  private piece = 0;

  constructor(run: RunState, heat: RunningHeat) {
    this.run = run;
    this.moments = run.eventQueue;
    this.heat = heat;
  }

  /** Starts from the current water temperatures. */
  begin(day: number): void {
    this.follow(day, this.run.operating.temperatureC);
  }

  /** Call after a change of room, set-point or volumes. */
  changed(day: number): void {
    if (this.path !== null) this.follow(day, this.temperatureC(day));
  }

  /** Call when a share of the water has been replaced by water of another temperature; while the pump is off, that brings no heat. */
  diluted(day: number, share: number, withC: number): void {
    if (this.path === null) return;
    this.follow(
      day,
      this.temperatureC(day).map((t) => t + share * (withC - t)),
    );
  }

  /** Call when the pump stops: the heat balance of the outage takes over the temperatures. */
  stopped(day: number): void {
    if (this.path === null) return;
    const temperatureC = this.temperatureC(day);
    this.path = null;
    this.piece++;
    this.run.operate({ temperatureC });
  }

  private temperatureC(day: number): readonly number[] {
    const { fromDay, hourly } = this.path!;
    const x = Math.min(Math.max(((day - fromDay) * HOURS_PER_DAY) / STEP_H, 0), hourly.length - 1);
    const i = Math.min(Math.floor(x), hourly.length - 2);
    return hourly[i].map((t, c) => t + (x - i) * (hourly[i + 1][c] - t));
  }

  private follow(fromDay: number, from: readonly number[]): void {
    const { run, heat } = this;
    const { operating } = run;
    const freezesAtC = freezingC(operating.salinityGPerKg);
    const hourly = [from];
    let largest = 0;
    let resting = false;
    while (largest < PIECE_K && hourly.length <= LONGEST_PIECE_DAYS * HOURS_PER_DAY) {
      const now = hourly[hourly.length - 1];
      const next = heat
        .next(operating, now, fromDay + ((hourly.length - 1) * STEP_H) / HOURS_PER_DAY, STEP_H)
        .map((t) => Math.max(t, freezesAtC));
      if (Math.max(...next) > HOTTEST_C)
        throw new GaveUpError(
          `the heat of lamps, pump and room warms the water above ${HOTTEST_C} °C`,
          failure(fromDay, "bad-input", `on about day ${Math.round(fromDay)}`),
        );
      hourly.push(next);
      largest = Math.max(...next.map((t, c) => Math.abs(t - from[c])));
      resting = heat.even(operating.weather) && next.every((t, c) => Math.abs(t - now[c]) < AT_REST_K);
      if (resting) break;
    }
    this.path = { fromDay, hourly };
    const mean = from.map((_, c) => hourly.reduce((sum, at) => sum + at[c], 0) / hourly.length);
    if (mean.some((t, c) => Math.abs(t - operating.temperatureC[c]) > 0.25 * PIECE_K)) run.operate({ temperatureC: mean });
    const piece = ++this.piece;
    if (resting) return;
    const untilDay = fromDay + ((hourly.length - 1) * STEP_H) / HOURS_PER_DAY;
    this.moments.at(untilDay, () => {
      if (this.piece === piece) this.follow(untilDay, hourly[hourly.length - 1]);
    });
  }
}
