// A step of the heat balance with a thermostat: implicit, so that it may be long, and closed, so that what a cell gains is what crossed its borders.
import { solveDense } from "../../sim/linear-algebra/dense.ts";
import { cellGainSlopeWPerK, cellGainW, type HeatNetwork } from "./balance.ts";

/** A thermostat that holds one cell with a heater in another, as far as its power goes. */
export interface Thermostat {
  /** Cell whose temperature it holds, and cell that the heater hangs in. */
  readonly holds: number;
  readonly heats: number;
  readonly setpointC: number;
  readonly maxW: number;
}

/** Temperatures after a step [°C], and the mean power of the heater over it [W]. */
export interface HeatStep {
  readonly temperatureC: number[];
  readonly heaterW: number;
}

/**
 * One linearly implicit Euler step: (C/dt - J) dT = F(T) + P e, with P the power that brings the held cell to its set-point, between nothing and all
 * there is. Heaters of the network's own cells are left to `temperatureRates`.
 */
export function heatStep(
  network: HeatNetwork,
  temperatureC: readonly number[],
  thermostat: Thermostat | null,
  seconds: number,
): HeatStep {
  const { cells, flows, roomTemperatureC, roomVapourPa } = network;
  const n = cells.length;
  const a = new Float64Array(n * n);
  const b = new Float64Array(2 * n);
  for (let c = 0; c < n; c++) {
    const cell = cells[c];
    const room = cell.room ?? { temperatureC: roomTemperatureC, vapourPa: roomVapourPa };
    a[c * n + c] = cell.heatCapacityJPerK / seconds - cellGainSlopeWPerK(cell, temperatureC[c]);
    b[2 * c] = cellGainW(cell, temperatureC[c], room.temperatureC, room.vapourPa);
  }
  for (const { from, to, capacityWPerK } of flows) {
    a[to * n + to] += capacityWPerK;
    a[to * n + from] -= capacityWPerK;
    b[2 * to] += capacityWPerK * (temperatureC[from] - temperatureC[to]);
  }
  if (thermostat) b[2 * thermostat.heats + 1] = 1;
  solveDense(a, b, n, 2);
  let heaterW = 0;
  if (thermostat && thermostat.maxW > 0) {
    const missing = thermostat.setpointC - temperatureC[thermostat.holds] - b[2 * thermostat.holds];
    heaterW = Math.min(thermostat.maxW, Math.max(0, missing / b[2 * thermostat.holds + 1]));
  }
  return { temperatureC: temperatureC.map((t, c) => t + b[2 * c] + heaterW * b[2 * c + 1]), heaterW };
}

/** Power that holds all water at a temperature against the room, W; below zero it would have to be cooled. */
export const holdingW = (network: HeatNetwork, temperatureC: number): number =>
  -network.cells.reduce((sum, cell) => {
    const room = cell.room ?? { temperatureC: network.roomTemperatureC, vapourPa: network.roomVapourPa };
    return sum + cellGainW({ ...cell, heater: null }, temperatureC, room.temperatureC, room.vapourPa);
  }, 0);
