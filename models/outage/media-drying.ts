// Media in a drained tower: the water that they retain, and how the bed dries from the air side.
import { airVapourPressurePa, evaporativeCoefficientWPerM2Pa } from "../heat/evaporation.ts";
import type { Tower } from "../rig.ts";
import { capillaryHoldup, drainingFilmShare, filmThicknessM } from "../tower/holdup.ts";
import { mediaType } from "../tower/media.ts";
import { liquidAt } from "../water/liquid.ts";
import { latentHeatJPerKg, saturationVapourPressurePa } from "../water/vapour.ts";
import { type AtRest, type Cut, cellOf, roomDuring } from "./cut.ts";
import { towerAirKgPerS, towerVapourWPerPa } from "./resting-heat.ts";
import type { TemperatureCurve } from "./temperature.ts";

/** Water inside the biofilm [m]: nine tenths of a film 0.3 mm thick (modelling assumption, as in the nitrogen model). */
const FILM_WATER_M = 3e-4;
/**
 * Load for which the draining film is computed [m/s]: 5 m/h, a common tower. The film drains to a tenth within the
 * hour, so the result depends little on it.
 */
const DRAINING_LOAD_M_PER_S = 5 / 3600;

/**
 * Factor on the computed drying rate. No drying curve of a nitrifying film was found: hold-up, air paths and the
 * humidity deficit of the room are each known to about a factor of 2 (modelling assumption).
 */
export const DRYING_SPEED = { low: 1 / 3, likely: 1, high: 3 } as const;

/**
 * Share of the nitrifiers lost where the film has dried out; nitrite oxidisers are assumed to be more sensitive
 * (modelling assumption, no published curve).
 */
export const DRIED_LOSS = { aob: { low: 0.5, likely: 0.8, high: 0.95 }, nob: { low: 0.7, likely: 0.95, high: 1 } } as const;

/** Share of a tower's media that is submerged at rest, from the chamber level, the grate and the media depth (geometry). */
export function drownedShare(rest: AtRest, tower: Tower): number {
  const level = rest.chamberLevelZ[tower.drainsTo] ?? 0;
  return Math.min(1, Math.max(0, (level - tower.grateZ) / tower.mediaDepthM));
}

/** Water retained on and in the media an hour after the stop: in total [kg], and per wetted surface [kg/m²]. */
export function clingingWater(rest: AtRest, t: number): { readonly kg: number; readonly kgPerM2: number } {
  const { rig, management } = rest;
  const tower = rig.towers[t];
  const { specificSurfaceM2PerM3, voidShare, kind } = tower.media;
  const bed = tower.lengthM * tower.widthM * tower.mediaDepthM * (1 - drownedShare(rest, tower));
  const liquid = liquidAt(management.temperatureC, rig.salinityGPerKg);
  const wettedPerM3 = Math.max(rest.wettedShare[t] * specificSurfaceM2PerM3, 1);
  const flowing = filmThicknessM(liquid, DRAINING_LOAD_M_PER_S, wettedPerM3);
  const draining = flowing * drainingFilmShare(liquid, flowing, tower.mediaDepthM, 3600);
  const inside = capillaryHoldup(liquid, specificSurfaceM2PerM3, voidShare) + (mediaType(kind)?.poreWaterShare ?? 0);
  const perM2M = FILM_WATER_M + draining + inside / wettedPerM3;
  return { kg: liquid.densityKgPerM3 * perM2M * wettedPerM3 * bed, kgPerM2: liquid.densityKgPerM3 * perM2M };
}

/**
 * Share of the media above the water that has been dry at some time so far; one value per sample of `temperatures`. The
 * pieces in contact with room air dry first, at the evaporation rate of an open surface; after that a drying front
 * moves into the bed as fast as the passing air can remove vapour. Misting wets everything again (modelling assumption;
 * the relations are those of `towerEvaporationKgPerS`).
 * @param t index of the tower
 * @param speed one of DRYING_SPEED
 */
export function driedShare(rest: AtRest, cut: Cut, t: number, temperatures: TemperatureCurve, speed: number): Float64Array {
  const { rig } = rest;
  const tower = rig.towers[t];
  const cell = cellOf(rest, "tower", tower.id);
  const water = clingingWater(rest, t);
  const room = roomDuring(rig, cut);
  const roomPa = airVapourPressurePa(room.temperatureC, room.relativeHumidity);
  const { stepH, samples } = temperatures;
  const dried = new Float64Array(samples.length);
  let outerKgPerM2 = 0;
  let pastOuterKg = 0;
  let nextMist = cut.mistEveryHours ?? Number.POSITIVE_INFINITY;
  for (let i = 1; i < samples.length; i++) {
    const c = samples[i][cell];
    const thirstPa = Math.max(0, saturationVapourPressurePa(c, rig.salinityGPerKg) - roomPa);
    const seconds = stepH * 3600 * speed;
    outerKgPerM2 += (seconds * evaporativeCoefficientWPerM2Pa(0) * thirstPa) / latentHeatJPerKg(c);
    if (outerKgPerM2 >= water.kgPerM2) {
      const conductance = towerVapourWPerPa(rest, tower, cut, towerAirKgPerS(rest, tower, cut, c), c);
      pastOuterKg += (seconds * conductance * thirstPa) / latentHeatJPerKg(c);
    }
    dried[i] = Math.max(dried[i - 1], water.kg > 0 ? Math.min(1, pastOuterKg / water.kg) : 0);
    if (i * stepH >= nextMist) {
      outerKgPerM2 = 0;
      pastOuterKg = 0;
      nextMist += cut.mistEveryHours ?? Number.POSITIVE_INFINITY;
    }
  }
  return dried;
}
