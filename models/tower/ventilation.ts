// Air flow through the tower, which supplies oxygen and removes carbon dioxide and moisture.
import { hypot } from "../../sim/elementary.ts";
import { GRAVITY_M_PER_S2 } from "../water/liquid.ts";
import { ZERO_CELSIUS_K } from "../water/temperature.ts";
import { pureWaterSaturationPressurePa } from "../water/vapour.ts";

/** Gas constants of dry air and water vapour, J/(kg K). */
const DRY_AIR_J_PER_KG_K = 287.05;
const VAPOUR_J_PER_KG_K = 461.5;

/** Density of moist air, kg/m³ (ideal gases). Relative humidity 0-1. */
export function airDensityKgPerM3(temperatureC: number, relativeHumidity: number, pressurePa: number): number {
  const temperatureK = temperatureC + ZERO_CELSIUS_K;
  const vapourPa = relativeHumidity * pureWaterSaturationPressurePa(temperatureC);
  return (pressurePa - vapourPa) / (DRY_AIR_J_PER_KG_K * temperatureK) + vapourPa / (VAPOUR_J_PER_KG_K * temperatureK);
}

/** Kinds of lid of a tower, as in the rig. */
export type TowerLid = "open" | "vented" | "sealed";

/**
 * Free area for air as a share of the plan area, at the narrower end, and the air exchange without any driving force
 * (m/s over the plan). Modelling assumptions: an open tower stands over the sump with a gap of about 2 % of its plan
 * area and an open top in a room with weak air movement; a vented lid has slots of 0.5 %; a sealed lid leaks through a
 * seam, 0.1 mm/s over its plan.
 */
export const TOWER_OPENINGS: Readonly<Record<TowerLid, { readonly freeShare: number; readonly idleMPerS: number }>> = {
  open: { freeShare: 0.02, idleMPerS: 2e-3 },
  vented: { freeShare: 0.005, idleMPerS: 5e-4 },
  sealed: { freeShare: 0, idleMPerS: 1e-4 },
};

/** Discharge coefficient of a sharp-edged opening for air (common practice, no published source). */
const OPENING_DISCHARGE = 0.6;

export interface TowerAir {
  readonly planAreaM2: number;
  /** Height between the lower and the upper opening, m. */
  readonly heightM: number;
  readonly lid: TowerLid;
  /** Fan flow, blown or drawn through, m³/s. */
  readonly forcedM3PerS: number;
}

/** The air of the room. */
export interface RoomAir {
  readonly temperatureC: number;
  /** 0-1. */
  readonly relativeHumidity: number;
  readonly pressurePa: number;
}

/**
 * Draught pressure between a column of saturated air at water temperature and the room air, Pa, positive when the column rises.
 * Ideal-gas form of the trickling-filter rule 353 (1/Tc - 1/Th) Z mm of water (Metcalf & Eddy), here with the humidity of both.
 */
export function draughtPa(heightM: number, waterTemperatureC: number, room: RoomAir): number {
  const inside = airDensityKgPerM3(waterTemperatureC, 1, room.pressurePa);
  const outside = airDensityKgPerM3(room.temperatureC, room.relativeHumidity, room.pressurePa);
  return GRAVITY_M_PER_S2 * heightM * (outside - inside);
}

/** The rule for dry air, mm of water: 353 (1/Tc - 1/Th) Z with T in K; the arguments are in °C. */
export function dryDraughtMmWater(heightM: number, coolC: number, warmC: number): number {
  return 353 * (1 / (coolC + ZERO_CELSIUS_K) - 1 / (warmC + ZERO_CELSIUS_K)) * heightM;
}

/**
 * Air exchange of a tower with the room, m³/s, never negative. Natural draught through two equal openings in series (orifice equation),
 * fan flow and idle exchange are combined as the root of the sum of squares, which is smooth and lets the largest dominate.
 */
export function towerAirExchangeM3PerS(tower: TowerAir, waterTemperatureC: number, room: RoomAir): number {
  const { freeShare, idleMPerS } = TOWER_OPENINGS[tower.lid];
  const density = airDensityKgPerM3(room.temperatureC, room.relativeHumidity, room.pressurePa);
  const halfDraughtPa = 0.5 * Math.abs(draughtPa(tower.heightM, waterTemperatureC, room));
  const natural = OPENING_DISCHARGE * freeShare * tower.planAreaM2 * Math.sqrt((2 * halfDraughtPa) / density);
  const forced = tower.lid === "sealed" ? 0 : tower.forcedM3PerS;
  return hypot(natural, forced, idleMPerS * tower.planAreaM2);
}
