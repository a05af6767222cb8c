// What lives in the water and how it is kept: animals, food, inoculum, water. What is done on which day is in `events/`. Plain data in
// g, m3, days and °C; nitrogen is always in g N/m3 (= mg N/L), alkalinity in eq/m3 (= meq/L).

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

/** The water used for changes. */
export interface TapWater extends WaterQuality {
  readonly temperatureC: number;
  /** Chloramine as Cl2 [g/m3]; its ammonia is set free by the conditioner or stays and harms. */
  readonly chloramineGPerM3: number;
  readonly treated: boolean;
}

export type { AnimalKind } from "../life/animals.ts";

export interface AnimalGroup {
  readonly id: string;
  readonly name: string;
  readonly kind: AnimalKind;
  readonly count: number;
  /** Wet mass of one animal [g]. */
  readonly massG: number;
  /** Food for the whole group [g as fed per day] and its protein share (0..1). */
  readonly foodGPerDay: number;
  readonly proteinShare: number;
  /** Share of the food that is never eaten. */
  readonly uneatenShare: number;
  /** Hours of the day at which it is fed. */
  readonly feedingHours: readonly number[];
  readonly arrivesDay: number;
  readonly leavesDay: number | null;
  /** Relative growth of mass per day; food follows mass. Null where it is not known: mass and food stay, and they keep the usual share of nitrogen. */
  readonly growthPerDay: number | null;
}

export interface Plants {
  /** Largest uptake of nitrogen by the whole stand in good light [g N/day]; ammonia first. */
  readonly uptakeGNPerDay: number;
}

/** How much of a full, mature colony is on the surfaces at the start. `low`..`high` is the honest range, `likely` the central guess. */
export interface Inoculum {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  /** Where it sits: on the tower/submerged media only (moved media) or on every surface. */
  readonly where: "media" | "everywhere";
  /** Biomass that came dead with the seed, over what of it lives on; it rots where it lies. */
  readonly deadPerLiving?: number;
}

export interface SurfaceAreas {
  /** Glass, rock, gravel under flowing water in each display [m2]. */
  readonly displayM2: number;
}

/** ammonia: a solution, which also brings alkalinity; ammonium: a salt, which does not. */
export type DoseSubstance = "ammonia" | "ammonium" | "nitrite" | "bicarbonate" | "chloride";

export type ClosedFilterAfter = "restarted" | "rinsed first" | "left off";

/** Air round the tank over a day, and what else warms the water. Null where the water is simply kept at its temperature. */
export interface Climate {
  /** Warmest (at three in the afternoon) and coldest of the day [°C]. */
  readonly dayC: number;
  readonly nightC: number;
  /** Parts (displays, the sump) that stand in another room, by id, with the temperature there [°C]. */
  readonly ownRoomC: Readonly<Record<string, number>>;
  /** Mean heat of lamps and other appliances that ends in the first display [W]. */
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
  /** An air stone or other stirring in the displays from the start: oxygen transfer coefficient added [1/d]. */
  readonly airStonePerDay: number;
  /** Foam fractionator or other reactor: share of particulate organics taken from the flow through it. */
  readonly foamFractionator: { readonly flowM3PerDay: number; readonly removalShare: number } | null;
  readonly heaterW: number;
  readonly climate: Climate | null;
}

/** An event of a plan on its day, with the words for the charts. */
export type OnDay<Body> = { readonly day: number; readonly label: string } & Body;
