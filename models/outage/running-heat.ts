// The heat balance of the running system over the days: the room and its weather, pump, lamps, a heater of limited power.
import { HOURS_PER_DAY, SECONDS_PER_HOUR } from "../../sim/time.ts";
import type { Exchange } from "../coupling/exchange.ts";
import type { HeatNetwork } from "../heat/balance.ts";
import { airVapourPressurePa } from "../heat/evaporation.ts";
import { heatStep, holdingW } from "../heat/step.ts";
import type { RoomDay } from "../nitrogen/management.ts";
import type { RunningHeat } from "../nitrogen/operation/water-heat.ts";
import { type AtRest, cellOf } from "./cut.ts";
import { heaterChamber, meanC, ownRoomOf, runningHeatNetwork } from "./resting-heat.ts";

/**
 * Hour of the day at which a room rises above its mean temperature; the maximum is six hours later (common practice, no
 * published source).
 */
const RISES_HOUR = 9;

/**
 * Room temperature at a time of a run [°C]: a wave of two parabolas with its maximum at 15:00 and its minimum at 03:00
 * (modelling assumption). Day 0 begins at midnight.
 */
export function roomAtC({ dayC, nightC }: RoomDay, day: number): number {
  const since = day - RISES_HOUR / HOURS_PER_DAY;
  const half = 2 * (since - Math.floor(since));
  const x = half < 1 ? half : half - 1;
  return 0.5 * (dayC + nightC) + (half < 1 ? 1 : -1) * 2 * x * (1 - x) * (dayC - nightC);
}

/** The network in the air of given rooms: the main one, and the own room of some cells, in the order of the cells. */
function under(network: HeatNetwork, roomC: number, ownRoomC: readonly (number | null)[], relativeHumidity: number): HeatNetwork {
  const air = (temperatureC: number) => ({ temperatureC, vapourPa: airVapourPressurePa(temperatureC, relativeHumidity) });
  const main = air(roomC);
  return {
    ...network,
    cells: network.cells.map((cell, c) => {
      const own = ownRoomC[c];
      return own === null ? cell : { ...cell, room: air(own) };
    }),
    roomTemperatureC: main.temperatureC,
    roomVapourPa: main.vapourPa,
  };
}

/**
 * Heat balance of the running water for the nitrogen simulation; null if the temperature is held constant (no climate
 * given).
 */
export function runningHeat(rest: AtRest, running: Exchange): RunningHeat | null {
  const { climate, heaterW } = rest.management;
  if (climate === null) return null;
  const network = runningHeatNetwork(rest, running);
  const bare = { ...network, cells: network.cells.map((cell) => ({ ...cell, heater: null })) };
  const ownRooms = rest.cells.map((_, c) => ownRoomOf(rest, c));
  const holds = rest.cells.findIndex((cell) => cell.kind === "display");
  const heats = cellOf(rest, "chamber", rest.rig.sump.chambers[heaterChamber(rest.rig.sump)].id);
  return {
    even(weather) {
      return [weather ?? climate, ...ownRooms].every((room) => room === null || room.dayC === room.nightC);
    },
    next({ weather, setpointC }, temperatureC, day, hours) {
      const middle = day + hours / 2 / HOURS_PER_DAY;
      const ownRoomC = ownRooms.map((room) => room && roomAtC(room, middle));
      const air = under(bare, roomAtC(weather ?? climate, middle), ownRoomC, rest.rig.room.relativeHumidity);
      const thermostat = { holds, heats, setpointC, maxW: heaterW };
      return heatStep(air, temperatureC, thermostat, hours * SECONDS_PER_HOUR).temperatureC;
    },
  };
}

/** Heater power that holds a temperature [W], at the mean and at the lowest room temperatures of the day. */
export interface HoldingPower {
  readonly meanW: number;
  readonly coldestW: number;
}

/** Heater power that holds the water at `waterC` while everything runs, net of the heat of pump and lamps. */
export function holdingPower(rest: AtRest, running: Exchange, waterC: number, day: RoomDay): HoldingPower {
  const network = runningHeatNetwork(rest, running);
  const ownRooms = rest.cells.map((_, c) => ownRoomOf(rest, c));
  const { relativeHumidity } = rest.rig.room;
  const at = (of: (room: RoomDay) => number): number => {
    const own = ownRooms.map((room) => room && of(room));
    return Math.max(0, holdingW(under(network, of(day), own, relativeHumidity), waterC));
  };
  return { meanW: at(meanC), coldestW: at(({ nightC }) => nightC) };
}
