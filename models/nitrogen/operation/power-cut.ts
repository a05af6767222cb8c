// A power cut during a run: the water drains, stagnates and cools, then the pump returns it and the heater warms it.

import { pow } from "../../../sim/elementary.ts";
import { HOURS_PER_DAY } from "../../../sim/time.ts";
import { BATTERY_AIR_M3_PER_H, batteryAirPerDay, pouringShare, SUPPLY_FACTOR } from "../../gas/emergency-air.ts";
import { type Case, FED_FOR_H, useOverResting } from "../../life/respiration.ts";
import { displayPlanM2 } from "../../rig.ts";
import { ofEachStep } from "../kinetics/guilds.ts";
import { kill, moveWater } from "../tank/operations.ts";
import { startClosedFilters } from "./closed-filters.ts";
import { followHeat, mixedTemperaturesC, type OutageHeat, warmUp } from "./outage-heat.ts";
import { OutageRecord, type PlannedCut, stillHours } from "./outage-record.ts";
import type { RunState } from "./run-state.ts";
import type { RunningHeat } from "./water-heat.ts";

/** Jugs poured within this period are applied together at its end, because each is a restart of the solver [h]. */
const POURED_TOGETHER_H = 1 / 6;

/**
 * Result of the hydraulic model for one stop and restart: shares of each cell's water that end in each cell (last row:
 * floor), and volumes.
 */
export interface StopAndStart {
  readonly stopShare: readonly (readonly number[])[];
  readonly restVolumesM3: readonly number[];
  readonly startShare: readonly (readonly number[])[];
  readonly runningVolumesM3: readonly number[];
}

/** Conditions of a film during an outage. */
export interface FilmDuringOutage {
  /** Hours in which the water of its cell had neither oxygen nor nitrate. */
  readonly anoxicHours: number;
  /** When the flow stopped: its wetted area, its oxygen uptake [g/(m² d)], and the nitrate over it [g N/m³]. */
  readonly areaM2: number;
  readonly o2GPerM2Day: number;
  readonly no3GPerM3: number;
}

export interface OutageOptions {
  readonly stop: StopAndStart | null;
  /** Temperatures stay constant when absent. */
  readonly outageHeat?: OutageHeat;
  /** The running water stays at its set-point when absent. */
  readonly runningHeat?: RunningHeat | null;
  /** Share of nitrifiers lost by the end of an outage, per film, in addition to the losses of the process matrix. */
  readonly outageLoss?: (event: PlannedCut, film: number, seen: FilmDuringOutage) => { aob: number; nob: number };
  /** Case for the animals' uptake and the still surface; default likely; high means high uptake and low supply. */
  readonly outageCase?: Case;
}

/**
 * Stops the pump now and schedules everything until the flow returns.
 * @param sinceMealH hours since the last meal of the animals
 */
