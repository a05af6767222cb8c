// A power cut in the days of an aquarium: the water runs down, stands still, cools, and runs again.
import { batteryAirPerDay, pouringShare } from "../outage/airSupply.ts";
import { displayPlanM2 } from "../rig.ts";
import { kill, moveWater } from "./actions.ts";
import { startClosedFilters } from "./closedFilter.ts";
import type { Keeping } from "./keeping.ts";
import type { PlanEvent } from "./plan.ts";

type PowerCutEvent = Extract<PlanEvent, { kind: "power cut" }>;

const HOURS_PER_DAY = 24;

/** What the hydraulic model says of one stop and restart: shares of each cell's water that end in each (last row: floor), and volumes. */
export interface StopAndStart {
  readonly stopShare: readonly (readonly number[])[];
  readonly restVolumesM3: readonly number[];
  readonly startShare: readonly (readonly number[])[];
  readonly runningVolumesM3: readonly number[];
}

export interface OutageOptions {
  readonly stop: StopAndStart | null;
  /** Temperatures of the cells through an outage, by hours since it began; constant when absent. */
  readonly outageTemperatures?: (hours: number, event: PowerCutEvent) => readonly number[];
  /** Share of nitrifiers lost in an outage by hours since it began, per film. */
  readonly outageLoss?: (event: PowerCutEvent, film: number) => { aob: number; nob: number };
}

/** Stops the pump now and puts down everything until the power is back. */
export function powerCut(keeping: Keeping, options: OutageOptions, event: PowerCutEvent): void {
  const { upkeep, moments, aquarium } = keeping;
  const { stop } = options;
  const dayAfter = (hours: number): number => event.day + hours / HOURS_PER_DAY;
  keeping.change(() => {
    if (stop) move(keeping, stop.stopShare, stop.restVolumesM3);
    upkeep.running = false;
    upkeep.dark = event.everythingOff;
    upkeep.batteryAirPerDay = event.batteryAir ? batteryAirOf(keeping) : 0;
  });
  if (event.stirEveryHours !== null)
    for (let h = event.stirEveryHours; h < event.hours; h += event.stirEveryHours) moments.at(dayAfter(h), () => pour(keeping));
  // Through the outage the temperature is followed in hourly pieces, each at its own mean (first-order splitting; error below 0.1 K).
  const { outageTemperatures } = options;
  if (outageTemperatures)
    for (let h = 0; h < event.hours; h++)
      moments.at(dayAfter(h), () =>
        keeping.change(() => {
          upkeep.temperatureC = [...outageTemperatures(Math.min(event.hours, h + 0.5), event)];
        }),
      );
  moments.at(dayAfter(event.hours), () => {
    for (const f of aquarium.system.wiring.films.keys()) {
      const lost = options.outageLoss?.(event, f);
      if (lost) kill(aquarium.system, keeping.y, f, { aob: lost.aob, cmx: lost.aob, nob: lost.nob, het: lost.aob });
    }
    keeping.change(() => {
      if (stop) move(keeping, stop.startShare, stop.runningVolumesM3);
      upkeep.running = true;
      upkeep.dark = false;
      upkeep.batteryAirPerDay = 0;
      if (event.everythingOff) startClosedFilters(keeping, event.closedFilter);
      if (outageTemperatures) upkeep.temperatureC = aquarium.cells.map(() => aquarium.husbandry.temperatureC);
    });
    keeping.mark(dayAfter(event.hours), "power back", "power back");
  });
}

function move(keeping: Keeping, share: readonly (readonly number[])[], volumesM3: readonly number[]): void {
  keeping.book("water on the floor", () => moveWater(keeping.aquarium.system, keeping.y, share, volumesM3));
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
