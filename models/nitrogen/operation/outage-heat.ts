// Temperature during and after an outage: heat moves with the water, the stagnant cells cool, the heater warms all of it again.
import { HOURS_PER_DAY } from "../../../sim/time.ts";
import type { OutageRecord, PlannedCut } from "./outage-record.ts";
import type { RunState } from "./run-state.ts";

/**
 * Temperatures follow a curve in steps of an hour or more, each at its mean, as long as they change by less than this
 * within a step [K].
 */
const PIECE_K = 0.3;
const LONGEST_PIECE_H = 8;
/** Warming up ends when all water is this close to the set-point [K], or after this time [h]. */
const WARM_WITHIN_K = 0.1;
const WARMING_H = 48;

/** Temperatures of all cells over the hours [°C]. */
export interface HeatCurve {
  at(hours: number): readonly number[];
}

/** Results of the heat balance from given temperatures on, one per cell. */
export interface OutageHeat {
  /** Without flow. */
  cooling(event: PlannedCut, startC: readonly number[], setpointC: number): HeatCurve;
  /** With everything running and the heater on. */
  warming(startC: readonly number[], setpointC: number): HeatCurve;
}

/**
 * Temperatures after water has moved, with its heat (density and heat capacity are taken as equal everywhere). Computed
 * with differences from the mean, so that no heat is lost where shares and volumes disagree slightly, and uniform water
 * stays uniform.
 * @param share share[to][from] of each cell's water, with a last row for the floor
 */
export function mixedTemperaturesC(
  share: readonly (readonly number[])[],
  fromM3: readonly number[],
  toM3: readonly number[],
  temperatureC: readonly number[],
): number[] {
  const mean = temperatureC.reduce((sum, t, c) => sum + t * fromM3[c], 0) / fromM3.reduce((a, b) => a + b, 0);
  return toM3.map(
    (volume, to) => mean + temperatureC.reduce((sum, t, from) => sum + share[to][from] * fromM3[from] * (t - mean), 0) / volume,
  );
}

/** Lets the temperatures follow a curve in steps for some hours; ends early when another outage begins. */
export function followHeat(runState: RunState, record: OutageRecord, curve: HeatCurve, fromDay: number, hours: number): void {
  const { eventQueue: moments, cuts } = runState;
  for (let h = 0; h < hours; ) {
    const now = curve.at(h);
    let piece = 1;
    while (piece < LONGEST_PIECE_H && curve.at(h + 2 * piece).every((t, c) => Math.abs(t - now[c]) < PIECE_K)) piece *= 2;
    const middle = curve.at(Math.min(hours, h + piece / 2));
    moments.at(fromDay + h / HOURS_PER_DAY, () => {
      if (cuts[cuts.length - 1] === record) runState.operate({ temperatureC: middle });
    });
    h += piece;
  }
}

/** After the restart the water mixes, and the heater warms it to the set-point. */
export function warmUp(runState: RunState, record: OutageRecord, heat: OutageHeat, day: number): void {
  const { operating, eventQueue: moments, cuts } = runState;
  const { setpointC } = operating;
  const curve = heat.warming(operating.temperatureC, setpointC);
  const cold = (h: number): boolean => curve.at(h).some((t) => Math.abs(t - setpointC) > WARM_WITHIN_K);
  let hours = 0;
  while (hours < WARMING_H && cold(hours)) hours++;
  followHeat(runState, record, curve, day, hours);
  moments.at(day + hours / HOURS_PER_DAY, () => {
    const { temperatureC, setpointC: now } = runState.operating;
    if (cuts[cuts.length - 1] === record) runState.operate({ temperatureC: temperatureC.map(() => now) });
  });
}
