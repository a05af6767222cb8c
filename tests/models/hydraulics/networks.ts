// Small hand-made networks, for comparisons with closed forms and other programs.

import { HydraulicSystem } from "../../../models/hydraulics/dynamics/system.ts";
import { runStage } from "../../../models/hydraulics/dynamics/transient.ts";
import { levelCurve } from "../../../models/hydraulics/laws/level-curve.ts";
import type { Pipe } from "../../../models/hydraulics/laws/pipe.ts";
import type { Link, Network, ReturnLine, Vessel } from "../../../models/hydraulics/network/network.ts";

export const tank = (id: string, areaM2: number, bottomZ = 0, kind: Vessel["kind"] = "chamber"): Vessel => ({
  id,
  name: id,
  kind,
  partOf: id,
  bottomZ,
  rimZ: null,
  areaM2,
  curve: levelCurve(bottomZ, areaM2),
});

export const straight = (lengthM: number, boreMm: number, lossK: number): Pipe => ({
  lengthM,
  boreM: boreMm / 1000,
  lossK,
  roughnessM: 1.5e-6,
});

/** A network of the given vessels and links; a floor is added as the last vessel. */
export function network(
  vessels: readonly Vessel[],
  links: readonly Link[],
  returnLine: ReturnLine | null = null,
  viscosityM2PerS = 1e-6,
): Network {
  return {
    vessels: [...vessels, tank("floor", 10, 0, "floor")],
    links,
    drains: [],
    returnLine,
    moreLines: [],
    topOff: null,
    primes: 0,
    viscosityM2PerS,
    runningZ: Number.NaN,
    floor: vessels.length,
    notes: [],
  };
}

/** The system of a network, and its volumes for given surface elevations (the floor dry). */
export function filled(net: Network, levelsZ: readonly number[]): { system: HydraulicSystem; volumes: Float64Array } {
  const volumes = Float64Array.from(net.vessels, (vessel, n) =>
    n < levelsZ.length ? (levelsZ[n] - vessel.bottomZ) * vessel.areaM2 : 0,
  );
  return { system: new HydraulicSystem(net), volumes };
}

/** Time at which a condition on the end state is first true [s], by bisection over whole runs. */
export function timeWhen(
  net: Network,
  levelsZ: readonly number[],
  longestS: number,
  holds: (levels: Float64Array) => boolean,
): number {
  let low = 0;
  let high = longestS;
  for (let k = 0; k < 24; k++) {
    const middle = (low + high) / 2;
    if (holds(levelsAfter(net, levelsZ, middle))) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

export function levelsAfter(net: Network, levelsZ: readonly number[], seconds: number): Float64Array {
  const { system, volumes } = filled(net, levelsZ);
  const run = runStage(system, volumes, { kind: "slow", atMostS: seconds, untilStill: false, keepTrace: false, follow: false });
  if (run.ending === "failed") throw new Error(run.endingNote);
  system.evaluate(volumes);
  return system.levels;
}
