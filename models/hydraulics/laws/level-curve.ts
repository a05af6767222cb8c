// Level-volume curve of a vessel whose plan area changes with height.

import type { Displacement } from "../../rig.ts";

/** Piecewise linear: the plan area is constant between breaks; the last area continues upwards, the first one downwards. */
export interface LevelCurve {
  /** Elevations of the breaks [m], ascending; the first is the bottom. */
  readonly z: readonly number[];
  /** Volume below each break [m³]. */
  readonly volumeM3: readonly number[];
  /** Free plan area above each break [m²]. */
  readonly areaM2: readonly number[];
}

/** Displaced parts fill the plan area of their vessel. */
export class NoRoomError extends Error {}

/** Smallest share of the plan area that displaced parts may leave free. */
const LEAST_FREE_SHARE = 0.02;

/**
 * Level-volume curve of a straight-walled vessel, minus displaced parts.
 * @param planM2 inner plan area
 * @param displacements heights above the vessel's own bottom
 * @throws NoRoomError when parts fill the vessel's plan area
 */
export function levelCurve(bottomZ: number, planM2: number, displacements: readonly Displacement[] = []): LevelCurve {
  const heights = new Set([0]);
  for (const part of displacements)
    if (part.areaM2 > 0 && part.toM > part.fromM && part.toM > 0) {
      heights.add(Math.max(0, part.fromM));
      heights.add(part.toM);
    }
  const sorted = [...heights].sort((a, b) => a - b);
  const areaM2 = sorted.map((height) => {
    const taken = displacements.reduce((sum, part) => sum + (height >= part.fromM && height < part.toM ? part.areaM2 : 0), 0);
    if (taken > planM2 * (1 - LEAST_FREE_SHARE))
      throw new NoRoomError(
        `no room: they take ${(taken * 1e4).toFixed(0)} cm2 of a plan of ${(planM2 * 1e4).toFixed(0)} cm2, ${(height * 1000).toFixed(0)} mm above the floor`,
      );
    return planM2 - taken;
  });
  const volumeM3 = [0];
  for (let n = 1; n < sorted.length; n++) volumeM3.push(volumeM3[n - 1] + areaM2[n - 1] * (sorted[n] - sorted[n - 1]));
  return { z: sorted.map((height) => bottomZ + height), volumeM3, areaM2 };
}

/** Elevation of the water surface [m]; that of the bottom for an empty vessel. */
export function levelZ(curve: LevelCurve, volumeM3: number): number {
  const { z, volumeM3: below, areaM2 } = curve;
  let n = 0;
  while (n + 1 < z.length && volumeM3 > below[n + 1]) n++;
  return z[n] + (volumeM3 - below[n]) / areaM2[n];
}

/** Volume below an elevation [m³]; 0 below the bottom. */
export function volumeBelowM3(curve: LevelCurve, surfaceZ: number): number {
  const { z, volumeM3, areaM2 } = curve;
  let n = 0;
  while (n + 1 < z.length && surfaceZ > z[n + 1]) n++;
  return Math.max(0, volumeM3[n] + areaM2[n] * (surfaceZ - z[n]));
}
