// Heat losses while the pump is stopped: through walls, surfaces and air of the display, the stagnant sump and the drained
// tower.

import { pow } from "../../sim/elementary.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import type { Exchange } from "../coupling/exchange.ts";
import type { CellRoom, HeatCell, HeatFlow, HeatNetwork } from "../heat/balance.ts";
import {
  airVapourPressurePa,
  COVERED_FACTOR,
  evaporativeCoefficientWPerM2Pa,
  MOVING_FACTOR,
  ROOM_AIR_M_PER_S,
  UNDISTURBED_FACTOR,
} from "../heat/evaporation.ts";
import { ROOM_FILM_M2_K_PER_W, surfaceUWPerM2K, tankUaWPerK, WATER_FILM_W_PER_M2_K, wallUWPerM2K } from "../heat/walls.ts";
import type { RoomDay } from "../nitrogen/management.ts";
import { type Display, displayPlanM2, type Room, returnLines, type Sump, type Tower } from "../rig.ts";
import { airDensityKgPerM3, type TowerLid, towerAirExchangeM3PerS } from "../tower/ventilation.ts";
import { densityKgPerM3, specificHeatJPerKgK } from "../water/density.ts";
import { airPressurePa } from "../water/pressure.ts";
import { latentHeatJPerKg } from "../water/vapour.ts";
import { type AtRest, type Cut, cellOf, roomDuring } from "./cut.ts";

/** Volumetric heat capacity of the solid media, J/(m³ K): plastics and stone are both near 2e6 (from memory). */
const SOLID_HEAT_J_PER_M3_K = 2e6;
/** Wall thickness of a tower and of a closed filter: 5 mm acrylic (modelling assumption; the scenario does not give it). */
const PLASTIC_WALL_M = 0.005;
const DRY_AIR_J_PER_KG_K = 1006;
/** Proportional band of a thermostat [K] (common practice, no published source). */
const THERMOSTAT_BAND_K = 0.5;
/** Insulation that the keeper adds. */
export interface Wrapping {
  /** Thermal resistance added on the sides [m² K/W]; the top stays open for air. */
  readonly sidesM2KPerW: number;
}

/** A blanket or foam sheet of 20 mm at 0.04 W/(m K) around the sides (handbook conductivity, from memory). */
export const BLANKET: Wrapping = { sidesM2KPerW: 0.5 };
/** No insulation. */
export const BARE: Wrapping = { sidesM2KPerW: 0 };

/**
 * Lid of a tower during the outage: opened by hand, otherwise as built. A tower without a lid behind a shut cabinet
 * door counts as vented.
 */
export function lidDuring(rest: AtRest, tower: Tower, cut: Cut): TowerLid {
  if (cut.towerOpen) return "open";
  return tower.lid === "open" && rest.rig.cabinet !== null ? "vented" : tower.lid;
}

/** Air flow through a tower during the outage [kg/s] at a tower temperature; the fan runs only if it has power. */
export function towerAirKgPerS(rest: AtRest, tower: Tower, cut: Cut, temperatureC: number): number {
  const room = { ...roomDuring(rest.rig, cut), pressurePa: airPressurePa(rest.rig.room.altitudeM) };
  const air = {
    planAreaM2: tower.lengthM * tower.widthM,
    heightM: tower.mediaDepthM + 0.1,
    lid: lidDuring(rest, tower, cut),
    forcedM3PerS: cut.everythingOff ? 0 : tower.airFlowM3PerS,
  };
  return (
    towerAirExchangeM3PerS(air, temperatureC, room) * airDensityKgPerM3(room.temperatureC, room.relativeHumidity, room.pressurePa)
  );
}

