// Whether a planned outage kills the animals; later findings must then not assume that they are alive.
import type { OutageRecord } from "../../models/nitrogen/operation/outage-record.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { displayOxygen, oxygenLimits } from "../../models/outage/oxygen-clock.ts";

/** Share of the one-day minimum oxygen at which the animals count as lost (modelling assumption). */
const DEADLY_SHARE = 0.5;

export function lowestOxygen(run: Run, record: OutageRecord): number {
  const oxygen = displayOxygen(record, run.aquarium.displayCells);
  return Math.min(...Array.from({ length: record.inCut }, (_, i) => oxygen(i)));
}

/**
 * Oxygen limits of the animals in an outage: below the first they suffer, below the second some die [g/m³]; 0 without
 * animals.
 */
export function oxygenNeeds({ before }: OutageRecord): { readonly suffer: number; readonly die: number; readonly lost: number } {
  const limits = before.operating.groups.map(({ kind }) => oxygenLimits(kind, before.operating.salinityGPerKg));
  const die = Math.max(0, ...limits.map(({ redGPerM3 }) => redGPerM3));
  return { suffer: Math.max(0, ...limits.map(({ amberGPerM3 }) => amberGPerM3)), die, lost: DEADLY_SHARE * die };
}

/** The first outage with so little oxygen that the animals are lost; null when there is none. */
export function lossOfAnimals(run: Run): { readonly day: number; readonly oxygen: number } | null {
  for (const record of run.cuts) {
    if (record.inCut === 0) continue;
    const oxygen = lowestOxygen(run, record);
    if (oxygen < oxygenNeeds(record).lost) return { day: record.event.day, oxygen };
  }
  return null;
}
