// Stagnant water with biofilm during an outage: submerged parts of towers, submerged media in the sump, closed filters.

import { ANOXIC_G_PER_M3, NITRATE_GONE_G_PER_M3, type OutageRecord } from "../nitrogen/operation/outage-record.ts";
import type { NitrogenModel } from "../nitrogen/tank/nitrogen-model.ts";
import { mediaType } from "../tower/media.ts";
import { type AtRest, cellOf, HORIZON_H, rangeH } from "./cut.ts";
import { drownedShare } from "./media-drying.ts";
import { firstBelowH, type OutageTrial } from "./outage-trial.ts";
import { type AnoxicTimes, anoxicTimes, FILM_USE_FACTOR, filmUse, type StillWater } from "./stagnant-water.ts";

/** A submerged layer thinner than this shares the water of its chamber and has no clock of its own [m] (modelling assumption). */
const THIN_LAYER_M = 0.05;

export interface StagnantVolume {
  readonly water: StillWater;
  readonly film: number;
  /**
   * Cell of a closed filter, whose water the run simulates. Null for media in an open chamber: there the run simulates
   * the water of the whole chamber, not the water between the pieces.
   */
  readonly closedCell: number | null;
}

/** All stagnant volumes of a rig at rest. @param films state of each film when the flow stopped */
export function stagnantVolumes(rest: AtRest, aquarium: NitrogenModel, films: OutageRecord["films"]): readonly StagnantVolume[] {
  const { rig } = rest;
  const { filmOf, closedCells } = aquarium;
  const common = (film: number) => ({
    useGPerM2Day: filmUse(films[film].o2GPerM2Day),
    no3GPerM3: films[film].no3GPerM3,
    temperatureC: rest.management.temperatureC,
    salinityGPerKg: rig.salinityGPerKg,
    altitudeM: rig.room.altitudeM,
  });
  const areaM2 = (film: number) => films[film].areaM2;
  const towers = rig.towers.flatMap((tower, t): StagnantVolume[] => {
    const share = drownedShare(rest, tower);
    if (share * tower.mediaDepthM < THIN_LAYER_M) return [];
    const between = tower.lengthM * tower.widthM * tower.mediaDepthM * share * tower.media.voidShare;
    const chamber = rest.volumesM3[cellOf(rest, "chamber", tower.drainsTo)];
    const water = {
      ...common(filmOf.towers[t]),
      id: `${tower.id} drowned`,
      name: `the lowest ${Math.round(1000 * share * tower.mediaDepthM)} mm of media in the tower`,
      volumeM3: [between, Math.max(between, chamber)] as const,
      filmM2: share * areaM2(filmOf.towers[t]),
      openM2: tower.lengthM * tower.widthM,
    };
    return [{ water, film: filmOf.towers[t], closedCell: null }];
  });
  const withMedia = rig.sump.chambers.filter((chamber) => (chamber.submergedMedia?.volumeM3 ?? 0) > 0);
  const chambers = withMedia.flatMap((chamber, n): StagnantVolume[] => {
    const media = chamber.submergedMedia;
    if (!media) return [];
    const cell = cellOf(rest, "chamber", chamber.id);
    const between = media.volumeM3 * (media.voidShare + (mediaType(media.kind)?.poreWaterShare ?? 0));
    const all = rest.volumesM3[cell];
    const water = {
      ...common(filmOf.submerged[n]),
      id: `${chamber.id} media`,
      name: `the media under water in the ${chamber.role} chamber`,
      volumeM3: [Math.min(between, all), Math.max(between, all)] as const,
      filmM2: areaM2(filmOf.submerged[n]),
      openM2: chamber.lengthM * rig.sump.widthM,
    };
    return [{ water, film: filmOf.submerged[n], closedCell: null }];
  });
  const closed = rig.closedFilters.map((filter, n): StagnantVolume => {
    const between = filter.media.volumeM3 * filter.media.voidShare;
    const water = {
      ...common(filmOf.closed[n]),
      id: filter.id,
      name: `the media in ${filter.id}`,
      volumeM3: [Math.min(between, filter.waterM3), filter.waterM3] as const,
      filmM2: areaM2(filmOf.closed[n]),
      openM2: 0,
    };
    return { water, film: filmOf.closed[n], closedCell: closedCells[n] };
  });
  return [...towers, ...chambers, ...closed];
}

/**
 * When stagnant water runs out of oxygen and of nitrate. For a closed filter the run gives the likely time; the time is
 * proportional to volume over uptake, so the earliest uses the pore water alone and high uptake, the latest low uptake.
 * All others follow `anoxicTimes`.
 */
export function anoxicTimesOf({ water, closedCell }: StagnantVolume, { likely }: OutageTrial): AnoxicTimes {
  if (closedCell === null) return anoxicTimes(water);
  const oxygen = firstBelowH(likely, (i) => likely.oxygen[i][closedCell], ANOXIC_G_PER_M3);
  const both = (i: number) =>
    Math.max(likely.oxygen[i][closedCell] / ANOXIC_G_PER_M3, likely.nitrate[i][closedCell] / NITRATE_GONE_G_PER_M3);
  const nitrate = firstBelowH(likely, both, 1);
  const between = water.volumeM3[0] / water.volumeM3[1];
  const range = (likelyH: number | null) =>
    likelyH === null
      ? null
      : rangeH((likelyH * between) / FILM_USE_FACTOR.high, Math.min(HORIZON_H, likelyH / FILM_USE_FACTOR.low));
  return {
    oxygenGoneH: range(oxygen),
    nitrateGoneH: range(nitrate),
    likelyOxygenGoneH: oxygen,
    likelyNitrateGoneH: nitrate,
  };
}

/** A closed filter, and when its water runs out of oxygen and nitrate. */
export interface ClosedWater {
  readonly name: string;
  readonly anoxic: AnoxicTimes;
}

/** The closed filters of a simulated outage, and when each runs out of oxygen and nitrate. */
export const closedWaters = (rest: AtRest, trial: OutageTrial): ClosedWater[] =>
  stagnantVolumes(rest, trial.aquarium, trial.likely.films)
    .filter(({ closedCell }) => closedCell !== null)
    .map((standing) => ({ name: standing.water.id, anoxic: anoxicTimesOf(standing, trial) }));
