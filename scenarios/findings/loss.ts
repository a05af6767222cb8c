// Whether a power cut of the plan kills the animals: then nothing after it is said as if they lived.
import type { OutageRecord } from "../../models/nitrogen/operation/outage-record.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { displayOxygen, oxygenLimits } from "../../models/outage/oxygen-clock.ts";

/** Oxygen at half the one-day minimum of the animals kept is taken as their loss (modelling assumption). */
const DEADLY_SHARE = 0.5;

export function lowestOxygen(run: Run, record: OutageRecord): number {
  const oxygen = displayOxygen(record, run.aquarium.displayCells);
  return Math.min(...Array.from({ length: record.inCut }, (_, i) => oxygen(i)));
}

/** The least oxygen that the animals in a cut need: below the first they suffer, below the second some die [g/m3]; 0 without animals. */
export function oxygenNeeds({ before }: OutageRecord): { readonly suffer: number; readonly die: number; readonly lost: number } {
  const limits = before.operating.groups.map(({ kind }) => oxygenLimits(kind, before.operating.salinityGPerKg));
  const die = Math.max(0, ...limits.map(({ redGPerM3 }) => redGPerM3));
  return { suffer: Math.max(0, ...limits.map(({ amberGPerM3 }) => amberGPerM3)), die, lost: DEADLY_SHARE * die };
}

/** The first cut that leaves so little oxygen that the animals are lost; null when none does. */
export function lossOfAnimals(run: Run): { readonly day: number; readonly oxygen: number } | null {
  for (const record of run.cuts) {
    if (record.inCut === 0) continue;
    const oxygen = lowestOxygen(run, record);
    if (oxygen < oxygenNeeds(record).lost) return { day: record.event.day, oxygen };
  }
  return null;
}
