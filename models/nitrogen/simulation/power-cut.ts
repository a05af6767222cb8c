// A power cut in the days of an aquarium: the water runs down, stands still, cools, and runs and warms up again.

import { batteryAirPerDay, pouringShare, SUPPLY_FACTOR } from "../../gas/emergency-air.ts";
import { type Case, FED_FOR_H, useOverResting } from "../../life/respiration.ts";
import { displayPlanM2 } from "../../rig.ts";
import { ofEachStep } from "../kinetics/guilds.ts";
import type { ManagementEvent } from "../management.ts";
import { kill, moveWater } from "../tank/operations.ts";
import { startClosedFilters } from "./closed-filters.ts";
import { followHeat, mixedTemperaturesC, type OutageHeat, warmUp } from "./outage-heat.ts";
import { OutageRecord, stillHours } from "./outage-record.ts";
import type { RunState } from "./run-state.ts";

type PowerCutEvent = Extract<ManagementEvent, { kind: "power cut" }>;

const HOURS_PER_DAY = 24;
/** What the hydraulic model says of one stop and restart: shares of each cell's water that end in each (last row: floor), and volumes. */
export interface StopAndStart {
  readonly stopShare: readonly (readonly number[])[];
  readonly restVolumesM3: readonly number[];
  readonly startShare: readonly (readonly number[])[];
  readonly runningVolumesM3: readonly number[];
}

/** What a film went through in a cut. */
export interface FilmDuringOutage {
  /** Hours in which the water of its cell held neither oxygen nor nitrate. */
  readonly foulHours: number;
  /** Oxygen it used when the water stopped [g/(m2 d)], and nitrate there was then [g N/m3]. */
  readonly o2GPerM2Day: number;
  readonly no3GPerM3: number;
}

export interface OutageOptions {
  readonly stop: StopAndStart | null;
  /** Temperatures stay as they are when absent. */
  readonly outageHeat?: OutageHeat;
  /** Share of nitrifiers lost by the end of an outage, per film, beyond what the process matrix itself computes. */
  readonly outageLoss?: (event: PowerCutEvent, film: number, seen: FilmDuringOutage) => { aob: number; nob: number };
  /** How the animals' use and the still surface turn out: likely when absent; high is much use and little supply. */
  readonly outageCase?: Case;
}

/** Stops the pump now and puts down everything until water flows again. @param sinceMealH hours since the animals last ate */
export function powerCut(runState: RunState, options: OutageOptions, event: PowerCutEvent, sinceMealH: number): void {
  const { operating, moments } = runState;
  const { stop, outageHeat: heat } = options;
  const dayAfter = (hours: number): number => event.day + hours / HOURS_PER_DAY;
  const which = options.outageCase ?? "likely";
  const fedForH = event.fedMeanwhile || !event.everythingOff ? Number.POSITIVE_INFINITY : FED_FOR_H - sinceMealH;
  const record = new OutageRecord(runState, event, runState.snapshot(event.day));
  runState.watched = record;
  runState.cuts.push(record);
  runState.change(() => {
    if (stop) move(runState, stop.stopShare, stop.restVolumesM3);
    operating.running = false;
    operating.dark = event.everythingOff;
    operating.batteryAirPerDay = event.batteryAir ? batteryAirOf(runState) : 0;
    operating.useOverResting = useOverResting(fedForH > 0 ? "active" : "quiet", which);
    operating.stillSurfaceFactor = SUPPLY_FACTOR[which];
  });
  if (fedForH > 0 && fedForH < event.hours)
    moments.at(dayAfter(fedForH), () =>
      runState.change(() => {
        operating.useOverResting = useOverResting("quiet", which);
      }),
    );
  if (event.stirEveryHours !== null)
    for (let h = event.stirEveryHours; h < event.hours; h += event.stirEveryHours) moments.at(dayAfter(h), () => pour(runState));
  if (heat)
    followHeat(runState, record, heat.cooling(event, operating.temperatureC, operating.setpointC), event.day, event.hours);
  moments.at(dayAfter(event.hours), () => {
    powerBack(runState, event);
    if (event.pumpStuckHours === 0) return;
    runState.mark(dayAfter(event.hours), "pump stuck", "power back, the pump does not turn");
    if (!heat) return;
    const stuck = { ...event, hours: event.pumpStuckHours, everythingOff: false, room: null };
    const curve = heat.cooling(stuck, operating.temperatureC, operating.setpointC);
    followHeat(runState, record, curve, dayAfter(event.hours), event.pumpStuckHours);
  });
  const flowBackDay = dayAfter(stillHours(event));
  moments.at(flowBackDay, () => {
    flowBack(runState, options, record);
    if (heat) warmUp(runState, record, heat, flowBackDay);
    runState.mark(flowBackDay, "power back", event.pumpStuckHours > 0 ? "the pump turns again" : "power back");
  });
}

/** Heater, air and closed filters work again. */
function powerBack(runState: RunState, event: PowerCutEvent): void {
  const { operating } = runState;
  runState.change(() => {
    operating.dark = false;
    operating.batteryAirPerDay = 0;
    operating.useOverResting = useOverResting("active", "likely");
    if (event.everythingOff) startClosedFilters(runState, event.closedFilter);
  });
}

/** What the standstill killed becomes waste, and the water is pumped up again. */
function flowBack(runState: RunState, { stop, outageLoss }: OutageOptions, record: OutageRecord): void {
  const { operating, y, aquarium } = runState;
  const { system } = aquarium;
  record.end();
  const still = { ...record.event, hours: stillHours(record.event) };
  for (const [f, film] of record.films.entries()) {
    const foulHours = record.foulHours(system.wiring.films[f].cell);
    const lost = outageLoss?.(still, f, { ...film, foulHours });
    if (lost) kill(system, y, f, { ...ofEachStep(lost.aob, lost.nob), het: lost.aob });
  }
  runState.change(() => {
    if (stop) move(runState, stop.startShare, stop.runningVolumesM3);
    operating.running = true;
    operating.stillSurfaceFactor = 1;
  });
}

/** Water and its heat go where the hydraulic model says. */
function move(runState: RunState, share: readonly (readonly number[])[], volumesM3: readonly number[]): void {
  const { aquarium, operating, y } = runState;
  const { system } = aquarium;
  operating.temperatureC = mixedTemperaturesC(
    share,
    system.conditions.cells.map((cell) => cell.volumeM3),
    volumesM3,
    operating.temperatureC,
  );
  runState.book("water on the floor", () => moveWater(system, y, share, volumesM3));
}

function batteryAirOf({ aquarium, operating }: RunState): number {
  const { volumeM3, temperatureC } = aquarium.system.conditions.cells[aquarium.displayCells[0]];
  return batteryAirPerDay(volumeM3, displayPlanM2(aquarium.rig.displays[0]), temperatureC, operating.salinityGPerKg);
}

/** Water poured from a jug: a share of the missing oxygen is made good. */
function pour(runState: RunState): void {
  const { system, displayCells } = runState.aquarium;
  runState.discontinuous = true;
  for (const c of displayCells) {
    const { o2SaturationGPerM3, temperatureC } = system.conditions.cells[c];
    const i = system.cellIndex(c, "o2");
    runState.y[i] += pouringShare(temperatureC) * Math.max(0, o2SaturationGPerM3 - runState.y[i]);
  }
}
