// Media under water that does not move: oxygen goes, then nitrate, then it turns foul.
import { exp, log } from "../../sim/elementary.ts";
import { STILL_SURFACE_K600_M_PER_DAY, surfaceVelocityMPerDay } from "../gas/surface-exchange.ts";
import { ANOXIC_G_PER_M3 } from "../nitrogen/operation/outage-record.ts";
import { oxygenSaturationGPerM3 } from "../water/oxygen.ts";
import { airPressurePa } from "../water/pressure.ts";
import { HORIZON_H, type RangeH, rangeH } from "./cut.ts";

/** Oxygen that a gram of nitrate nitrogen stands for when breathed to nitrogen gas (Henze et al. 2000: 2.86). */
const OXYGEN_PER_NITRATE = 2.86;
/** Films breathe nitrate at this share of their pace on oxygen (Henze et al. 2000: 0.6-0.8, from memory). */
const ANOXIC_PACE = 0.6;

/** A quantity with the ends of its range. */
export interface Spread {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/**
 * Use of oxygen by bacteria against what the run has: whole systems use 0.4-1.0 g per g of food, the animals 0.25-0.5 of it (culture practice,
 * from memory), which leaves the bacteria 0.15-0.5 about a middle of 0.3.
 */
export const FILM_USE_FACTOR: Spread = { low: 0.5, likely: 1, high: 1.7 };

export const filmUse = (likely: number): Spread => ({
  low: FILM_USE_FACTOR.low * likely,
  likely,
  high: FILM_USE_FACTOR.high * likely,
});

/** A body of still water with film in it: drowned media, or a closed filter. */
export interface StillWater {
  readonly id: string;
  readonly name: string;
  /** Water that the film draws on [m3]: at least what stands between the pieces, at most the whole vessel. */
  readonly volumeM3: readonly [number, number];
  readonly filmM2: number;
  /** Oxygen its film uses at the water's temperature [g/(m2 d)]. */
  readonly useGPerM2Day: Spread;
  /** Surface open to the air [m2]; 0 in a closed filter. */
  readonly openM2: number;
  readonly temperatureC: number;
  readonly salinityGPerKg: number;
  readonly altitudeM: number;
  /** Nitrate at the start [g N/m3]. */
  readonly no3GPerM3: number;
}

export interface Foul {
  /** Oxygen gone [h]. */
  readonly oxygenGoneH: RangeH;
  /** Nitrate gone as well, so that sulphide may form [h]. */
  readonly nitrateGoneH: RangeH;
  /** The same for likely use and the geometric mean of the volumes [h]; null when not within the horizon. */
  readonly likelyOxygenGoneH: number | null;
  readonly likelyNitrateGoneH: number | null;
}

/**
 * When still water loses its oxygen and then its nitrate. Earliest: much use, of the water between the pieces, which does not turn over; latest:
 * little use, of all the water with its open surface; likely: the middle, without the surface (modelling assumption).
 */
export function turningFoul(water: StillWater): Foul {
  const { temperatureC, salinityGPerKg } = water;
  const saturation = oxygenSaturationGPerM3(temperatureC, salinityGPerKg, airPressurePa(water.altitudeM));
  const velocity = surfaceVelocityMPerDay("oxygen", temperatureC, salinityGPerKg, STILL_SURFACE_K600_M_PER_DAY);
  const times = (useGPerM2Day: number, volumeM3: number, openM2: number): { oxygen: number | null; nitrate: number | null } => {
    const use = (useGPerM2Day * water.filmM2) / volumeM3;
    const k = (velocity * openM2) / volumeM3;
    const rest = k > 0 ? saturation - use / k : Number.NEGATIVE_INFINITY;
    if (rest >= ANOXIC_G_PER_M3 || use <= 0) return { oxygen: null, nitrate: null };
    const oxygenDays = k > 0 ? log((saturation - rest) / (ANOXIC_G_PER_M3 - rest)) / k : (saturation - ANOXIC_G_PER_M3) / use;
    // What the surface lets in is breathed first; the rest of the need is met by nitrate.
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

/** Loss of nitrifiers that get no food, 1/d at 20 °C: 0.2 with oxygen, 0.03 without (Siegrist et al. 1999). */
export const STARVATION_PER_DAY = { aerobic: 0.2, anaerobic: 0.03 } as const;

/** Share of nitrifiers lost by starving some hours with, then some without oxygen: 1 - exp(-b t) (Siegrist et al. 1999). */
export function starvedShare(aerobicH: number, anaerobicH: number): number {
  return 1 - exp(-(STARVATION_PER_DAY.aerobic * aerobicH + STARVATION_PER_DAY.anaerobic * anaerobicH) / 24);
}

/** Further loss once sulphide may form, 1/d; nitrite oxidisers taken as the more fragile (modelling assumption; hydrogen sulphide harms above 5 µg/L). */
export const SULPHIDE_LOSS_PER_DAY = { aob: 0.1, nob: 0.3 } as const;