/** Dry and wet conductance of a surface [W/K and W/Pa]. Under a cover the air gap and its upper film act in series. */
function surface(
  areaM2: number,
  covered: boolean,
  moving: boolean,
  temperatureC: number,
): { readonly ua: number; readonly wet: number } {
  const open = moving
    ? MOVING_FACTOR * evaporativeCoefficientWPerM2Pa(ROOM_AIR_M_PER_S)
    : UNDISTURBED_FACTOR * evaporativeCoefficientWPerM2Pa(0);
  const u = surfaceUWPerM2K(open, temperatureC);
  return covered
    ? { ua: areaM2 / (1 / u + ROOM_FILM_M2_K_PER_W.upward), wet: areaM2 * COVERED_FACTOR * open }
    : { ua: areaM2 * u, wet: areaM2 * open };
}

function wrapped(uWPerM2K: number, wrapping: Wrapping): number {
  return 1 / (1 / uWPerM2K + wrapping.sidesM2KPerW);
}

/** Conductance of the display walls [W/K]: as `tankUaWPerK`, with the insulation on the four sides. */
function displayUa(display: Display, depthM: number, wrapping: Wrapping): number {
  const all = tankUaWPerK(display.lengthM, display.widthM, depthM, display.glassM, display.wallMaterial);
  const u = wallUWPerM2K(display.wallMaterial, display.glassM, ROOM_FILM_M2_K_PER_W.sideways);
  return all - 2 * (display.lengthM + display.widthM) * depthM * (u - wrapped(u, wrapping));
}

/**
 * Conductance of the outer walls of one chamber [W/K]: two long sides, bottom, and an end wall for the first and the
 * last chamber.
 */
function chamberUa(sump: Sump, index: number, depthM: number, wrapping: Wrapping): number {
  const side = wrapped(wallUWPerM2K(sump.wallMaterial, sump.glassM, ROOM_FILM_M2_K_PER_W.sideways), wrapping);
  const bottom = wallUWPerM2K(sump.wallMaterial, sump.glassM, ROOM_FILM_M2_K_PER_W.downward);
  const { lengthM } = sump.chambers[index];
  const ends = Number(index === 0) + Number(index === sump.chambers.length - 1);
  return (2 * lengthM + ends * sump.widthM) * depthM * side + lengthM * sump.widthM * bottom;
}

/** Index of the chamber with the heater: the one with that role, otherwise the return chamber. */
export function heaterChamber(sump: Sump): number {
  const index = sump.chambers.findIndex((chamber) => chamber.role === "heater");
  return index >= 0 ? index : sump.chambers.length - 1;
}

/**
 * Heat network of the resting rig, with its cells in the order of `rest.cells`. The pump is off, so the only exchange
 * between cells is conduction through the baffles. The heater works only when it has power (`everythingOff` false).
 * Cabinet air is room air; behind a shut door the sump evaporates like a covered tank (modelling assumptions). Volumes
 * are constant: a day's evaporation is about one per cent.
 * @param lossFactor factor on every loss to the room, for the uncertainty range
 * @param moving whether falling and pumped water keeps the surfaces moving
 * @throws Error when a cell belongs to a display or tower that the rig does not have
 */
