// What a nitrogen system is made of (fixed), and the numbers on it that events change (conditions).

export interface CellSpec {
  readonly id: string;
  readonly name: string;
}

export interface FilmSpec {
  readonly id: string;
  readonly name: string;
  /** Index of the cell whose water it touches. */
  readonly cell: number;
  /** Film thickness, water kept in and on it, and the still layer over it [m]. */
  readonly filmM: number;
  readonly waterM: number;
  readonly boundaryM: number;
}

/** Ways by which water may pass between cells; their flows are conditions. */
export interface StreamSpec {
  readonly from: number;
  readonly to: number;
}

export interface Wiring {
  readonly cells: readonly CellSpec[];
  readonly films: readonly FilmSpec[];
  readonly ways: readonly StreamSpec[];
  /** Cells with a gas space of their own over the water (towers). */
  readonly gasCells: readonly number[];
  /** Cells that each gut empties into, by their share of the water in them all. */
  readonly guts: readonly { readonly id: string; readonly cells: readonly number[] }[];
}

export interface CellConditions {
  volumeM3: number;
  temperatureC: number;
  /** Oxygen and carbon dioxide transfer to room air [1/d] (for a gas cell: to its own gas). */
  o2TransferPerDay: number;
  co2TransferPerDay: number;
  nh3TransferPerDay: number;
  /** Saturation with room air [g/m3, mol/m3]. */
  o2SaturationGPerM3: number;
  co2SaturationMolPerM3: number;
  /** Animals' wish for oxygen [g/m3/d] and their resting excretion [g N/m3/d]. */
  respirationGPerM3Day: number;
  excretionGNPerM3Day: number;
  plantUptakeGNPerM3Day: number;
  settlingPerDay: number;
  skimmingPerDay: number;
  /** Share of suspended waste arriving by each way that is caught on a pad here. */
  captureShare: number;
}

export interface FilmConditions {
  /** Surface that is wet and reached by the water [m2]. */
  areaM2: number;
  /** Activity left to ammonia and nitrite oxidisers under a medicine, 0..1. */
  aobActivity: number;
  nobActivity: number;
}

export interface GasConditions {
  /** Gas volume over the water [m3] and its exchange with the room [1/d]. */
  volumeM3: number;
  exchangePerDay: number;
  /** Oxygen and carbon dioxide in the room's air [g/m3, mol/m3]. */
  roomO2GPerM3: number;
  roomCo2MolPerM3: number;
}

export interface Conditions {
  readonly cells: CellConditions[];
  readonly films: FilmConditions[];
  readonly gas: GasConditions[];
  /** Flow of each way [m3/d]. */
  readonly flows: Float64Array;
  salinityGPerKg: number;
  /**
   * Of each gut: emptying of its two stages [1/d], how much of the nitrogen leaves as ammonia and as solid waste (the rest is kept), and
   * food given evenly over the day, eaten and not [g N/d].
   */
  readonly guts: { ratePerDay: number; tanShare: number; wasteShare: number; eatenGNPerDay: number; uneatenGNPerDay: number }[];
}

/** Conditions to begin with: warm still water, open and unfed. Whoever builds a system sets what matters to it. */
export function plainConditions({ cells, films, gasCells, guts, ways }: Wiring): Conditions {
  return {
    cells: cells.map(() => ({
      volumeM3: 0.1,
      temperatureC: 25,
      o2TransferPerDay: 0,
      co2TransferPerDay: 0,
      nh3TransferPerDay: 0,
      o2SaturationGPerM3: 8,
      co2SaturationMolPerM3: 0.015,
      respirationGPerM3Day: 0,
      excretionGNPerM3Day: 0,
      plantUptakeGNPerM3Day: 0,
      settlingPerDay: 0,
      skimmingPerDay: 0,
      captureShare: 0,
    })),
    films: films.map(() => ({ areaM2: 1, aobActivity: 1, nobActivity: 1 })),
    gas: gasCells.map(() => ({ volumeM3: 0.01, exchangePerDay: 100, roomO2GPerM3: 275, roomCo2MolPerM3: 0.017 })),
    flows: new Float64Array(ways.length),
    salinityGPerKg: 0,
    guts: guts.map(() => ({ ratePerDay: 5, tanShare: 0.575, wasteShare: 0.19, eatenGNPerDay: 0, uneatenGNPerDay: 0 })),
  };
}
