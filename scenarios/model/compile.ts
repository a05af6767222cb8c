// From a checked scenario to coupled models: rig, hydraulic steady state, water cells, and the nitrogen model on them.
import {
  type CellPlan,
  cellTransfer,
  dayVolumes,
  type Exchange,
  planCells,
  runningExchange,
} from "../../models/coupling/exchange.ts";
import { OutageSimulator } from "../../models/hydraulics/outage/outage-simulation.ts";
import { calibrate } from "../../models/hydraulics/planning/calibrate.ts";
import type { OutageRun, RunningState } from "../../models/hydraulics/types.ts";
import type { Plan } from "../../models/nitrogen/events/all.ts";
import { type ParameterId, parameterValues } from "../../models/nitrogen/kinetics/parameters.ts";
import type { PlannedModel, StopAndStart } from "../../models/nitrogen/simulation/simulation.ts";
import { buildNitrogenModel } from "../../models/nitrogen/tank/nitrogen-model.ts";
import { type AtRest, restOf } from "../../models/outage/cut.ts";
import type { Rig } from "../../models/rig.ts";
import { mostlyWritten, type ResolvedScenario, resolveScenario } from "../build/build.ts";
import type { UnknownScale } from "../build/water.ts";
import type { Scenario } from "../schema/schema.ts";

export interface CoupledModel {
  readonly resolved: ResolvedScenario;
  readonly simulator: OutageSimulator;
  readonly running: RunningState;
  readonly plan: CellPlan;
  readonly exchange: Exchange;
}

/** The steady running state of a rig, and its outage simulator. */
export type Balance = Pick<CoupledModel, "simulator" | "running">;

export function balanceOf(rig: Rig): Balance {
  const simulator = new OutageSimulator(rig);
  return { simulator, running: simulator.running() };
}

/**
 * Builds the rig and solves its running balance. Depths measured from the running water surface need the heads over the
 * weirs, which the balance gives, so the rig is built, balanced, and built again.
 * @param source the scenario's text, from which the reader's unit system is derived
 * @param unknownScale the interpretation of an unknown test-kit scale
 * @param balance gives the running balance of a rig; a caller may pass one with a cache
 * @throws Error in plain words when the parts cannot be combined
 */
export function coupleModels(
  scenario: Scenario,
  source: string,
  unknownScale: UnknownScale = "ion",
  balance: (rig: Rig) => Balance = balanceOf,
): CoupledModel {
  const options = { units: mostlyWritten(source), unknownScale };
  let resolved = resolveScenario(scenario, { ...options, weirHeadsM: {} });
  const first = balance(resolved.rig).running;
  // Heads of a rig that never settles are those of a tank that fills: the first guess keeps the water line that was told.
  const heads = first.balanced ? Object.fromEntries(first.weirs.map((weir) => [weir.overflowId, weir.headM])) : {};
  resolved = resolveScenario(scenario, { ...options, weirHeadsM: heads });
  if (resolved.measured) resolved = { ...resolved, ...calibrate(resolved.rig, resolved.measured) };
  const { simulator, running } = balance(resolved.rig);
  const plan = planCells(running, homeOf(resolved.rig), resolved.rig.closedFilters);
  return { resolved, simulator, running, plan, exchange: runningExchange(plan, running) };
}

/** The same scenario with the other interpretation of an unknown kit scale; empty when all scales are known. */
export function otherReadings(scenario: Scenario, source: string): readonly CoupledModel[] {
  const { ammonia, nitrite, nitrate } = scenario.kit;
  return [ammonia, nitrite, nitrate].includes("unknown") ? [coupleModels(scenario, source, "nitrogen")] : [];
}

/** Display to which each overflow, drain and nozzle belongs, and chamber to which each joined tank belongs, by id. */
function homeOf(rig: Rig): Record<string, string> {
  return Object.fromEntries([
    ...rig.sump.joined.map(({ id, to }) => [id, to]),
    ...[rig.return, ...rig.moreReturns].flatMap(({ nozzles }) => nozzles.map((nozzle) => [nozzle.id, nozzle.display])),
    ...rig.displays.flatMap((display) =>
      display.overflows.flatMap((overflow) => [overflow, ...overflow.drains].map((part) => [part.id, display.id])),
    ),
  ]);
}

/** Input of the nitrogen side: plain data, so that it can be sent to a worker. */
export interface NitrogenSetup {
  readonly rig: Rig;
  readonly management: Plan;
  readonly cells: CellPlan["cells"];
  readonly exchange: Exchange;
  readonly stop: StopAndStart | null;
  /** The water at rest after the pump has stopped, for the clocks of an outage. */
  readonly rest: AtRest;
  /** How far inputs may be from what is written, where the scenario says so. */
  readonly uncertain: ResolvedScenario["uncertain"];
}

export const nitrogenSetup = (coupled: CoupledModel, story: OutageRun): NitrogenSetup => ({
  rig: coupled.resolved.rig,
  management: coupled.resolved.management,
  cells: coupled.plan.cells,
  exchange: coupled.exchange,
  stop: stopAndStart(coupled, story),
  rest: restOf(coupled.resolved.rig, coupled.resolved.management, coupled.plan, coupled.exchange, story.cut),
  uncertain: coupled.resolved.uncertain,
});

export const nitrogenModelOf = (setup: NitrogenSetup, changes: Partial<Record<ParameterId, number>> = {}): PlannedModel =>
  buildNitrogenModel(setup.rig, setup.management, setup.cells, setup.exchange, parameterValues(changes));

/** Water transfer between the cells when the pump stops and restarts; null when the outage run has no restart. */
export function stopAndStart({ plan, exchange }: CoupledModel, story: OutageRun): StopAndStart | null {
  if (!story.restart) return null;
  return {
    stopShare: cellTransfer(plan, story.cut),
    restVolumesM3: dayVolumes(plan, story.cut.endVolumesM3),
    startShare: cellTransfer(plan, story.restart),
    runningVolumesM3: exchange.volumesM3,
  };
}
