// What may change in the days of one aquarium: how it is kept at the moment.
import { ACTIVITY_FACTOR } from "../../life/respiration.ts";
import type { Tower } from "../../rig.ts";
import type { AnimalGroup } from "../management.ts";
import { loadAtBlinded } from "../reactor/solids.ts";
import { type NitrogenModel, runningInflowM3PerS } from "./nitrogen-model.ts";
import { wettedShareOf } from "./wetting.ts";

export interface OperatingState {
  temperatureC: number[];
  /** What the thermostat is set to [°C]. */
  setpointC: number;
  /** Wetted share forced on each tower; null = from its distribution. */
  readonly wettedShare: (number | null)[];
  /** Share of each tower's water that spills past its blinded pad. */
  readonly blinded: number[];
  /** Dirt on each pad that the scenario tells only by what it does, as a share of what the pad holds; see `solids.ts`. */
  readonly unweighedLoad: number[];
  /** Inert solids lying in each cell [g]. */
  readonly inertG: number[];
  readonly lid: Tower["lid"][];
  running: boolean;
  /** Everything electrical is off, not only the return pump. */
  dark: boolean;
  /** Closed filters whose own pump is left off. */
  readonly closedOff: boolean[];
  aobActivity: number;
  nobActivity: number;
  plantUptakeGNPerDay: number;
  batteryAirPerDay: number;
  /** Oxygen that animals use over the resting rate. */
  useOverResting: number;
  /** What a still surface passes against the usual. */
  stillSurfaceFactor: number;
  groups: readonly AnimalGroup[];
  /** What unfed animals give off [g N/d]. */
  fastingGNPerDay: number;
  salinityGPerKg: number;
}

/** As the plan begins: running, everything as built, no animals yet. */
export function initialOperatingState({ rig, management, cells }: NitrogenModel): OperatingState {
  return {
    temperatureC: cells.map(() => management.temperatureC),
    setpointC: management.temperatureC,
    wettedShare: rig.towers.map(() => null),
    blinded: rig.towers.map((tower) => tower.prefilter?.blindedShare ?? 0),
    unweighedLoad: rig.towers.map((tower) => loadAtBlinded(tower.prefilter?.blindedShare ?? 0)),
    inertG: cells.map(() => 0),
    lid: rig.towers.map((tower) => tower.lid),
    running: true,
    dark: false,
    closedOff: rig.closedFilters.map(() => false),
    aobActivity: 1,
    nobActivity: 1,
    plantUptakeGNPerDay: management.plants?.uptakeGNPerDay ?? 0,
    batteryAirPerDay: 0,
    useOverResting: ACTIVITY_FACTOR.active.likely,
    stillSurfaceFactor: 1,
    groups: [],
    fastingGNPerDay: 0,
    salinityGPerKg: rig.salinityGPerKg,
  };
}

/** Wetted area of every film now [m2]. */
export function wettedAreas(aquarium: NitrogenModel, operating: OperatingState): number[] {
  const { rig, management, exchange, towerCells, filmOf, surfaceM2 } = aquarium;
  const areas = [...surfaceM2];
  rig.towers.forEach((tower, t) => {
    // A blinded pad starves the media of flow but leaves them moist, so the film keeps its place.
    const flow = Math.max(runningInflowM3PerS(exchange, towerCells[t]), 1e-7);
    const film = filmOf.towers[t];
    areas[film] = Math.max(1e-4, surfaceM2[film] * wettedShareOf(tower, rig, management, flow, operating.wettedShare[t]));
  });
  return areas;
}
