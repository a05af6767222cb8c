// Record of the water during one outage and just after it, from the accepted steps of the solver.

import type { AcceptedStep } from "../../../sim/integrators/integrator.ts";
import { HOURS_PER_DAY, SECONDS_PER_DAY } from "../../../sim/time.ts";
import type { ClosedFilterAfter, OnDay } from "../management.ts";
import { soluteDiffusivity } from "../reactor/transport.ts";
import type { NitrogenModel } from "../tank/nitrogen-model.ts";
import { type OperatingState, wettedAreas } from "../tank/operating-state.ts";
import type { Snapshot } from "../tank/snapshot.ts";

const EVERY_H = 0.25;
/** Time for which the record continues after the flow returns, to show the arrival of stale and cold water [h]. */
const AFTER_H = 6;
/** Below this concentration water counts as anoxic [g/m³] (half-saturations of nitrifiers, `parameters.ts`). */
export const ANOXIC_G_PER_M3 = 0.5;
/** Below this concentration nitrate counts as gone [g N/m³] (half-saturation of denitrifiers, `parameters.ts`). */
export const NITRATE_GONE_G_PER_M3 = 0.5;

/** A power cut, or a return pump that stops. */
export interface PowerCut {
  readonly kind: "power cut";
  readonly hours: number;
  /** Time for which the return pump does not turn after the power is back [h]; 0 = it starts. */
  readonly pumpStuckHours: number;
  /** false: only the pump has stopped; heater and air still run. */
  readonly everythingOff: boolean;
  readonly batteryAir: boolean;
  /** Air of that pump [m3/h]; a small pump where it is left out. */
  readonly batteryAirM3PerH?: number;
  readonly stirEveryHours: number | null;
  readonly mistEveryHours: number | null;
  readonly room: { readonly temperatureC: number; readonly relativeHumidity: number } | null;
  readonly towerOpen: boolean;
  /** Whether animals get their meals during the outage. */
  readonly fedMeanwhile: boolean;
  /**
   * What happens to closed filters when the power returns: they restart with their stale water, are emptied and rinsed,
   * or stay off.
   */
  readonly closedFilter: ClosedFilterAfter;
}

export type PlannedCut = OnDay<PowerCut>;

/** Hours without flow: without power, and with power while the pump does not turn. */
export const stillHours = ({ hours, pumpStuckHours }: { readonly hours: number; readonly pumpStuckHours: number }): number =>
  hours + pumpStuckHours;

/** Oxygen flux from the water into a film in a state [g/(m² d)]. */
function oxygenUptakeGPerM2Day({ layout }: NitrogenModel, { y, operating }: Watched, film: number): number {
  const { cell, boundaryM } = layout.wiring.films[film];
  const velocity = (soluteDiffusivity("o2", operating.temperatureC[cell]) * SECONDS_PER_DAY) / boundaryM;
  return Math.max(0, velocity * (y[layout.cellIndex(cell, "o2")] - y[layout.filmIndex(film, "o2")]));
}

/** The recorded run, as it continues. */
interface Watched {
  readonly aquarium: NitrogenModel;
  readonly y: Readonly<Float64Array>;
  readonly operating: OperatingState;
}

export class OutageRecord {
  readonly event: PlannedCut;
  /** The state before the pump stopped. */
  readonly before: Snapshot;
  /** For each film when the flow stopped: wetted area, oxygen uptake [g/(m² d)], and nitrate in the water over it [g N/m³]. */
  readonly films: readonly { readonly areaM2: number; readonly o2GPerM2Day: number; readonly no3GPerM3: number }[];
  /** Hours since the start of the outage, one per sample. */
  readonly hours: number[] = [];
  /** [sample][cell]: oxygen [g/m³], nitrate [g N/m³], temperature [°C]. */
  readonly oxygen: Float64Array[] = [];
  readonly nitrate: Float64Array[] = [];
  readonly temperatureC: Float64Array[] = [];
  private backAt: number | null = null;
  private readonly watched: Watched;
  private readonly scratch: Float64Array;
  private next = 0;

  constructor(watched: Watched, event: PlannedCut, before: Snapshot) {
    this.watched = watched;
    this.event = event;
    this.before = before;
    this.scratch = new Float64Array(watched.y.length);
    const { layout } = watched.aquarium;
    const areasM2 = wettedAreas(watched.aquarium, watched.operating);
    this.films = layout.wiring.films.map(({ cell }, f) => ({
      areaM2: areasM2[f],
      o2GPerM2Day: oxygenUptakeGPerM2Day(watched.aquarium, watched, f),
      no3GPerM3: watched.y[layout.cellIndex(cell, "no3")],
    }));
  }

  /** Records the samples within a step, up to the time of the next event, which is excluded. */
  read(step: AcceptedStep, until: number): void {
    const lastH = stillHours(this.event) + AFTER_H;
    for (let day = this.dayOf(this.next); day <= step.t1 && day < until; day = this.dayOf(this.next)) {
      if (this.next * EVERY_H > lastH) return;
      if (day >= step.t0) {
        step.at(day, this.scratch);
        this.take(this.next * EVERY_H, this.scratch);
      }
      this.next++;
    }
  }

  /** Ends the outage when the flow returns, with its last sample. */
  end(): void {
    this.take(stillHours(this.event), this.watched.y);
    this.backAt = this.hours.length;
  }

  /** Number of samples during the outage; those after it follow. */
  get inCut(): number {
    return this.backAt ?? this.hours.length;
  }

  /** Hours of the outage in which a cell's water had neither oxygen nor nitrate, so that sulphide could form. */
  anoxicHours(cell: number, untilH = stillHours(this.event)): number {
    let sum = 0;
    for (let i = 1; i < this.inCut && this.hours[i] <= untilH; i++)
      if (this.oxygen[i][cell] < ANOXIC_G_PER_M3 && this.nitrate[i][cell] < NITRATE_GONE_G_PER_M3)
        sum += this.hours[i] - this.hours[i - 1];
    return sum;
  }

  private dayOf(sample: number): number {
    return this.event.day + (sample * EVERY_H) / HOURS_PER_DAY;
  }

  private take(hours: number, state: Readonly<Float64Array>): void {
    const { layout, cells } = this.watched.aquarium;
    const of = (substance: "o2" | "no3") => Float64Array.from(cells, (_, c) => state[layout.cellIndex(c, substance)]);
    this.hours.push(hours);
    this.oxygen.push(of("o2"));
    this.nitrate.push(of("no3"));
    this.temperatureC.push(Float64Array.from(this.watched.operating.temperatureC));
  }
}