export function restingHeatNetwork(
  rest: AtRest,
  cut: Cut,
  wrapping: Wrapping = BARE,
  lossFactor = 1,
  moving = false,
): HeatNetwork {
  const { rig, management, volumesM3 } = rest;
  const { sump, salinityGPerKg } = rig;
  const room = roomDuring(rig, cut);
  const waterC = management.temperatureC;
  const perM3 = densityKgPerM3(waterC, salinityGPerKg) * specificHeatJPerKgK(waterC, salinityGPerKg);
  const shutCabinet = rig.cabinet !== null && !cut.towerOpen;
  const heated = heaterChamber(sump);
  const cells = rest.cells.map((cell, c): HeatCell => {
    const water = volumesM3[c] * perM3;
    const own = ownRoomOf(rest, c);
    const common = { salinityGPerKg, constantW: 0, heater: null, ...(own ? { room: meanAir(own, rig.room) } : {}) };
    const losing = (ua: number, wet: number) => ({ uaWPerK: lossFactor * ua, evaporativeWPerPa: lossFactor * wet });
    if (cell.kind === "display") {
      const display = rig.displays.find((d) => d.id === cell.partOf);
      if (!display) throw new Error(`no display ${cell.partOf}`);
      const plan = displayPlanM2(display);
      const top = surface(plan, display.lid === "covered", moving, waterC);
      return {
        ...common,
        heatCapacityJPerK: water,
        ...losing(displayUa(display, volumesM3[c] / plan, wrapping) + top.ua, top.wet),
      };
    }
    if (cell.kind === "chamber") {
      const index = sump.chambers.findIndex((chamber) => chamber.id === cell.partOf);
      const area = sump.chambers[index].lengthM * sump.widthM;
      const top = surface(area, shutCabinet, moving, waterC);
      const on = !cut.everythingOff && index === heated && management.heaterW > 0;
      return {
        ...common,
        heatCapacityJPerK: water,
        ...losing(chamberUa(sump, index, volumesM3[c] / area, wrapping) + top.ua, top.wet),
        heater: on ? { maxW: management.heaterW, setpointC: waterC, bandK: THERMOSTAT_BAND_K } : null,
      };
    }
    if (cell.kind === "closed filter") {
      // Taken as a cube, whose surface is close to that of a compact vessel.
      const walls = 6 * pow(volumesM3[c], 2 / 3);
      const ua = walls * wallUWPerM2K("acrylic", PLASTIC_WALL_M, ROOM_FILM_M2_K_PER_W.sideways);
      return { ...common, heatCapacityJPerK: water, ...losing(ua, 0) };
    }
    const tower = rig.towers.find((t) => t.id === cell.partOf);
    if (!tower) throw new Error(`no tower ${cell.partOf}`);
    const bed = tower.lengthM * tower.widthM * tower.mediaDepthM;
    const walls = 2 * (tower.lengthM + tower.widthM) * tower.mediaDepthM;
    const wallU = wallUWPerM2K("acrylic", PLASTIC_WALL_M, ROOM_FILM_M2_K_PER_W.sideways, 1 / ROOM_FILM_M2_K_PER_W.sideways);
    const airKgPerS = towerAirKgPerS(rest, tower, cut, waterC);
    const top =
      lidDuring(rest, tower, cut) === "open"
        ? tower.lengthM * tower.widthM * surfaceUWPerM2K(evaporativeCoefficientWPerM2Pa(0), waterC)
        : 0;
    return {
      ...common,
      heatCapacityJPerK: water + bed * (1 - tower.media.voidShare) * SOLID_HEAT_J_PER_M3_K,
      ...losing(walls * wallU + top + airKgPerS * DRY_AIR_J_PER_KG_K, towerVapourWPerPa(rest, tower, cut, airKgPerS, waterC)),
    };
  });
  return {
    cells,
    flows: baffles(rest),
    roomTemperatureC: room.temperatureC,
    roomVapourPa: airVapourPressurePa(room.temperatureC, room.relativeHumidity),
  };
}

/** The own room of a cell's part: a display's, or else the sump's; null if the part is in the main room. */
export function ownRoomOf({ management, cells }: AtRest, cell: number): RoomDay | null {
  const { kind, partOf } = cells[cell];
  return management.climate?.ownRooms[kind === "display" ? partOf : "sump"] ?? null;
}

/** Mean of a room over the day [°C]. */
export const meanC = ({ dayC, nightC }: RoomDay): number => 0.5 * (dayC + nightC);

/** Mean air of a part's own room, with the relative humidity of the main room (modelling assumption). */
function meanAir(room: RoomDay, { relativeHumidity }: Room): CellRoom {
  const temperatureC = meanC(room);
  return { temperatureC, vapourPa: airVapourPressurePa(temperatureC, relativeHumidity) };
}

