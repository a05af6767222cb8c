// One stage of an outage run: from a disturbance to rest, to steady running, or to a failure.

import { EventDriver } from "../../../sim/events/event-driver.ts";
import type { SimulationEvent } from "../../../sim/events/events.ts";
import { NonStiffSolver } from "../../../sim/integrators/nonstiff.ts";
import type { Outcome } from "../../../sim/integrators/outcome.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import type { Network } from "../network/network.ts";
import type { Ending, HydraulicEvent, LinkView, Transient, VesselView } from "../types.ts";
import { StiffHydraulics } from "./jacobian.ts";
import { initialiseModes, plumbingEvents } from "./mode-events.ts";
import { Recorder } from "./recorder.ts";
import { ReturnLineSolver } from "./return-line.ts";
import type { HydraulicSystem } from "./system.ts";

export interface StageOptions {
  readonly kind: Transient["kind"];
  /** Longest simulated time [s]. */
  readonly atMostS: number;
  /** Whether to end as soon as nothing moves; otherwise the whole time is simulated. */
  readonly untilStill: boolean;
  readonly keepTrace: boolean;
  /** Whether to compute the transfer matrix. */
  readonly follow: boolean;
  /** Default "stiff"; "odex" is the independent check, which is slow where chambers are connected under a baffle. */
  readonly integrator?: "stiff" | "odex";
  /** Relative tolerance of the integrator, and absolute in m³; default 1e-6. */
  readonly tolerance?: number;
  /** Events besides those of the plumbing: power off and on, hoses. */
  readonly planned?: readonly SimulationEvent[];
}

/** The system is at rest when every vessel changes by less than this [m³/s]: 60 mL per minute. */
const STILL_M3_PER_S = 1e-6;
const TOLERANCE = 1e-6;
/** Tolerance of the water in a return pipe, as a share of its content: the share of air decides whether the column parts. */
const COLUMN_SHARE = 5e-5;
const CUP_M = 1e-5;

/** Absolute tolerance of each volume [m³], in the order of the vessels. */
function absoluteM3({ vessels, returnLine, moreLines }: Network, tolerance: number): Float64Array {
  // A cup levels with its display over a drowned edge: what is under a hundredth of a millimetre in a tank is much in it.
  const each = Float64Array.from(vessels, ({ kind, areaM2 }) =>
    kind === "cup" ? Math.min(tolerance, (tolerance / TOLERANCE) * CUP_M * areaM2) : tolerance,
  );
  for (const { legVessel, crownZ } of [returnLine, ...moreLines].flatMap((line) => line?.legs ?? [])) {
    const { areaM2, bottomZ } = vessels[legVessel];
    each[legVessel] = Math.min(tolerance, (tolerance / TOLERANCE) * COLUMN_SHARE * areaM2 * (crownZ - bottomZ));
  }
  return each;
}

/**
 * Simulates the network from volumes `y` (changed in place to the end state) and from the present modes of the system.
 * The result is JSON-able. A run that cannot continue ends as "failed" with the reason and never throws.
 */
