// Days in the life of an aquarium: integrate between the moments when somebody does something.
import type { Outcome } from "../../../sim/integrators/outcome.ts";
import type { RunStatistics } from "../../../sim/integrators/problem.ts";
import { StiffSolver } from "../../../sim/integrators/stiff.ts";
import { type Inventory, inventory, type Ledger } from "../reactor/inventory.ts";
import type { Colony } from "../tank/biofilm-stock.ts";
import type { Aquarium } from "../tank/nitrogen-model.ts";
import type { Upkeep } from "../tank/operating-state.ts";
import type { Snapshot } from "../tank/snapshot.ts";
import { doEvent } from "./apply-event.ts";
import { type Proof, ProofByDose } from "./challenge-test.ts";
import { Feeding } from "./feeding.ts";
import type { CutRecord } from "./outage-record.ts";
import { type Dirt, followPads } from "./pads-and-sediment.ts";
import type { OutageOptions } from "./power-cut.ts";
import { Keeping, type Mark } from "./run-state.ts";
import { Samples } from "./samples.ts";

export interface RunOptions extends OutageOptions {
  readonly outputsPerDay: number;
  readonly relative: number;
  /** What is on the surfaces at the start (see `mature.ts`), in fresh water; or a moment of another run to go on from. */
  readonly begin: Colony | Snapshot;
  /** Spread each day's food evenly instead of in meals: a third of the steps, and the daily swing is lost. */
  readonly evenFeeding?: boolean;
  /** The keeper's test: once passed, dosing ends and the day is told in `provenDay`. */
  readonly proof?: Proof;
}

export interface Run {
  readonly days: readonly number[];
  /** State at each time, and the pH of each cell, temperature of each cell, chloride. */
  readonly states: readonly Float64Array[];
  readonly ph: readonly Float64Array[];
  readonly temperatures: readonly (readonly number[])[];
  readonly chloride: readonly number[];
  readonly foodGPerDay: readonly number[];
  readonly dirt: readonly Dirt[];
  readonly marks: readonly Mark[];
  /** Every power cut there was, closely watched. */
  readonly cuts: readonly CutRecord[];
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
  readonly aquarium: Aquarium;
  readonly upkeep: Upkeep;
}

/** Runs the husbandry's plan. The result carries a failure as a value in `outcome`; what was computed until then is kept. */
export function runTimeline(aquarium: Aquarium, options: RunOptions): Run {
  const { system, husbandry } = aquarium;
  const keeping = "upkeep" in options.begin ? Keeping.from(aquarium, options.begin) : Keeping.fresh(aquarium, options.begin);
  const start = inventory(system, keeping.y);
  const inertStartG = total(keeping.upkeep.inertG);
  const feeding = new Feeding(keeping, options.evenFeeding ?? false);
  const proof = new ProofByDose(keeping, options.proof);
  const samples = new Samples(keeping, () => feeding.foodGPerDay, options.outputsPerDay);
  const doing = { keeping, feeding, proof, outage: options };
  for (const event of husbandry.events)
    if (event.day <= husbandry.days) keeping.moments.at(event.day, () => doEvent(doing, event));
  feeding.schedule();

  const solver = new StiffSolver(system, {
    tolerances: { relative: options.relative, absolute: system.absoluteTolerances() },
    maxSteps: 200_000,
  });
  const { t, outcome } = passDays(keeping, solver, samples);
  samples.keep(t, keeping.y);
  const { days, states, ph, temperatures, chloride, foodGPerDay, dirt } = samples;
  const { marks, ledger, solids, cuts, upkeep } = keeping;
  const ending = keeping.snapshot(t);
  const end = inventory(system, keeping.y);
  keeping.leaveRunning();
  return {
    days,
    states,
    ph,
    temperatures,
    chloride,
    foodGPerDay,
    dirt,
    marks,
    cuts,
    ending,
    ledger,
    solids,
    inertG: { start: inertStartG, end: total(upkeep.inertG) },
    start,
    end,
    provenDay: proof.provenDay,
    outcome,
    statistics: solver.statistics,
    aquarium,
    upkeep,
  };
}

const total = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

/** From moment to moment to the last day. @returns the time reached, and how it ended */
function passDays(keeping: Keeping, solver: StiffSolver, samples: Samples): { readonly t: number; readonly outcome: Outcome } {
  const { y, moments } = keeping;
  const { days } = keeping.aquarium.husbandry;
  let t = 0;
  let outcome: Outcome = { status: "finished", t };
  for (;;) {
    const next = Math.min(moments.nextDay, days);
    if (next > t) {
      try {
        outcome = solver.advance(t, next, y, (step) => {
          samples.read(step, next);
          keeping.watched?.read(step, next);
          return undefined;
        });
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        outcome = { status: "failed", t, code: "not-finite", message: error.message };
      }
      if (outcome.status !== "finished") return { t, outcome };
      t = next;
    }
    if (moments.nextDay > days) return { t, outcome };
    keeping.jumped = false;
    moments.doAllUntil(t);
    followPads(keeping);
    if (keeping.jumped) solver.restart();
    if (t >= days) return { t, outcome };
  }
}

// Told here too for those who only run days.
export type { Colony } from "../tank/biofilm-stock.ts";
export type { StopAndStart } from "./power-cut.ts";