/** No outage measures, power available, doors as built. */
const POWER_THERE: Cut = {
  hours: 0,
  pumpStuckHours: 0,
  everythingOff: false,
  batteryAir: false,
  stirEveryHours: null,
  mistEveryHours: null,
  room: null,
  towerOpen: false,
  fedMeanwhile: true,
  closedFilter: "restarted",
};

/**
 * Heat network of the running rig: losses from moving surfaces, the running volumes, advection by the circulating water,
 * the heater, and the heat of pumps and lamps. All power of a submerged pump heats the water (energy balance); the return
 * pump counts as submerged, in the last chamber.
 */
export function runningHeatNetwork(rest: AtRest, running: Exchange): HeatNetwork {
  const { temperatureC } = rest.management;
  const { salinityGPerKg } = rest.rig;
  const perM3 = densityKgPerM3(temperatureC, salinityGPerKg) * specificHeatJPerKgK(temperatureC, salinityGPerKg);
  const { cells, ...air } = restingHeatNetwork({ ...rest, volumesM3: running.volumesM3 }, POWER_THERE, BARE, 1, true);
  const last = rest.cells.findLastIndex((cell) => cell.kind === "chamber");
  const firstDisplay = rest.cells.findIndex((cell) => cell.kind === "display");
  const pumpsW = returnLines(rest.rig).reduce((sum, { pump }) => sum + pump.powerW, 0);
  const given = (c: number): number => {
    const closed = rest.rig.closedFilters.find(({ id }) => rest.cells[c].kind === "closed filter" && rest.cells[c].partOf === id);
    const lampsW = rest.management.climate?.lampsW ?? 0;
    return (c === last ? pumpsW : 0) + (closed?.powerW ?? 0) + (c === firstDisplay ? lampsW : 0);
  };
  const flows = running.flows.map(({ from, to, m3PerDay }) => ({
    from,
    to,
    capacityWPerK: (perM3 * m3PerDay) / SECONDS_PER_DAY,
  }));
  return { ...air, cells: cells.map((cell, c) => ({ ...cell, constantW: given(c) })), flows };
}

/**
 * Vapour conductance of a tower [W/Pa]: the uptake by the passing air (0.62198 L/p per kg of it) and the release from
 * the media's surface act in series (the two limits of `towerEvaporationKgPerS`). An open top also evaporates from its
 * plan area, as a tank does.
 */
export function towerVapourWPerPa(rest: AtRest, tower: Tower, cut: Cut, airKgPerS: number, temperatureC: number): number {
  const plan = tower.lengthM * tower.widthM;
  const byAir = (airKgPerS * 0.62198 * latentHeatJPerKg(temperatureC)) / airPressurePa(rest.rig.room.altitudeM);
  const bySurface = tower.media.specificSurfaceM2PerM3 * plan * tower.mediaDepthM * evaporativeCoefficientWPerM2Pa(0);
  const top = lidDuring(rest, tower, cut) === "open" ? plan * evaporativeCoefficientWPerM2Pa(0) : 0;
  return (byAir * bySurface) / (byAir + bySurface) + top;
}

/** Conduction through the baffles between neighbouring chambers, with the same conductance in both directions. */
function baffles(rest: AtRest): HeatFlow[] {
  const { sump } = rest.rig;
  const u = wallUWPerM2K(sump.wallMaterial, sump.glassM, 1 / WATER_FILM_W_PER_M2_K);
  return sump.chambers.slice(1).flatMap((chamber, i) => {
    const left = cellOf(rest, "chamber", sump.chambers[i].id);
    const right = cellOf(rest, "chamber", chamber.id);
    const depth = (c: number, lengthM: number) => rest.volumesM3[c] / (lengthM * sump.widthM);
    const shared = Math.min(depth(left, sump.chambers[i].lengthM), depth(right, chamber.lengthM));
    const capacityWPerK = u * sump.widthM * shared;
    return [
      { from: left, to: right, capacityWPerK },
      { from: right, to: left, capacityWPerK },
    ];
  });
}
