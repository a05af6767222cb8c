// Submerged media in stagnant water: oxygen runs out first, then nitrate, then sulphide may form.
import { exp, log } from "../../sim/elementary.ts";
import { STILL_SURFACE_K600_M_PER_DAY, surfaceVelocityMPerDay } from "../gas/surface-exchange.ts";
import { ANOXIC_G_PER_M3 } from "../nitrogen/operation/outage-record.ts";
import { oxygenSaturationGPerM3 } from "../water/oxygen.ts";
import { airPressurePa } from "../water/pressure.ts";
import { HORIZON_H, type RangeH, rangeH } from "./cut.ts";

/** Oxygen equivalent of nitrate nitrogen reduced to nitrogen gas, g/g (Henze et al. 2000: 2.86). */
const OXYGEN_PER_NITRATE = 2.86;
/** Ratio of the anoxic to the aerobic respiration rate of a film (Henze et al. 2000: 0.6-0.8, from memory). */
const ANOXIC_PACE = 0.6;

/** A likely value with its range. */
export interface Spread {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/**
 * Oxygen uptake of bacteria relative to the run. Whole systems use 0.4-1.0 g per g of food and the animals 0.25-0.5 of
 * it (culture practice, from memory), which leaves 0.15-0.5 for the bacteria, with a central value of 0.3.
 */
export const FILM_USE_FACTOR: Spread = { low: 0.5, likely: 1, high: 1.7 };

export const filmUse = (likely: number): Spread => ({
  low: FILM_USE_FACTOR.low * likely,
  likely,
  high: FILM_USE_FACTOR.high * likely,
});

/** A body of stagnant water with biofilm: submerged media, or a closed filter. */
export interface StillWater {
  readonly id: string;
  readonly name: string;
  /** Water available to the film [m³]: at least the pore water, at most the whole vessel. */
  readonly volumeM3: readonly [number, number];
  readonly filmM2: number;
  /** Oxygen uptake of the film at the water's temperature [g/(m² d)]. */
  readonly useGPerM2Day: Spread;
  /** Surface open to the air [m²]; 0 in a closed filter. */
  readonly openM2: number;
  readonly temperatureC: number;
  readonly salinityGPerKg: number;
  readonly altitudeM: number;
  /** Nitrate at the start [g N/m³]. */
  readonly no3GPerM3: number;
}

export interface AnoxicTimes {
  /** Time at which oxygen runs out [h]. */
  readonly oxygenGoneH: RangeH;
  /** Time at which nitrate has run out as well, so that sulphide may form [h]. */
  readonly nitrateGoneH: RangeH;
  /** The same for likely uptake and the geometric mean of the volumes [h]; null when beyond the horizon. */
  readonly likelyOxygenGoneH: number | null;
  readonly likelyNitrateGoneH: number | null;
}

/**
 * When stagnant water runs out of oxygen and then of nitrate. Earliest: high uptake and the pore water only, without
 * mixing. Latest: low uptake and all the water, with its open surface. Likely: likely uptake and the geometric mean of
 * the volumes, without the surface (modelling assumption).
 */
export function anoxicTimes(water: StillWater): AnoxicTimes {
  const { temperatureC, salinityGPerKg } = water;
  const saturation = oxygenSaturationGPerM3(temperatureC, salinityGPerKg, airPressurePa(water.altitudeM));
  const velocity = surfaceVelocityMPerDay("oxygen", temperatureC, salinityGPerKg, STILL_SURFACE_K600_M_PER_DAY);
  const times = (useGPerM2Day: number, volumeM3: number, openM2: number): { oxygen: number | null; nitrate: number | null } => {
    const use = (useGPerM2Day * water.filmM2) / volumeM3;
    const k = (velocity * openM2) / volumeM3;
    const rest = k > 0 ? saturation - use / k : Number.NEGATIVE_INFINITY;
    if (rest >= ANOXIC_G_PER_M3 || use <= 0) return { oxygen: null, nitrate: null };
    const oxygenDays = k > 0 ? log((saturation - rest) / (ANOXIC_G_PER_M3 - rest)) / k : (saturation - ANOXIC_G_PER_M3) / use;
    // Respiration uses the oxygen from the surface first and nitrate for the rest.
    const unmet = Math.max(0, use - k * saturation) * ANOXIC_PACE;
    const nitrateDays = unmet > 0 ? (water.no3GPerM3 * OXYGEN_PER_NITRATE) / unmet : Number.POSITIVE_INFINITY;
    return { oxygen: within(24 * oxygenDays), nitrate: within(24 * (oxygenDays + nitrateDays)) };
  };
  const early = times(water.useGPerM2Day.high, water.volumeM3[0], 0);
  const late = times(water.useGPerM2Day.low, water.volumeM3[1], water.openM2);
  const likely = times(water.useGPerM2Day.likely, Math.sqrt(water.volumeM3[0] * water.volumeM3[1]), 0);
  return {
    oxygenGoneH: rangeH(early.oxygen, late.oxygen),
    nitrateGoneH: rangeH(early.nitrate, late.nitrate),
    likelyOxygenGoneH: likely.oxygen,
    likelyNitrateGoneH: likely.nitrate,
  };
}

const within = (hours: number): number | null => (hours <= HORIZON_H ? hours : null);

/** Decay of nitrifiers without substrate, 1/d at 20 °C: 0.2 with oxygen, 0.03 without (Siegrist et al. 1999). */
export const STARVATION_PER_DAY = { aerobic: 0.2, anaerobic: 0.03 } as const;

/**
 * Share of nitrifiers lost by starvation, after hours with and then hours without oxygen: 1 - exp(-b t) (Siegrist et
 * al. 1999).
 */
export function starvedShare(aerobicH: number, anaerobicH: number): number {
  return 1 - exp(-(STARVATION_PER_DAY.aerobic * aerobicH + STARVATION_PER_DAY.anaerobic * anaerobicH) / 24);
}

/**
 * Additional decay once sulphide may form, 1/d; nitrite oxidisers are assumed to be more sensitive (modelling
 * assumption; hydrogen sulphide harms above 5 µg/L).
 */
export const SULPHIDE_LOSS_PER_DAY = { aob: 0.1, nob: 0.3 } as const;
