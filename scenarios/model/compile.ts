// From a checked scenario to something that can be run: rig, hydraulic balance, cells, and the nitrogen system on them.
import {
  type CellPlan,
  cellTransfer,
  cellVolumes,
  type Exchange,
  planCells,
  runningExchange,
} from "../../models/coupling/exchange.ts";
import { StoryTeller } from "../../models/hydraulics/outage/outage-simulation.ts";
import type { RunningState, Story } from "../../models/hydraulics/types.ts";
import { type ParameterId, parameterValues } from "../../models/nitrogen/kinetics/parameters.ts";
import type { Husbandry } from "../../models/nitrogen/management.ts";
import type { StopAndStart } from "../../models/nitrogen/simulation/simulation.ts";
import { type Aquarium, assemble } from "../../models/nitrogen/tank/nitrogen-model.ts";
import { type AtRest, restOf } from "../../models/outage/cut.ts";
import type { Rig } from "../../models/rig.ts";
import { type Built, build, mostlyWritten } from "../build/build.ts";
import type { UnknownScale } from "../build/water.ts";
import type { Scenario } from "../schema/schema.ts";

export interface Compiled {
  readonly built: Built;
  readonly teller: StoryTeller;
  readonly running: RunningState;
  readonly plan: CellPlan;
  readonly exchange: Exchange;
}

/** A rig's running balance, and what tells its stories. */
export type Balance = Pick<Compiled, "teller" | "running">;

export function balanceOf(rig: Rig): Balance {
  const teller = new StoryTeller(rig);
  return { teller, running: teller.running() };
}

/**
 * Builds the rig and solves its running balance. Depths told from the running water surface need the head over the weirs, which the
 * balance gives: so the rig is built, balanced, and built again.
 * @param source the scenario's text, from which the reader's unit system is guessed
 * @param unknownScale what a test-kit scale that nobody knows is taken for
 * @param balance gives the running balance of a rig, where some are known already
 * @throws Error in plain words when the parts cannot be put together
 */
export function compile(
  scenario: Scenario,
  source: string,
  unknownScale: UnknownScale = "ion",
  balance: (rig: Rig) => Balance = balanceOf,
): Compiled {
  const options = { units: mostlyWritten(source), unknownScale };
  let built = build(scenario, { ...options, weirHeadsM: {} });
  const heads = Object.fromEntries(balance(built.rig).running.weirs.map((weir) => [weir.overflowId, weir.headM]));
  built = build(scenario, { ...options, weirHeadsM: heads });
  const { teller, running } = balance(built.rig);
  const plan = planCells(running, displayOf(built.rig), built.rig.closedFilters);
  return { built, teller, running, plan, exchange: runningExchange(plan, running) };
}

/** Other readings of the same scenario: with a kit scale that nobody knows taken the other way. */
export function otherReadings(scenario: Scenario, source: string): readonly Compiled[] {
  const { ammonia, nitrite, nitrate } = scenario.kit;
  return [ammonia, nitrite, nitrate].includes("unknown") ? [compile(scenario, source, "nitrogen")] : [];
}

/** Display that each overflow, drain and nozzle belongs to, by id. */
function displayOf(rig: Rig): Record<string, string> {
  return Object.fromEntries([
    ...rig.return.nozzles.map((nozzle) => [nozzle.id, nozzle.display]),
    ...rig.displays.flatMap((display) =>
      display.overflows.flatMap((overflow) => [overflow, ...overflow.drains].map((part) => [part.id, display.id])),
    ),
  ]);
}

/** What the nitrogen side needs of a compiled scenario: plain data, so that it can be sent to a worker. */
export interface NitrogenSetup {
  readonly rig: Rig;
  readonly husbandry: Husbandry;
  readonly cells: CellPlan["cells"];
  readonly exchange: Exchange;
  readonly stop: StopAndStart | null;
  /** The water at rest after the pump stopped, for the clocks of a power cut. */
  readonly rest: AtRest;
}

export const nitrogenSetup = (compiled: Compiled, story: Story): NitrogenSetup => ({
  rig: compiled.built.rig,
  husbandry: compiled.built.husbandry,
  cells: compiled.plan.cells,
  exchange: compiled.exchange,
  stop: stopAndStart(compiled, story),
  rest: restOf(compiled.built.rig, compiled.built.husbandry, compiled.plan, compiled.exchange, story.cut),
});

export const aquariumOf = (setup: NitrogenSetup, changes: Partial<Record<ParameterId, number>> = {}): Aquarium =>
  assemble(setup.rig, setup.husbandry, setup.cells, setup.exchange, parameterValues(changes));

/** How the water of the cells moves when the pump stops and starts; null when the story has no restart. */
export function stopAndStart({ plan, exchange }: Compiled, story: Story): StopAndStart | null {
  if (!story.restart) return null;
  const floor = 1e-5;
  return {
    stopShare: cellTransfer(plan, story.cut),
    restVolumesM3: cellVolumes(plan, story.cut.endVolumesM3).map((volume) => Math.max(volume, floor)),
    startShare: cellTransfer(plan, story.restart),
    runningVolumesM3: exchange.volumesM3,
  };
}
