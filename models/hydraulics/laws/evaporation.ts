// Evaporation of the system, for simulations over days.

import {
  airVapourPressurePa,
  COVERED_FACTOR,
  evaporationKgPerM2S,
  MOVING_FACTOR,
  ROOM_AIR_M_PER_S,
  towerEvaporationKgPerS,
} from "../../heat/evaporation.ts";
import type { Rig, Tower } from "../../rig.ts";
import { airDensityKgPerM3, towerAirExchangeM3PerS } from "../../tower/ventilation.ts";
import { airPressurePa } from "../../water/pressure.ts";

/** Height above the media that the draught also passes [m] (modelling assumption, as during an outage). */
const OVER_MEDIA_M = 0.1;

/** Water that the air of a running tower removes [kg/s]. All media counts as wet, because the air limits the rate. */
function towerKgPerS({ room, waterTemperatureC, salinityGPerKg, cabinet }: Rig, tower: Tower): number {
  const pressurePa = airPressurePa(room.altitudeM);
  const planAreaM2 = tower.lengthM * tower.widthM;
  const lid = tower.lid === "open" && cabinet !== null ? "vented" : tower.lid;
  const air = { planAreaM2, heightM: tower.mediaDepthM + OVER_MEDIA_M, lid, forcedM3PerS: tower.airFlowM3PerS };
  const airKgPerS =
    towerAirExchangeM3PerS(air, waterTemperatureC, { ...room, pressurePa }) *
    airDensityKgPerM3(room.temperatureC, room.relativeHumidity, pressurePa);
  const mediaM2 = tower.media.specificSurfaceM2PerM3 * planAreaM2 * tower.mediaDepthM;
  const vapourPa = airVapourPressurePa(room.temperatureC, room.relativeHumidity);
  return Math.max(0, towerEvaporationKgPerS(airKgPerS, mediaM2, waterTemperatureC, salinityGPerKg, vapourPa, pressurePa));
}

/**
 * Evaporation of the whole running system [m³/s]: as given, or from the moving surfaces of displays and sump by the pool
 * equation and from the towers by the air flow through them (see heat/evaporation). The sump counts as covered.
 */
export function evaporationOfRigM3PerS(rig: Rig): number {
  if (rig.evaporationM3PerS !== null) return rig.evaporationM3PerS;
  const air = airVapourPressurePa(rig.room.temperatureC, rig.room.relativeHumidity);
  const per = (factor: number) =>
    Math.max(0, evaporationKgPerM2S(rig.waterTemperatureC, rig.salinityGPerKg, air, ROOM_AIR_M_PER_S, factor)) / 1000;
  const displays = rig.displays.reduce(
    (sum, { lengthM, widthM, lid }) => sum + lengthM * widthM * per(lid === "open" ? MOVING_FACTOR : COVERED_FACTOR),
    0,
  );
  const towers = rig.towers.reduce((sum, tower) => sum + towerKgPerS(rig, tower) / 1000, 0);
  return displays + rig.sump.lengthM * rig.sump.widthM * per(COVERED_FACTOR) + towers;
}
