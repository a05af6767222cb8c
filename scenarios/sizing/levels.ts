// What the hydraulics ask of the sump and of the pump: how high it may be filled, what comes back in a power cut, which label flow gives a turnover.

import { volumeBelowM3 } from "../../models/hydraulics/laws/level-curve.ts";
import { OutageSimulator } from "../../models/hydraulics/outage/outage-simulation.ts";
import { valvesStuckOpen, withRunningLevel } from "../../models/hydraulics/outage/rig-changes.ts";
import { fitAndLoad } from "../../models/hydraulics/planning/cabinet-fit.ts";
import { highestFillM, highestThatPasses, lowestFillM, withoutSafeguards } from "../../models/hydraulics/planning/fill-levels.ts";
import type { Rig } from "../../models/rig.ts";

/** Levels between which the return chamber may run, with no trust in break holes and check valves. */
export interface Levels {
  /** Highest level from which a power cut leaves 25 mm and a tenth of what came [m]; null when none does. */
  readonly highM: number | null;
  /** Lowest level at which the pump draws no air, running or at restart [m]. */
  readonly lowM: number;
}

/** Range that a keeper can hold between two top-ups: a day or two of evaporation (modelling assumption) [m]. */
export const RANGE_M = 0.02;
/** Steps of a length that one would build to [m]. */
const STEP_M = 0.005;

export const levelsOf = (rig: Rig): Levels => ({
  highM: highestFillM(withoutSafeguards(rig)),
  lowM: lowestFillM(valvesStuckOpen(rig)),
});

/** Range of the levels, less what a keeper needs [m]; negative when it is too narrow or when no level holds. */
const spareOf = ({ highM, lowM }: Levels): number => (highM === null ? -1 : highM - lowM - RANGE_M);

/** Level to fill to, in whole millimetres: what a keeper needs above the lowest, so that the tower stands low and the reserve is large [m]. */
export const fillTo = ({ lowM, highM }: Levels): number =>
  Math.min(top({ highM }), Math.ceil(1000 * (lowM + RANGE_M) - 1e-6) / 1000);

/** Highest level in whole millimetres [m]. */
export const top = ({ highM }: Pick<Levels, "highM">): number => Math.floor(1000 * highM! + 1e-6) / 1000;

export interface Reserve {
  /** Room between the running level and the rim of the sump [m3]. */
  readonly roomM3: number;
  /** Water that comes into the sump in a power cut, break holes blocked and check valve open [m3]. */
  readonly comesBackM3: number;
}

/** Room and fill-back volume at a running level. */
export function reserveAt(rig: Rig, levelM: number): Reserve {
  const filled = withRunningLevel(withoutSafeguards(rig), levelM);
  const simulator = new OutageSimulator(filled);
  const { running, cut } = simulator.cutOnly(filled);
  let [roomM3, comesBackM3] = [0, 0];
  for (const { kind, id, rimZ, curve } of simulator.network.vessels) {
    if (kind !== "chamber" || rimZ === null) continue;
    roomM3 += volumeBelowM3(curve, rimZ) - running.volumesM3[id];
    comesBackM3 += cut.endVolumesM3[id] - running.volumesM3[id];
  }
  return { roomM3, comesBackM3: comesBackM3 + cut.spilledM3 };
}

/**
 * Shortest sump, in steps of 5 mm, whose return chamber has a range of levels to run in.
 * @param at the rig with a sump of a length; null when it cannot be built
 * @returns null when even the longest has none
 */
export function shortestSump(
  at: (lengthM: number) => Rig | null,
  shortestM: number,
  longestM: number,
): { readonly lengthM: number; readonly levels: Levels } | null {
  const steps = Math.floor((longestM - shortestM) / STEP_M + 1e-9);
  if (steps < 0) return null;
  const lengthOf = (n: number): number => longestM - n * STEP_M;
  const known = new Map<number, Levels>();
  const less = highestThatPasses(0, steps, 1, (x) => {
    const n = Math.floor(x);
    const rig = at(lengthOf(n));
    if (!rig) return -1;
    const levels = levelsOf(rig);
    known.set(n, levels);
    return spareOf(levels);
  });
  if (less === null) return null;
  const n = Math.floor(less);
  return { lengthM: lengthOf(n), levels: known.get(n)! };
}

export const hasRange = (levels: Levels): boolean => spareOf(levels) >= 0;

/** Height by which the tower may grow before it, or its pad when lifted out, meets the top of the cabinet [m]; negative when it is too high now. */
export const towerSpareM = (rig: Rig): number =>
  Math.min(
    ...fitAndLoad(rig)
      .fit.filter(({ part }) => rig.towers[0] !== undefined && part.endsWith(rig.towers[0].id))
      .map(({ spareM }) => spareM),
  );

/** Label flows that are tried, as pumps are sold by round numbers [L/h] (common practice, no published source). */
const LABELS_L_PER_H = [
  300, 400, 500, 600, 800, 1000, 1200, 1500, 1800, 2000, 2500, 3000, 3500, 4000, 5000, 6000, 7000, 8000, 10000, 12000, 15000,
  20000, 25000, 30000,
];

/** Smallest round label flow that passes [m3/s], a larger one being taken to be better; null when none does. */
export function smallestLabel(passes: (labelM3PerS: number) => boolean): number | null {
  let [fails, does] = [-1, LABELS_L_PER_H.length];
  while (does - fails > 1) {
    const middle = (fails + does) >> 1;
    if (passes(LABELS_L_PER_H[middle] / 3.6e6)) does = middle;
    else fails = middle;
  }
  return does === LABELS_L_PER_H.length ? null : LABELS_L_PER_H[does] / 3.6e6;
}
