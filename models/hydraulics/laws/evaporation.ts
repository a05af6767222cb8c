// Evaporation of the system, for simulations over days.

import { airVapourPressurePa, COVERED_FACTOR, evaporationKgPerM2S, UNDISTURBED_FACTOR } from "../../heat/evaporation.ts";
import type { Rig } from "../../rig.ts";

/** Air velocity over a tank indoors [m/s] (modelling assumption). */
const ROOM_AIR_M_PER_S = 0.1;

/**
 * Evaporation of the whole system [m³/s]: as given, or from the open surfaces of displays and sump by the pool equation
 * (see heat/evaporation). The heat model computes that of the tower.
 */
export function evaporationOfRigM3PerS(rig: Rig): number {
  if (rig.evaporationM3PerS !== null) return rig.evaporationM3PerS;
  const air = airVapourPressurePa(rig.room.temperatureC, rig.room.relativeHumidity);
  const per = (factor: number) =>
    Math.max(0, evaporationKgPerM2S(rig.waterTemperatureC, rig.salinityGPerKg, air, ROOM_AIR_M_PER_S, factor)) / 1000;
  const displays = rig.displays.reduce(
    (sum, { lengthM, widthM, lid }) => sum + lengthM * widthM * per(lid === "open" ? UNDISTURBED_FACTOR : COVERED_FACTOR),
    0,
  );
  return displays + rig.sump.lengthM * rig.sump.widthM * per(COVERED_FACTOR);
}
