// Animals, food, inoculum and water of a tank, and how it is maintained; `events/` has the planned events. Plain data in
// g, m³, days and °C; nitrogen is always in g N/m³ (= mg N/L), alkalinity in eq/m³ (= meq/L).

import type { AnimalKind } from "../life/animals.ts";

export interface WaterQuality {
  readonly ph: number;
  readonly alkalinityEqPerM3: number;
  readonly tanGPerM3: number;
  readonly no2GPerM3: number;
  readonly no3GPerM3: number;
  readonly chlorideGPerM3: number;
  readonly salinityGPerKg: number;
}

/** The water used for water changes. */
export interface TapWater extends WaterQuality {
  /** As it goes in [°C]; null = as warm as the water that it replaces. */
  readonly temperatureC: number | null;
  /** Chloramine as Cl2 [g/m³]; a conditioner releases its ammonia, otherwise it stays and is harmful. */
  readonly chloramineGPerM3: number;
  readonly treated: boolean;
}

/** Determines the oxygen use and the oxygen, temperature and toxicity thresholds of a group. */
export type { AnimalKind } from "../life/animals.ts";

export interface AnimalGroup {
  readonly id: string;
  readonly name: string;
  readonly kind: AnimalKind;
  readonly count: number;
  /** Wet mass of one animal [g]. */
  readonly massG: number;
  /** Food for the whole group [g as fed per day] and its protein share (0-1). */
  readonly foodGPerDay: number;
  readonly proteinShare: number;
  /** Share of the food that is never eaten. */
  readonly uneatenShare: number;
  /** Hours of the day at which it is fed. */
  readonly feedingHours: readonly number[];
  readonly arrivesDay: number;
  readonly leavesDay: number | null;
  /**
   * Relative growth of mass per day; food is proportional to mass. Null where it is unknown: mass and food are
   * constant, and the animals retain the usual share of nitrogen.
   */
  readonly growthPerDay: number | null;
}

export interface Plants {
  /** Largest nitrogen uptake of all plants in good light [g N/d]; ammonia first. */
  readonly uptakeGNPerDay: number;
}

/** Bacteria on the surfaces at the start, as a share of the mature biomass: likely value with its range. */
export interface Inoculum {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  /** Location: on the tower/submerged media only (moved media) or on every surface. */
  readonly where: "media" | "everywhere";
  /** Biomass that came dead with the seed, over what of it lives on; it rots where it lies. */
  readonly deadPerLiving?: number;
}

export interface SurfaceAreas {
  /** Glass, rock and gravel under flowing water in each display [m²]. */
  readonly displayM2: number;
}

/** ammonia: a solution, which also adds alkalinity; ammonium: a salt, which does not. */
export type DoseSubstance = "ammonia" | "ammonium" | "nitrite" | "bicarbonate" | "chloride";

export type ClosedFilterAfter = "restarted" | "rinsed first" | "left off";

/** Daily course of the air in a room [°C]: its maximum (at 15:00) and its minimum (at 03:00). */
export interface RoomDay {
  readonly dayC: number;
  readonly nightC: number;
}

/** Air around the tank, and other heat sources. Null if the water is held at its temperature. */
export interface Climate extends RoomDay {
  /** The room of each part (displays, the sump) that stands in another room, by id; its weather is the same every day. */
  readonly ownRooms: Readonly<Record<string, RoomDay>>;
  /** Mean heat input of lamps and other appliances to the first display [W]. */
  readonly lampsW: number;
}

export interface Management {
  readonly days: number;
  readonly start: WaterQuality;
  readonly temperatureC: number;
  readonly tap: TapWater;
  readonly groups: readonly AnimalGroup[];
  readonly plants: Plants | null;
  readonly seed: Inoculum;
  readonly surfaces: SurfaceAreas;
  /** Oxygen transfer coefficient added by an air stone or other stirring in the displays from the start [1/d]. */
  readonly airStonePerDay: number;
  /** Foam fractionator or other reactor: share of particulate organics that it removes from its flow. */
  readonly foamFractionator: { readonly flowM3PerDay: number; readonly removalShare: number } | null;
  readonly heaterW: number;
  readonly climate: Climate | null;
}

/** An event of a plan on its day, with its label in the charts. */
export type OnDay<Body> = { readonly day: number; readonly label: string } & Body;
