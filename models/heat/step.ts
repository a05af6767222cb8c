// A time step of the heat balance with a thermostat: implicit, so long steps are stable, and conservative.
import { solveDense } from "../../sim/linear-algebra/dense.ts";
import { cellGainSlopeWPerK, cellGainW, type HeatNetwork } from "./balance.ts";

/** A thermostat that controls the temperature of one cell with a heater of limited power in another. */
export interface Thermostat {
  /** Indices of the controlled cell and of the cell with the heater. */
  readonly holds: number;
  readonly heats: number;
  readonly setpointC: number;
  readonly maxW: number;
}

/**
 * Temperature at which a heater switches off by the thermostat in its own body, whatever another one asks for [°C]: the
 * scales of aquarium heaters end there (common practice, no published source). A set-point above it counts instead.
 */
const HEATER_ENDS_C = 36;

/** Temperatures after a step [°C], and the mean power of the heater over it [W]. */
export interface HeatStep {
  readonly temperatureC: number[];
  readonly heaterW: number;
}

/**
 * One linearly implicit Euler step: (C/dt - J) dT = F(T) + P e. P is the power that brings the controlled cell to its
 * set-point, limited to 0...maxW and to what brings the water around the heater to its own end. The step ignores heaters
 * of the network's own cells, which `temperatureRates` handles.
 * @param temperatureC temperatures before the step [°C], in the order of `network.cells`
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
    const { holds, heats, setpointC, maxW } = thermostat;
    const bringsTo = (c: number, toC: number): number => (toC - temperatureC[c] - b[2 * c]) / b[2 * c + 1];
    heaterW = Math.min(
      maxW,
      Math.max(0, Math.min(bringsTo(holds, setpointC), bringsTo(heats, Math.max(HEATER_ENDS_C, setpointC)))),
    );
  }
  return { temperatureC: temperatureC.map((t, c) => t + b[2 * c] + heaterW * b[2 * c + 1]), heaterW };
}

/** Heater power that holds all water at a temperature against the room [W]; negative means cooling. */
export const holdingW = (network: HeatNetwork, temperatureC: number): number =>
  -network.cells.reduce((sum, cell) => {
    const room = cell.room ?? { temperatureC: network.roomTemperatureC, vapourPa: network.roomVapourPa };
    return sum + cellGainW({ ...cell, heater: null }, temperatureC, room.temperatureC, room.vapourPa);
  }, 0);
