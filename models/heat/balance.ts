// Heat balance of water cells connected by flows: dT/dt and its exact Jacobian.
import { exp } from "../../sim/elementary.ts";
import { salineVapourFactor, saturationPressureSlopePaPerK, saturationVapourPressurePa } from "../water/vapour.ts";

/**
 * A heater whose thermostat throttles smoothly over a narrow band, which is the time average of a real on-off thermostat.
 */
export interface Heater {
  readonly maxW: number;
  readonly setpointC: number;
  /**
   * Width of the band around the set-point, K (about 0.5 for ordinary thermostats; common practice, no published source).
   */
  readonly bandK: number;
}

export interface HeatCell {
  readonly heatCapacityJPerK: number;
  /** Dry conductance to the room, through walls and open surface, W/K. */
  readonly uaWPerK: number;
  /** Evaporative conductance, W/Pa of vapour-pressure difference: area × factor × evaporativeCoefficientWPerM2Pa. */
  readonly evaporativeWPerPa: number;
  readonly salinityGPerKg: number;
  readonly heater: Heater | null;
  /** Heat of pumps and lamps that enters this cell, W. */
  readonly constantW: number;
  /** Air around this cell, if it differs from that of the network. */
  readonly room?: CellRoom;
}

/** Air around a part of the system. */
export interface CellRoom {
  readonly temperatureC: number;
  readonly vapourPa: number;
}

/** Water flow from one cell to another, as heat-capacity rate, W/K (density × specific heat × m³/s). */
export interface HeatFlow {
  readonly from: number;
  readonly to: number;
  readonly capacityWPerK: number;
}

export interface HeatNetwork {
  readonly cells: readonly HeatCell[];
  readonly flows: readonly HeatFlow[];
  readonly roomTemperatureC: number;
  readonly roomVapourPa: number;
}

/** Power of a heater at a water temperature, W: full below the band, zero above, a smooth cubic step between. */
export function heaterPowerW(heater: Heater, temperatureC: number): number {
  const x = Math.min(1, Math.max(0, (heater.setpointC - temperatureC) / heater.bandK + 0.5));
  return heater.maxW * x * x * (3 - 2 * x);
}

/** Derivative of the heater's power with respect to temperature, W/K (zero or negative). */
export function heaterSlopeWPerK(heater: Heater, temperatureC: number): number {
  const x = Math.min(1, Math.max(0, (heater.setpointC - temperatureC) / heater.bandK + 0.5));
  return (-heater.maxW * 6 * x * (1 - x)) / heater.bandK;
}

/** Net heat gain of one cell from heater, pumps, room and evaporation, without flows, W. */
export function cellGainW(cell: HeatCell, temperatureC: number, roomTemperatureC: number, roomVapourPa: number): number {
  const heating = cell.heater === null ? 0 : heaterPowerW(cell.heater, temperatureC);
  const dry = cell.uaWPerK * (roomTemperatureC - temperatureC);
  const wet = cell.evaporativeWPerPa * (roomVapourPa - saturationVapourPressurePa(temperatureC, cell.salinityGPerKg));
  return heating + cell.constantW + dry + wet;
}

/** Exact derivative of `cellGainW` with respect to the cell's temperature, W/K. */
export function cellGainSlopeWPerK(cell: HeatCell, temperatureC: number): number {
  const heating = cell.heater === null ? 0 : heaterSlopeWPerK(cell.heater, temperatureC);
  const wet = cell.evaporativeWPerPa * salineVapourFactor(cell.salinityGPerKg) * saturationPressureSlopePaPerK(temperatureC);
  return heating - cell.uaWPerK - wet;
}

/**
 * Computes dT/dt of every cell, K/s; allocates nothing. Volumes are constant: inflow displaces the same volume of the
 * cell's own water.
 * @param temperaturesC temperature of each cell, in the order of `network.cells`
 * @param out receives one rate per cell
 */
export function temperatureRates(network: HeatNetwork, temperaturesC: Float64Array, out: Float64Array): void {
  const { cells, flows, roomTemperatureC, roomVapourPa } = network;
  for (let i = 0; i < cells.length; i++) {
    const { room } = cells[i]!;
    out[i] = room
      ? cellGainW(cells[i]!, temperaturesC[i]!, room.temperatureC, room.vapourPa)
      : cellGainW(cells[i]!, temperaturesC[i]!, roomTemperatureC, roomVapourPa);
  }
  for (let k = 0; k < flows.length; k++) {
    const { from, to, capacityWPerK } = flows[k]!;
    out[to]! += capacityWPerK * (temperaturesC[from]! - temperaturesC[to]!);
  }
  for (let i = 0; i < cells.length; i++) out[i]! /= cells[i]!.heatCapacityJPerK;
}

/** Computes the Jacobian of `temperatureRates`, 1/s, row by row into `out`, a dense array of cells × cells. */
export function temperatureJacobian(network: HeatNetwork, temperaturesC: Float64Array, out: Float64Array): void {
  const { cells, flows } = network;
  const n = cells.length;
  out.fill(0, 0, n * n);
  for (let i = 0; i < n; i++) out[i * n + i] = cellGainSlopeWPerK(cells[i]!, temperaturesC[i]!) / cells[i]!.heatCapacityJPerK;
  for (let k = 0; k < flows.length; k++) {
    const { from, to, capacityWPerK } = flows[k]!;
    const rate = capacityWPerK / cells[to]!.heatCapacityJPerK;
    out[to * n + from]! += rate;
    out[to * n + to]! -= rate;
  }
}

/** Temperature of a single body of water after a time without heating, °C: Newton's law of cooling, dry losses only. */
export function coolingCurveC(
  startC: number,
  roomC: number,
  uaWPerK: number,
  heatCapacityJPerK: number,
  seconds: number,
): number {
  return roomC + (startC - roomC) * exp((-uaWPerK * seconds) / heatCapacityJPerK);
}

/** Power that heats a body of water by a temperature difference in a given time, without losses, W. */
export function heatingPowerW(heatCapacityJPerK: number, differenceK: number, seconds: number): number {
  return (heatCapacityJPerK * differenceK) / seconds;
}

/** Power that maintains a temperature against the room, dry losses only, W. */
export function holdingPowerW(uaWPerK: number, waterC: number, roomC: number): number {
  return uaWPerK * (waterC - roomC);
}
