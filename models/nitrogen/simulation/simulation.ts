// Days in the life of an aquarium: integrate between the moments when somebody does something.
import type { Outcome } from "../../../sim/integrators/outcome.ts";
import type { RunStatistics } from "../../../sim/integrators/problem.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { type Inventory, inventory, type Ledger } from "../reactor/inventory.ts";
import type { BiofilmStock } from "../tank/biofilm-stock.ts";
import type { NitrogenModel } from "../tank/nitrogen-model.ts";
import type { OperatingState } from "../tank/operating-state.ts";
import type { Snapshot } from "../tank/snapshot.ts";
import { applyEvent } from "./apply-event.ts";
import { type ChallengeResult, ChallengeTest } from "./challenge-test.ts";
import { Feeding } from "./feeding.ts";
import type { OutageRecord } from "./outage-record.ts";
import { followPads, type SolidsInventory } from "./pads-and-sediment.ts";
import type { OutageOptions } from "./power-cut.ts";
import { RunState, type TimelineEntry } from "./run-state.ts";
import { Samples } from "./samples.ts";

export interface RunOptions extends OutageOptions {
  readonly outputsPerDay: number;
  readonly relative: number;
  /** What is on the surfaces at the start (see `mature.ts`), in fresh water; or a moment of another run to go on from. */
  readonly begin: BiofilmStock | Snapshot;
  /** Spread each day's food evenly instead of in meals: a third of the steps, and the daily swing is lost. */
  readonly evenFeeding?: boolean;
  /** The keeper's test: once passed, dosing ends and the day is told in `provenDay`. */
  readonly proof?: ChallengeResult;
}

export interface Run {
  readonly days: readonly number[];
  /** State at each time, and the pH of each cell, temperature of each cell, chloride. */
  readonly states: readonly Float64Array[];
  readonly ph: readonly Float64Array[];
  readonly temperatures: readonly (readonly number[])[];
  readonly chloride: readonly number[];
  readonly foodGPerDay: readonly number[];
  readonly solidsInventory: readonly SolidsInventory[];
  readonly marks: readonly TimelineEntry[];
  /** Every power cut there was, closely watched. */
  readonly cuts: readonly OutageRecord[];
  /** The last moment, to go on from. */
  readonly ending: Snapshot;
  readonly ledger: Ledger;
  /** Books of the inert solids, and how much of them lay there at the start and lies there at the end [g]. */
  readonly solids: Ledger;
  readonly inertG: { readonly start: number; readonly end: number };
  readonly start: Inventory;
  readonly end: Inventory;
  /** Day on which the keeper's test was passed; null when it was not, or not asked for. */
  readonly provenDay: number | null;
  readonly outcome: Outcome;
  readonly statistics: RunStatistics;
  readonly aquarium: NitrogenModel;
  readonly operating: OperatingState;
}

/** Runs the husbandry's plan. The result carries a failure as a value in `outcome`; what was computed until then is kept. */
export function runSimulation(aquarium: NitrogenModel, options: RunOptions): Run {
  const { system, management } = aquarium;
  const runState =
    "operating" in options.begin ? RunState.from(aquarium, options.begin) : RunState.fresh(aquarium, options.begin);
  const start = inventory(system, runState.y);
  const inertStartG = total(runState.operating.inertG);
  const feeding = new Feeding(runState, options.evenFeeding ?? false);
  const proof = new ChallengeTest(runState, options.proof);
  const samples = new Samples(runState, () => feeding.foodGPerDay, options.outputsPerDay);
  const doing = { runState, feeding, proof, outage: options };
  for (const event of management.events)
    if (event.day <= management.days) runState.moments.at(event.day, () => applyEvent(doing, event));
  feeding.schedule();

  const solver = new StiffSolver(system, {
    tolerances: { relative: options.relative, absolute: system.absoluteTolerances() },
    nonNegative: system.neverNegative(),
    maxSteps: 200_000,
  });
  const { t, outcome } = passDays(runState, solver, samples);
  samples.keep(t, runState.y);
  const { days, states, ph, temperatures, chloride, foodGPerDay, solidsInventory } = samples;
  const { marks, ledger, solids, cuts, operating } = runState;
  const ending = runState.snapshot(t);
  const end = inventory(system, runState.y);
  runState.leaveRunning();
  return {
    days,
    states,
    ph,
    temperatures,
    chloride,
    foodGPerDay,
    solidsInventory,
    marks,
    cuts,
    ending,
    ledger,
    solids,
    inertG: { start: inertStartG, end: total(operating.inertG) },
    start,
    end,
    provenDay: proof.provenDay,
    outcome,
    statistics: solver.statistics,
    aquarium,
    operating,
  };
}

const total = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

/** From moment to moment to the last day. @returns the time reached, and how it ended */
function passDays(runState: RunState, solver: StiffSolver, samples: Samples): { readonly t: number; readonly outcome: Outcome } {
  const { y, moments } = runState;
  const { days } = runState.aquarium.management;
  let t = 0;
  let outcome: Outcome = { status: "finished", t };
  for (;;) {
    const next = Math.min(moments.nextDay, days);
    if (next > t) {
      outcome = solver.advance(t, next, y, (step) => {
        samples.read(step, next);
        runState.watched?.read(step, next);
        return undefined;
      });
      if (outcome.status !== "finished") return { t, outcome };
      t = next;
    }
    if (moments.nextDay > days) return { t, outcome };
    runState.discontinuous = false;
    moments.doAllUntil(t);
    followPads(runState);
    if (runState.discontinuous) solver.restart();
    if (t >= days) return { t, outcome };
  }
}

// Told here too for those who only run days.
export type { BiofilmStock } from "../tank/biofilm-stock.ts";
export type { StopAndStart } from "./power-cut.ts";