export function powerCut(runState: RunState, options: OutageOptions, event: PlannedCut, sinceMealH: number): void {
  const { eventQueue: moments } = runState;
  const { stop, outageHeat: heat } = options;
  const dayAfter = (hours: number): number => event.day + hours / HOURS_PER_DAY;
  const which = options.outageCase ?? "likely";
  const fedForH = event.fedMeanwhile || !event.everythingOff ? Number.POSITIVE_INFINITY : FED_FOR_H - sinceMealH;
  runState.heat?.stopped(event.day);
  const record = new OutageRecord(runState, event, runState.snapshot(event.day));
  runState.outageRecord = record;
  runState.cuts.push(record);
  if (stop) move(runState, stop.stopShare, stop.restVolumesM3);
  runState.operate({
    running: false,
    dark: event.everythingOff,
    batteryAirPerDay: event.batteryAir ? batteryAirOf(runState, event.batteryAirM3PerH ?? BATTERY_AIR_M3_PER_H) : 0,
    useOverResting: useOverResting(fedForH > 0 ? "active" : "quiet", which),
    stillSurfaceFactor: SUPPLY_FACTOR[which],
  });
  if (fedForH > 0 && fedForH < event.hours)
    moments.at(dayAfter(fedForH), () => runState.operate({ useOverResting: useOverResting("quiet", which) }));
  if (event.stirEveryHours !== null) {
    const apartH = Math.max(event.stirEveryHours, POURED_TOGETHER_H);
    const times = apartH / event.stirEveryHours;
    for (let h = apartH; h < event.hours; h += apartH) moments.at(dayAfter(h), () => pour(runState, times));
  }
  const cooling = (cut: PlannedCut, fromDay: number): void => {
    const { temperatureC, setpointC } = runState.operating;
    if (heat) followHeat(runState, record, heat.cooling(cut, temperatureC, setpointC), fromDay, cut.hours);
  };
  cooling(event, event.day);
  moments.at(dayAfter(event.hours), () => {
    powerBack(runState, event);
    if (event.pumpStuckHours === 0) return;
    runState.mark(dayAfter(event.hours), "pump stuck", "power back, the pump does not turn");
    cooling({ ...event, hours: event.pumpStuckHours, everythingOff: false, room: null }, dayAfter(event.hours));
  });
  const flowBackDay = dayAfter(stillHours(event));
  moments.at(flowBackDay, () => {
    flowBack(runState, options, record);
    if (runState.heat) runState.heat.begin(flowBackDay);
    else if (heat) warmUp(runState, record, heat, flowBackDay);
    runState.mark(flowBackDay, "power back", event.pumpStuckHours > 0 ? "the pump turns again" : "power back");
  });
}

/** Heater, air and closed filters work again. */
function powerBack(runState: RunState, event: PlannedCut): void {
  runState.operate({
    dark: false,
    batteryAirPerDay: 0,
    useOverResting: useOverResting("active", "likely"),
    ...(event.everythingOff ? { closedOff: startClosedFilters(runState, event.closedFilter) } : {}),
  });
}

/** Bacteria that died during the standstill become waste, and the pump returns the water. */
function flowBack(runState: RunState, { stop, outageLoss }: OutageOptions, record: OutageRecord): void {
  const { system } = runState;
  record.end();
  const still = { ...record.event, hours: stillHours(record.event) };
  for (const [f, film] of record.films.entries()) {
    const anoxicHours = record.anoxicHours(system.wiring.films[f].cell);
    const lost = outageLoss?.(still, f, { ...film, anoxicHours });
    if (lost) runState.alter((y) => kill(system, y, f, { ...ofEachStep(lost.aob, lost.nob), het: lost.aob }));
  }
  if (stop) move(runState, stop.startShare, stop.runningVolumesM3);
  runState.operate({ running: true, stillSurfaceFactor: 1 });
}

/** Moves the water and its heat by the shares of the hydraulic model. */
function move(runState: RunState, share: readonly (readonly number[])[], volumesM3: readonly number[]): void {
  const { system, operating } = runState;
  const temperatureC = mixedTemperaturesC(share, operating.volumesM3, volumesM3, operating.temperatureC);
  runState.book("water on the floor", (y) => {
    moveWater(system, y, share, volumesM3);
    runState.operate({ volumesM3, temperatureC });
  });
}

function batteryAirOf({ aquarium, operating }: RunState, airM3PerH: number): number {
  const { rig, displayCells } = aquarium;
  const { volumesM3, temperatureC, salinityGPerKg } = operating;
  const first = displayCells[0];
  return batteryAirPerDay(airM3PerH, volumesM3[first], displayPlanM2(rig.displays[0]), temperatureC[first], salinityGPerKg);
}

/** Water poured from a jug: a share of the oxygen deficit is removed. */
function pour(runState: RunState, times: number): void {
  const { system, aquarium } = runState;
  runState.alter((y) => {
    for (const c of aquarium.displayCells) {
      const { o2SaturationGPerM3, temperatureC } = system.coefficients.cells[c];
      const i = system.cellIndex(c, "o2");
      y[i] += (1 - pow(1 - pouringShare(temperatureC), times)) * Math.max(0, o2SaturationGPerM3 - y[i]);
    }
  });
}
