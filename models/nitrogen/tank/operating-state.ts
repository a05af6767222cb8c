// Operating state of the aquarium at one time: what runs, how warm the water is, what is wetted. An operating state is
// immutable; an event creates a new one, so that every sample of a run keeps its own.
import { ACTIVITY_FACTOR } from "../../life/respiration.ts";
import type { Tower } from "../../rig.ts";
import type { AnimalGroup } from "../management.ts";
import type { Coefficients } from "../reactor/coefficients.ts";
import { type NitrogenModel, runningInflowM3PerS } from "./nitrogen-model.ts";
import { wettedShareOf } from "./wetting.ts";

/**
 * A change of the coefficients that an event makes from then on: a pure function of the coefficients that hold without it.
 * With it an event needs no field of the operating state.
 */
export type Adjustment = (coefficients: Coefficients, model: NitrogenModel) => Coefficients;

export interface OperatingState {
  /** Water of each cell [m³] and its temperature [°C]. */
  readonly volumesM3: readonly number[];
  readonly temperatureC: readonly number[];
  /** Set-point of the thermostat [°C]. */
  readonly setpointC: number;
  /** Daily maximum and minimum of the room temperature during an unusual weather period [°C]; null = usual weather. */
  readonly weather: { readonly dayC: number; readonly nightC: number } | null;
  /** Forced wetted share of each tower; null = from its distribution. */
  readonly wettedShare: readonly (number | null)[];
  /** Share of each tower's water that bypasses its clogged pad. */
  readonly blinded: readonly number[];
  readonly lid: readonly Tower["lid"][];
  /** Whether the return pump moves water. */
  readonly running: boolean;
  /** Whether all electrical equipment is off, not only the return pump. */
  readonly dark: boolean;
  /** Closed filters whose own pump stays off. */
  readonly closedOff: readonly boolean[];
  readonly plantUptakeGNPerDay: number;
  /** Oxygen transfer that an air stone on mains power, and one on a battery, add in each display [1/d]. */
  readonly airStonePerDay: number;
  readonly batteryAirPerDay: number;
  /** Ratio of the animals' oxygen uptake to the resting rate. */
  readonly useOverResting: number;
  /** Factor on the gas transfer of a still surface. */
  readonly stillSurfaceFactor: number;
  readonly groups: readonly AnimalGroup[];
  /** Ammonia excretion of unfed animals [g N/d]. */
  readonly fastingGNPerDay: number;
  /** Food given evenly over the day, eaten and uneaten [g N/d]; zero where meals are given. */
  readonly evenFeeding: { readonly eatenGNPerDay: number; readonly uneatenGNPerDay: number };
  readonly salinityGPerKg: number;
  /** What events change in the coefficients, by the kind of the event (`RunState.adjust`). */
  readonly adjustments: Readonly<Record<string, Adjustment>>;
}

/** The state at the start of the plan: running, everything as built, no animals yet. */
export function initialOperatingState({ rig, management, cells, exchange }: NitrogenModel): OperatingState {
  return {
    volumesM3: exchange.volumesM3,
    temperatureC: cells.map(() => management.temperatureC),
    setpointC: management.temperatureC,
    weather: null,
    wettedShare: rig.towers.map(() => null),
    blinded: rig.towers.map((tower) => tower.prefilter?.blindedShare ?? 0),
    lid: rig.towers.map((tower) => tower.lid),
    running: true,
    dark: false,
    closedOff: rig.closedFilters.map(() => false),
    plantUptakeGNPerDay: management.plants?.uptakeGNPerDay ?? 0,
    airStonePerDay: management.airStonePerDay,
    batteryAirPerDay: 0,
    useOverResting: ACTIVITY_FACTOR.active.likely,
    stillSurfaceFactor: 1,
    groups: [],
    fastingGNPerDay: 0,
    evenFeeding: { eatenGNPerDay: 0, uneatenGNPerDay: 0 },
    salinityGPerKg: rig.salinityGPerKg,
    adjustments: {},
  };
}

/**
 * The same aquarium with power and pump on and its water at the set-point, for queries about the capacity of its
 * bacteria. Unchanged when it runs.
 */
export function asRunning({ exchange }: NitrogenModel, operating: OperatingState): OperatingState {
  if (operating.running) return operating;
  const { setpointC } = operating;
  return {
    ...operating,
    running: true,
    dark: false,
    volumesM3: exchange.volumesM3,
    temperatureC: operating.temperatureC.map(() => setpointC),
  };
}

/** Wetted area of every film [m²]. */
export function wettedAreas(aquarium: NitrogenModel, { wettedShare }: Pick<OperatingState, "wettedShare">): number[] {
  const { rig, management, exchange, towerCells, filmOf, surfaceM2 } = aquarium;
  const areas = [...surfaceM2];
  rig.towers.forEach((tower, t) => {
    // A clogged pad reduces the flow through the media but leaves them moist, so the film remains.
    const flow = Math.max(runningInflowM3PerS(exchange, towerCells[t]), 1e-7);
    const film = filmOf.towers[t];
    areas[film] = Math.max(1e-4, surfaceM2[film] * wettedShareOf(tower, rig, management, flow, wettedShare[t]));
  });
  return areas;
}
