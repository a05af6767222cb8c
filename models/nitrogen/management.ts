// What lives in the water and what is done to it: animals, food, seed, water, and a timeline in days. Plain data, SI-ish units
// (g, m3, days, °C); concentrations of nitrogen are always g N per m3 (= mg N/L), alkalinity eq/m3 (= meq/L).

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

/** What a group stands for when oxygen and toxicity thresholds are looked up. */
export type AnimalKind = "warm-water fish" | "cold-water fish" | "marine fish" | "invertebrate";

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
  /** Relative growth of mass per day; food follows mass. */
  readonly growthPerDay: number;
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
}

export interface SurfaceAreas {
  /** Glass, rock, gravel under flowing water in each display [m2]. */
  readonly displayM2: number;
}

/** ammonia: a solution, which also brings alkalinity; ammonium: a salt, which does not. */
export type DoseSubstance = "ammonia" | "ammonium" | "nitrite" | "bicarbonate" | "chloride";

export type ClosedFilterAfter = "restarted" | "rinsed first" | "left off";

export type ManagementEvent = { readonly day: number; readonly label: string } & (
  | {
      readonly kind: "dose";
      readonly substance: DoseSubstance /** g N, eq or g Cl in all; or up to a level [per m3]. */;
      readonly amount: number | null;
      readonly toLevel: number | null;
      /** Skip unless both TAN and nitrite (as N) are below these. */ readonly onlyBelow: {
        readonly tan: number;
        readonly no2: number;
      } | null;
      /** The keeper's own rhythm of a cycle without animals, given by the rules of `challenge-test.ts`; a dose the plan names is given as written. */
      readonly routine?: boolean;
    }
  | {
      readonly kind: "feed";
      readonly group: string | null /** Multiply the plan by this from now on. */;
      readonly factor: number /** Extra food that nobody eats [g/day, until the next feed event]. */;
      readonly extraGPerDay: number;
    }
  | { readonly kind: "water change"; readonly share: number; readonly tap: TapWater }
  | { readonly kind: "rinse media"; readonly where: string | null; readonly lostShare: number }
  | { readonly kind: "replace media"; readonly where: string | null; readonly share: number }
  | {
      readonly kind: "medicine";
      readonly aobLost: number;
      readonly nobLost: number;
      readonly inhibition: number;
      readonly lastsDays: number;
    }
  | { readonly kind: "carcass"; readonly massG: number; readonly foundDay: number | null }
  | {
      readonly kind: "power cut";
      readonly hours: number;
      /** After the power is back the return pump does not turn for so long more [h]; 0 = it starts. */
      readonly pumpStuckHours: number;
      /** false: only the pump stopped, heater and air still run. */
      readonly everythingOff: boolean;
      readonly batteryAir: boolean;
      readonly stirEveryHours: number | null;
      readonly mistEveryHours: number | null;
      readonly room: { readonly temperatureC: number; readonly relativeHumidity: number } | null;
      readonly towerOpen: boolean;
      /** Animals get their meals all the same. */
      readonly fedMeanwhile: boolean;
      /** What is done with closed filters when the power is back: they run on with their stale water, are emptied and rinsed, or stay off. */
      readonly closedFilter: ClosedFilterAfter;
    }
  | { readonly kind: "wetting"; readonly tower: string | null; readonly wettedShare: number | null }
  | { readonly kind: "prefilter"; readonly blindedShare: number }
  | { readonly kind: "change pad" }
  | { readonly kind: "siphon sediment" }
  | { readonly kind: "lid"; readonly state: "open" | "vented" | "sealed" }
  | { readonly kind: "temperature"; readonly setpointC: number }
  | { readonly kind: "plants"; readonly uptakeGNPerDay: number }
);

export interface Management {
  readonly days: number;
  readonly start: WaterQuality;
  readonly temperatureC: number;
  readonly tap: TapWater;
  readonly groups: readonly AnimalGroup[];
  readonly plants: Plants | null;
  readonly seed: Inoculum;
  readonly surfaces: SurfaceAreas;
  /** An air stone or other stirring in the display: oxygen transfer coefficient added [1/day]. */
  readonly airStonePerDay: number;
  /** Foam fractionator or other reactor: share of particulate organics taken from the flow through it. */
  readonly foamFractionator: { readonly flowM3PerDay: number; readonly removalShare: number } | null;
  readonly heaterW: number;
  readonly events: readonly ManagementEvent[];
}
