// A power cut in the days of an aquarium: the water runs down, stands still, cools, and runs and warms up again.

import { batteryAirPerDay, pouringShare, SUPPLY_FACTOR } from "../../gas/emergency-air.ts";
import { type Case, FED_FOR_H, useOverResting } from "../../life/respiration.ts";
import { displayPlanM2 } from "../../rig.ts";
import type { PlanEvent } from "../management.ts";
import { kill, moveWater } from "../tank/operations.ts";
import { startClosedFilters } from "./closed-filters.ts";
import { followHeat, mixedTemperaturesC, type OutageHeat, warmUp } from "./outage-heat.ts";
import { CutRecord, stillHours } from "./outage-record.ts";
import type { Keeping } from "./run-state.ts";

type PowerCutEvent = Extract<PlanEvent, { kind: "power cut" }>;

const HOURS_PER_DAY = 24;
/** What the hydraulic model says of one stop and restart: shares of each cell's water that end in each (last row: floor), and volumes. */
export interface StopAndStart {
  readonly stopShare: readonly (readonly number[])[];
  readonly restVolumesM3: readonly number[];
  readonly startShare: readonly (readonly number[])[];
  readonly runningVolumesM3: readonly number[];
}

/** What a film went through in a cut. */
export interface FilmInCut {
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
  readonly outageLoss?: (event: PowerCutEvent, film: number, seen: FilmInCut) => { aob: number; nob: number };
  /** How the animals' use and the still surface turn out: likely when absent; high is much use and little supply. */
  readonly outageCase?: Case;
}

/** Stops the pump now and puts down everything until water flows again. @param sinceMealH hours since the animals last ate */
export function powerCut(keeping: Keeping, options: OutageOptions, event: PowerCutEvent, sinceMealH: number): void {
  const { upkeep, moments } = keeping;
  const { stop, outageHeat: heat } = options;
  const dayAfter = (hours: number): number => event.day + hours / HOURS_PER_DAY;
  const which = options.outageCase ?? "likely";
  const fedForH = event.fedMeanwhile || !event.everythingOff ? Number.POSITIVE_INFINITY : FED_FOR_H - sinceMealH;
  const record = new CutRecord(keeping, event, keeping.snapshot(event.day));
  keeping.watched = record;
  keeping.cuts.push(record);
  keeping.change(() => {
    if (stop) move(keeping, stop.stopShare, stop.restVolumesM3);
    upkeep.running = false;
    upkeep.dark = event.everythingOff;
    upkeep.batteryAirPerDay = event.batteryAir ? batteryAirOf(keeping) : 0;
    upkeep.useOverResting = useOverResting(fedForH > 0 ? "active" : "quiet", which);
    upkeep.stillSurfaceFactor = SUPPLY_FACTOR[which];
  });
  if (fedForH > 0 && fedForH < event.hours)
    moments.at(dayAfter(fedForH), () =>
      keeping.change(() => {
        upkeep.useOverResting = useOverResting("quiet", which);
      }),
    );
  if (event.stirEveryHours !== null)
    for (let h = event.stirEveryHours; h < event.hours; h += event.stirEveryHours) moments.at(dayAfter(h), () => pour(keeping));
  if (heat) followHeat(keeping, record, heat.cooling(event, upkeep.temperatureC, upkeep.setpointC), event.day, event.hours);
  moments.at(dayAfter(event.hours), () => {
    powerBack(keeping, event);
    if (event.pumpStuckHours === 0) return;
    keeping.mark(dayAfter(event.hours), "pump stuck", "power back, the pump does not turn");
    if (!heat) return;
    const stuck = { ...event, hours: event.pumpStuckHours, everythingOff: false, room: null };
    const curve = heat.cooling(stuck, upkeep.temperatureC, upkeep.setpointC);
    followHeat(keeping, record, curve, dayAfter(event.hours), event.pumpStuckHours);
  });
  const flowBackDay = dayAfter(stillHours(event));
  moments.at(flowBackDay, () => {
    flowBack(keeping, options, record);
    if (heat) warmUp(keeping, record, heat, flowBackDay);
    keeping.mark(flowBackDay, "power back", event.pumpStuckHours > 0 ? "the pump turns again" : "power back");
  });
}

/** Heater, air and closed filters work again. */
function powerBack(keeping: Keeping, event: PowerCutEvent): void {
  const { upkeep } = keeping;
  keeping.change(() => {
    upkeep.dark = false;
    upkeep.batteryAirPerDay = 0;
    upkeep.useOverResting = useOverResting("active", "likely");
    if (event.everythingOff) startClosedFilters(keeping, event.closedFilter);
  });
}

/** What the standstill killed becomes waste, and the water is pumped up again. */
function flowBack(keeping: Keeping, { stop, outageLoss }: OutageOptions, record: CutRecord): void {
  const { upkeep, y, aquarium } = keeping;
  const { system } = aquarium;
  record.end();
  const still = { ...record.event, hours: stillHours(record.event) };
  for (const [f, film] of record.films.entries()) {
    const foulHours = record.foulHours(system.wiring.films[f].cell);
    const lost = outageLoss?.(still, f, { ...film, foulHours });
    if (lost) kill(system, y, f, { aob: lost.aob, cmx: lost.aob, nob: lost.nob, het: lost.aob });
  }
  keeping.change(() => {
    if (stop) move(keeping, stop.startShare, stop.runningVolumesM3);
    upkeep.running = true;
    upkeep.stillSurfaceFactor = 1;
  });
}

/** Water and its heat go where the hydraulic model says. */
function move(keeping: Keeping, share: readonly (readonly number[])[], volumesM3: readonly number[]): void {
  const { aquarium, upkeep, y } = keeping;
  const { system } = aquarium;
  upkeep.temperatureC = mixedTemperaturesC(
    share,
    system.conditions.cells.map((cell) => cell.volumeM3),
    volumesM3,
    upkeep.temperatureC,
  );
  keeping.book("water on the floor", () => moveWater(system, y, share, volumesM3));
}

function batteryAirOf({ aquarium, upkeep }: Keeping): number {
  const { volumeM3, temperatureC } = aquarium.system.conditions.cells[aquarium.displayCells[0]];
  return batteryAirPerDay(volumeM3, displayPlanM2(aquarium.rig.displays[0]), temperatureC, upkeep.salinityGPerKg);
}

/** Water poured from a jug: a share of the missing oxygen is made good. */
function pour(keeping: Keeping): void {
  const { system, displayCells } = keeping.aquarium;
  keeping.jumped = true;
  for (const c of displayCells) {
    const { o2SaturationGPerM3, temperatureC } = system.conditions.cells[c];
    const i = system.cellIndex(c, "o2");
    keeping.y[i] += pouringShare(temperatureC) * Math.max(0, o2SaturationGPerM3 - keeping.y[i]);
  }
}
