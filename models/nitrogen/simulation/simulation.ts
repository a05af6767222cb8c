// Runs the plan of an aquarium: integrates from one event to the next.
import type { Outcome } from "../../../sim/integrators/outcome.ts";
import type { RunStatistics } from "../../../sim/integrators/problem.ts";
import { applyEvent, type Plan } from "../events/all.ts";
import { type ChallengeResult, ChallengeTest } from "../operation/challenge-test.ts";
import { Feeding } from "../operation/feeding.ts";
import type { OutageRecord } from "../operation/outage-record.ts";
import { followPads, type SolidsInventory } from "../operation/pads-and-sediment.ts";
import type { OutageOptions } from "../operation/power-cut.ts";
import { RunState, type TimelineEntry } from "../operation/run-state.ts";
import { WaterHeat } from "../operation/water-heat.ts";
import { type Inventory, inventory, type Ledger } from "../reactor/inventory.ts";
import type { BiofilmStock } from "../tank/biofilm-stock.ts";
import type { NitrogenModel } from "../tank/nitrogen-model.ts";
import type { OperatingState } from "../tank/operating-state.ts";
import type { SampledState, Snapshot } from "../tank/snapshot.ts";
import { Samples } from "./samples.ts";

/** A nitrogen model with the plan of its run. */
export type PlannedModel = NitrogenModel<Plan>;

export interface RunOptions extends OutageOptions {
  readonly outputsPerDay: number;
  readonly relative: number;
  /** The biofilm stock at the start (see `tank/biofilm-stock.ts`), in fresh water; or a snapshot of another run. */
  readonly begin: BiofilmStock | Snapshot;
  /** Distribute each day's food evenly instead of in meals: a third of the steps, without the daily variation. */
  readonly evenFeeding?: boolean;
  /** The challenge test of a fishless cycle; `provenDay` is the day on which it is passed. */
  readonly proof?: ChallengeResult;
}

export interface Run {
  readonly days: readonly number[];
  /** State at each time, pH of each cell, and chloride. */
  readonly states: readonly Float64Array[];
  /** Operating state at each time; queries about an earlier state use it. */
  readonly operating: readonly OperatingState[];
  readonly ph: readonly Float64Array[];
  readonly chloride: readonly number[];
  readonly foodGPerDay: readonly number[];
  readonly solidsInventory: readonly SolidsInventory[];
  readonly marks: readonly TimelineEntry[];
  /** Records of all outages. */
  readonly cuts: readonly OutageRecord[];
  /** The last state, from which another run can continue. */
  readonly ending: Snapshot;
  readonly ledger: Ledger;
  /** Ledger of the inert solids, and their amount at the start and at the end [g]. */
  readonly solids: Ledger;
  readonly inertG: { readonly start: number; readonly end: number };
  readonly start: Inventory;
  readonly end: Inventory;
  /** Day on which the challenge test was passed; null when it was not, or not requested. */
  readonly provenDay: number | null;
  readonly outcome: Outcome;
  readonly statistics: RunStatistics;
  readonly aquarium: PlannedModel;
}

/** State and operating state of output point n of a run. */
export const sampledState = (run: Run, n: number): SampledState => ({ y: run.states[n], operating: run.operating[n] });

/** Runs the plan of an aquarium. A failure is a value in `outcome`; the results up to that time are kept. */
export function runSimulation(aquarium: PlannedModel, options: RunOptions): Run {
  const { management } = aquarium;
  const runState =
    "operating" in options.begin
      ? RunState.from(aquarium, options.begin, options.relative)
      : RunState.fresh(aquarium, options.begin, options.relative);
  const start = inventory(runState.system, runState.y);
  const inertStartG = total(runState.solids.inertG);
  const feeding = new Feeding(
    runState,
    management.events.filter((event) => event.kind === "power cut"),
    options.evenFeeding ?? false,
  );
  const challengeTest = new ChallengeTest(runState, options.proof);
  const samples = new Samples(runState, () => feeding.foodGPerDay, options.outputsPerDay);
  const context = { run: runState, feeding, challengeTest, outage: options };
  for (const event of management.events)
    if (event.day <= management.days) runState.eventQueue.at(event.day, () => applyEvent(context, event));
  feeding.schedule();
  if (options.runningHeat) {
    runState.heat = new WaterHeat(runState, options.runningHeat);
    runState.heat.begin(0);
  }

  const { t, outcome } = passDays(runState, samples);
  samples.keep(t, runState.y);
  const { days, states, operating, ph, chloride, foodGPerDay, solidsInventory } = samples;
  const { marks, ledger, solidsLedger, cuts, statistics } = runState;
  return {
    days,
    states,
    operating,
    ph,
    chloride,
    foodGPerDay,
    solidsInventory,
    marks,
    cuts,
    ending: runState.snapshot(t),
    ledger,
    solids: solidsLedger,
    inertG: { start: inertStartG, end: total(runState.solids.inertG) },
    start,
    end: inventory(runState.system, runState.y),
    provenDay: challengeTest.provenDay,
    outcome,
    statistics,
    aquarium,
  };
}

const total = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

/** Integrates from event to event until the last day. @returns the time reached, and the outcome */
function passDays(runState: RunState, samples: Samples): { readonly t: number; readonly outcome: Outcome } {
  const { eventQueue: moments } = runState;
  const { days } = runState.aquarium.management;
  let t = 0;
  let outcome: Outcome = { status: "finished", t };
  for (;;) {
    const next = Math.min(moments.nextDay, days);
    if (next > t) {
      outcome = runState.advance(t, next, (step) => {
        samples.read(step, next);
        runState.outageRecord?.read(step, next);
        return undefined;
      });
      if (outcome.status !== "finished") return { t, outcome };
      t = next;
    }
    if (moments.nextDay > days) return { t, outcome };
    moments.doAllUntil(t);
    followPads(runState);
    if (t >= days) return { t, outcome };
  }
}

export type { StopAndStart } from "../operation/power-cut.ts";
export type { BiofilmStock } from "../tank/biofilm-stock.ts";
