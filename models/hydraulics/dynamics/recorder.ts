// Records a transient: samples for the drawing, extremes, spills.

import type { AcceptedStep } from "../../../sim/integrators/integrator.ts";
import type { Extreme, Spill, Trace } from "../types.ts";
import type { HydraulicSystem } from "./system.ts";
import { WaterTracer } from "./tracer.ts";

const MOST_SAMPLES = 400;
/** Steps longer than this are also sampled inside [s]. */
const LONG_STEP_S = 0.25;
const SETTLED_M = 1e-3;
/** Smaller volumes do not count as a spill [m³]. */
const LEAST_SPILL_M3 = 1e-9;

interface Sample {
  readonly t: number;
  readonly levels: Float64Array;
  readonly volumes: Float64Array;
  readonly flows: Float64Array;
}

/** Observes accepted steps. Call `start` once and `step` for each step, then read the results. */
export class Recorder {
  private readonly system: HydraulicSystem;
  private readonly keepTrace: boolean;
  private readonly samples: Sample[] = [];
  private readonly highest: Extreme[] = [];
  private readonly lowest: Extreme[] = [];
  private readonly spillLinks: readonly number[];
  private readonly spills: { volumeM3: number; firstS: number; lastS: number }[];
  private readonly moved: Float64Array;
  private readonly state: Float64Array;
  readonly tracer: WaterTracer | null;
  private firstTotal = 0;
  /** Largest drift of the total water volume [m³]. */
  driftM3 = 0;

  constructor(system: HydraulicSystem, keepTrace: boolean, follow: boolean) {
    this.system = system;
    this.keepTrace = keepTrace;
    const { links, floor } = system.network;
    this.spillLinks = links.flatMap((link, n) => (link.to === floor ? [n] : []));
    this.spills = this.spillLinks.map(() => ({ volumeM3: 0, firstS: 0, lastS: 0 }));
    this.moved = new Float64Array(links.length);
    this.state = new Float64Array(system.size);
    this.tracer = follow ? new WaterTracer(system.network) : null;
  }

  start(t: number, y: Float64Array): void {
    this.firstTotal = this.system.total(y);
    this.look(t, y);
  }

  step(step: AcceptedStep): void {
    const { system, moved, state } = this;
    const span = step.t1 - step.t0;
    // Simpson's rule for the volume that each link carried.
    system.evaluate(step.y0);
    for (let n = 0; n < moved.length; n++) moved[n] = system.flows[n] * (span / 6);
    const inner = this.keepTrace && span > LONG_STEP_S ? 3 : 1;
    for (let k = 1; k <= inner; k++) {
      const t = step.t0 + (k / (inner + 1)) * span;
      step.at(t, state);
      system.keepAboveFloors(state);
      this.look(t, state);
      if (2 * k === inner + 1) for (let n = 0; n < moved.length; n++) moved[n] += system.flows[n] * ((4 * span) / 6);
    }
    // Where an event cuts a step short, its end is interpolated too.
    state.set(step.y1);
    system.keepAboveFloors(state);
    this.look(step.t1, state);
    for (let n = 0; n < moved.length; n++) moved[n] += system.flows[n] * (span / 6);
    this.driftM3 = Math.max(this.driftM3, Math.abs(system.total(step.y1) - this.firstTotal));
    this.countSpills(step);
    this.tracer?.advance(moved, step.y1);
  }

  private countSpills(step: AcceptedStep): void {
    const { floor } = this.system.network;
    const arrived = step.y1[floor] - step.y0[floor];
    if (arrived <= 0) return;
    let estimate = 0;
    for (const link of this.spillLinks) estimate += Math.max(0, this.moved[link]);
    if (estimate <= 0) return;
    this.spillLinks.forEach((link, k) => {
      const spill = this.spills[k];
      // The floor's gain is exact; it is distributed over the links.
      const part = (Math.max(0, this.moved[link]) / estimate) * arrived;
      if (part <= 0) return;
      if (spill.volumeM3 <= LEAST_SPILL_M3) spill.firstS = step.t0;
      spill.volumeM3 += part;
      spill.lastS = step.t1;
    });
  }

  private look(t: number, y: Float64Array): void {
    const { system, highest, lowest } = this;
    system.evaluate(y);
    for (let n = 0; n < system.size; n++) {
      const z = system.levels[n];
      if (!(highest[n]?.z >= z)) highest[n] = { z, tS: t };
      if (!(lowest[n]?.z <= z)) lowest[n] = { z, tS: t };
    }
    if (this.keepTrace)
      this.samples.push({
        t,
        levels: Float64Array.from(system.levels),
        volumes: Float64Array.from(y),
        flows: Float64Array.from(system.flows),
      });
  }

  extremes(): { highestZ: Record<string, Extreme>; lowestZ: Record<string, Extreme> } {
    return { highestZ: this.byVessel((n) => this.highest[n]), lowestZ: this.byVessel((n) => this.lowest[n]) };
  }

  spillList(): Spill[] {
    const { vessels, links } = this.system.network;
    return this.spillLinks.flatMap((link, k) => {
      const { volumeM3, firstS, lastS } = this.spills[k];
      return volumeM3 > LEAST_SPILL_M3 ? [{ vesselId: vessels[links[link].from].id, volumeM3, firstS, lastS }] : [];
    });
  }

  /** Time after which every level stays within 1 mm of its last value; the whole duration when no trace was kept [s]. */
  settledS(durationS: number): number {
    const last = this.samples.at(-1);
    if (!last) return durationS;
    for (let k = this.samples.length - 1; k >= 0; k--)
      if (this.samples[k].levels.some((z, n) => Math.abs(z - last.levels[n]) > SETTLED_M))
        return this.samples[Math.min(k + 1, this.samples.length - 1)].t;
    return 0;
  }

  /** At most 400 samples: evenly distributed, plus the highest and lowest level of every vessel. */
  trace(): Trace {
    const kept = this.thinned();
    const { links } = this.system.network;
    return {
      timesS: kept.map((sample) => sample.t),
      levelsZ: this.byVessel((n) => kept.map((sample) => sample.levels[n])),
      volumesM3: this.byVessel((n) => kept.map((sample) => sample.volumes[n])),
      flowsM3PerS: Object.fromEntries(links.map((link, n) => [link.id, kept.map((sample) => sample.flows[n])])),
    };
  }

  private thinned(): Sample[] {
    const { samples } = this;
    if (samples.length <= MOST_SAMPLES) return samples;
    const wanted = new Set<number>([0, samples.length - 1]);
    const timeIndex = new Map(samples.map((sample, k) => [sample.t, k]));
    for (const extreme of [...this.highest, ...this.lowest]) wanted.add(timeIndex.get(extreme.tS) ?? 0);
    const spare = MOST_SAMPLES - wanted.size;
    const end = samples[samples.length - 1].t;
    // Half of the samples by count, because short steps mean much movement, half by time.
    for (let k = 0; k < spare / 2; k++) wanted.add(Math.round((k / (spare / 2)) * (samples.length - 1)));
    let cursor = 0;
    for (let k = 0; k < spare / 2; k++) {
      const t = (k / (spare / 2)) * end;
      while (cursor < samples.length - 1 && samples[cursor].t < t) cursor++;
      wanted.add(cursor);
    }
    return [...wanted].sort((a, b) => a - b).map((k) => samples[k]);
  }

  private byVessel<T>(value: (n: number) => T): Record<string, T> {
    return Object.fromEntries(this.system.network.vessels.map((vessel, n) => [vessel.id, value(n)]));
  }
}
