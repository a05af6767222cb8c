// Warmth of the running water, where it is not simply kept: it follows room, pump, lamps and a heater of limited power.
import { HOURS_PER_DAY } from "../../../sim/time.ts";
import type { EventQueue } from "./event-queue.ts";
import type { RunState } from "./run-state.ts";

/**
 * The equations get a new temperature when some water has changed by this much [K]: each is a new start for the solver. Its middle stands for the
 * piece, so rates are off by a quarter of a kelvin at most, some 2 %.
 */
const PIECE_K = 0.5;
/** A piece is no longer than this [d]. */
const LONGEST_PIECE_DAYS = 2;
const STEP_H = 1;
/** Water that changes by less in an hour rests [K]. */
const AT_REST_K = 1e-5;

/** What the running heat balance says. */
export interface RunningHeat {
  /** Whether the room is the same at every hour under this weather. */
  even(weather: RunState["operating"]["weather"]): boolean;
  /** Temperatures of all cells an hour (or part of one) later, and the mean power of the heater. */
  next(operating: RunState["operating"], temperatureC: readonly number[], day: number, hours: number): readonly number[];
}

/** Follows the heat balance in pieces, each at its mean temperature; what happens between is told to it by `changed` and `stopped`. */
export class WaterHeat {
  private readonly run: RunState;
  private readonly moments: EventQueue;
  private readonly heat: RunningHeat;
  /** Path of the present piece: its first day and the temperatures of every hour from it. Null while the pump stands. */
  private path: { readonly fromDay: number; readonly hourly: readonly (readonly number[])[] } | null = null;
  /** Which piece is under way: moments of earlier ones do nothing. */
  private piece = 0;

  constructor(run: RunState, heat: RunningHeat) {
    this.run = run;
    this.moments = run.moments;
    this.heat = heat;
  }

  /** Begins from the temperatures that the water has now. */
  begin(day: number): void {
    this.follow(day, this.run.operating.temperatureC);
  }

  /** Room, set-point or volumes have changed. */
  changed(day: number): void {
    if (this.path !== null) this.follow(day, this.temperatureC(day));
  }

  /** The pump stands: others take the temperatures on from here. */
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
    const hourly = [from];
    let largest = 0;
    let resting = false;
    while (largest < PIECE_K && hourly.length <= LONGEST_PIECE_DAYS * HOURS_PER_DAY) {
      const now = hourly[hourly.length - 1];
      const next = heat.next(operating, now, fromDay + ((hourly.length - 1) * STEP_H) / HOURS_PER_DAY, STEP_H);
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
