// The coefficients of the equations that events change: volumes, temperatures, flows, transfer, areas. A set of
// coefficients is immutable; an event creates a new one (see `tank/coefficients.ts`).
import type { Wiring } from "./wiring.ts";

export interface CellCoefficients {
  readonly volumeM3: number;
  readonly temperatureC: number;
  /** Transfer coefficients of oxygen and carbon dioxide to room air [1/d] (for a gas cell: to its own gas). */
  readonly o2TransferPerDay: number;
  readonly co2TransferPerDay: number;
  readonly nh3TransferPerDay: number;
  /** Saturation with room air [g/m3, mol/m3]. */
  readonly o2SaturationGPerM3: number;
  readonly co2SaturationMolPerM3: number;
  /** Oxygen uptake of the animals at abundant oxygen [g/m³/d], and ammonia excretion of unfed animals [g N/m³/d]. */
  readonly respirationGPerM3Day: number;
  readonly excretionGNPerM3Day: number;
  readonly plantUptakeGNPerM3Day: number;
  readonly settlingPerDay: number;
  readonly skimmingPerDay: number;
  /** Share of the suspended waste in the inflow that a pad or media retain here. */
  readonly captureShare: number;
}

export interface FilmCoefficients {
  /** Wetted surface in contact with the water [m²]. */
  readonly areaM2: number;
  /** Remaining activity of ammonia and nitrite oxidisers under a medicine, 0-1. */
  readonly aobActivity: number;
  readonly nobActivity: number;
}

export interface GasCoefficients {
  /** Gas volume over the water [m³] and its exchange with the room [1/d]. */
  readonly volumeM3: number;
  readonly exchangePerDay: number;
  /** Oxygen and carbon dioxide in room air [g/m³, mol/m³]. */
  readonly roomO2GPerM3: number;
  readonly roomCo2MolPerM3: number;
}

export interface GutCoefficients {
  /** Emptying rate of each of the two stages [1/d]. */
  readonly ratePerDay: number;
  /** Shares of the nitrogen excreted as ammonia and as solid waste; the animal retains the rest. */
  readonly tanShare: number;
  readonly wasteShare: number;
  /** Food given evenly over the day, eaten and uneaten [g N/d]. */
  readonly eatenGNPerDay: number;
  readonly uneatenGNPerDay: number;
}

/** All coefficients of the equations that an event can change. */
export interface Coefficients {
  readonly cells: readonly CellCoefficients[];
  readonly films: readonly FilmCoefficients[];
  readonly gas: readonly GasCoefficients[];
  /** Flow of each stream [m³/d], in the order of the wiring. */
  readonly flows: Float64Array;
  readonly salinityGPerKg: number;
  readonly guts: readonly GutCoefficients[];
}

/** Coefficients of warm, stagnant water without animals. A caller replaces those that matter to it. */
export function plainCoefficients({ cells, films, gasCells, guts, ways }: Wiring): Coefficients {
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