export function runStage(system: HydraulicSystem, y: Float64Array, options: StageOptions): Transient {
  const { network } = system;
  const log: HydraulicEvent[] = [];
  initialiseModes(system, y);
  system.keepAboveFloors(y);
  const startVolumesM3 = volumesById(system, y);
  const floorBefore = y[network.floor];
  const tolerance = options.tolerance ?? TOLERANCE;
  const { planned = [] } = options;
  const limits = {
    tolerances: { relative: tolerance, absolute: absoluteM3(network, tolerance) },
    maxSteps: 20_000,
    maxDerivatives: 400_000,
    project: (volumes: Float64Array) => system.keepAboveFloors(volumes),
  };
  const solver =
    options.integrator === "odex" ? new NonStiffSolver(system, limits) : new StiffSolver(new StiffHydraulics(system), limits);
  const driver = new EventDriver(solver, [...plumbingEvents(system, log), ...planned.map((event) => logged(event, log))], {
    samples: 2,
  });
  const recorder = new Recorder(system, options.keepTrace, options.follow);
  recorder.start(0, y);
  const rate = new Float64Array(system.size);
  // A timed event that is still to come may move the water again.
  const lastTimed = Math.max(-1, ...planned.map((event) => (event.kind === "timed" ? event.at : -1)));
  const outcome = driver.advance(0, options.atMostS, y, (step) => {
    recorder.step(step);
    if (!options.untilStill) return undefined;
    return step.t1 > lastTimed && largestRate(system, step.y1, rate) < STILL_M3_PER_S ? step.t1 : undefined;
  });
  const { ending, endingNote } = describeEnd(system, y, outcome, rate);
  return {
    kind: options.kind,
    vessels: network.vessels.map(({ curve: _, ...view }) => view),
    links: network.links.map(({ id, name, from, to }) => ({
      id,
      name,
      from: network.vessels[from].id,
      to: network.vessels[to].id,
    })),
    durationS: outcome.t,
    trace: recorder.trace(),
    events: log,
    ending,
    endingNote,
    settledS: recorder.settledS(outcome.t),
    startVolumesM3,
    endVolumesM3: volumesById(system, y),
    ...recorder.extremes(),
    spills: recorder.spillList(),
    spilledM3: y[network.floor] - floorBefore,
    transfer: recorder.tracer?.transfer() ?? null,
    waterDriftM3: recorder.driftM3,
    statistics: {
      steps: solver.statistics.steps,
      derivatives: solver.statistics.derivatives,
      rejected: solver.statistics.rejected,
    },
  };
}

/** A planned event that also records a line of the run. */
const logged = (event: SimulationEvent, log: HydraulicEvent[]): SimulationEvent => ({
  ...event,
  apply(t, y) {
    log.push({ tS: t, id: event.id, label: event.label });
    return event.apply(t, y);
  },
});

function largestRate(system: HydraulicSystem, y: Float64Array, rate: Float64Array): number {
  system.derivative(0, y, rate);
  let largest = 0;
  for (let n = 0; n < rate.length; n++)
    if (system.network.vessels[n].kind !== "air") largest = Math.max(largest, Math.abs(rate[n]));
  return largest;
}

function describeEnd(
  system: HydraulicSystem,
  y: Float64Array,
  outcome: Outcome,
  rate: Float64Array,
): { ending: Ending; endingNote: string } {
  if (outcome.status === "failed") return { ending: "failed", endingNote: outcome.message };
  const largest = largestRate(system, y, rate);
  const turning = system.lines.filter(({ modes }) => modes.pumpOn && !modes.hoseOff);
  const pumping = turning.length > 0;
  const share = turning.reduce(
    (least, { line }) => Math.min(least, ReturnLineSolver.waterShare(line, system.levels[line.source])),
    1,
  );
  if (share < 0.98)
    return {
      ending: "hunting",
      endingNote: "the pump draws air: it passes only what reaches it, and the level hunts about the intake",
    };
  if (largest < STILL_M3_PER_S)
    return pumping
      ? { ending: "steady", endingNote: "levels and flows are constant" }
      : { ending: "at rest", endingNote: "nothing moves" };
  const busiest = rate.reduce((best, value, n) => (Math.abs(value) > Math.abs(rate[best]) ? n : best), 0);
  const direction = rate[busiest] > 0 ? "rising" : "falling";
  return { ending: "still moving", endingNote: `${system.network.vessels[busiest].name} was still ${direction}` };
}

export function networkVessels(network: Network): VesselView[] {
  return network.vessels.map(({ curve: _, ...view }) => view);
}

export function networkLinks(network: Network): LinkView[] {
  return network.links.map(({ id, name, from, to }) => ({
    id,
    name,
    from: network.vessels[from].id,
    to: network.vessels[to].id,
  }));
}

export function volumesById(system: HydraulicSystem, y: Float64Array): Record<string, number> {
  return Object.fromEntries(system.network.vessels.map((vessel, n) => [vessel.id, y[n]]));
}
