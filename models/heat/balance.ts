// Heat balance of cells of water joined by flows: dT/dt and its exact Jacobian.
import { exp } from "../../sim/elementary.ts";
import { salineVapourFactor, saturationPressureSlopePaPerK, saturationVapourPressurePa } from "../water/vapour.ts";

/** A heater with a thermostat that throttles smoothly over a small band, as a real one does on average through its on and off. */
export interface Heater {
  readonly maxW: number;
  readonly setpointC: number;
  /** Width of the band round the set-point, K (about 0.5 for ordinary thermostats; common practice, no published source). */
  readonly bandK: number;
}

export interface HeatCell {
  readonly heatCapacityJPerK: number;
  /** Dry loss to the room: walls and open surface, W/K. */
  readonly uaWPerK: number;
  /** Evaporative loss per pascal of vapour-pressure difference, W/Pa: area x factor x evaporativeCoefficientWPerM2Pa. */
  readonly evaporativeWPerPa: number;
  readonly salinityGPerKg: number;
  readonly heater: Heater | null;
  /** Heat of pumps and lamps that ends in this cell, W. */
  readonly constantW: number;
  /** Air round this cell, where it is not the network's. */
  readonly room?: CellRoom;
}

/** Air round a part of the system. */
export interface CellRoom {
  readonly temperatureC: number;
  readonly vapourPa: number;
}

/** Water flowing from one cell to another, as heat capacity per second, W/K (density x specific heat x m³/s). */
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

/** Power of a heater at a water temperature, W: full below the band, nothing above, a smooth cubic step between. */
export function heaterPowerW(heater: Heater, temperatureC: number): number {
  const x = Math.min(1, Math.max(0, (heater.setpointC - temperatureC) / heater.bandK + 0.5));
  return heater.maxW * x * x * (3 - 2 * x);
}

/** Slope of the heater's power over temperature, W/K (zero or negative). */
export function heaterSlopeWPerK(heater: Heater, temperatureC: number): number {
  const x = Math.min(1, Math.max(0, (heater.setpointC - temperatureC) / heater.bandK + 0.5));
  return (-heater.maxW * 6 * x * (1 - x)) / heater.bandK;
}

/** Net heat gained by one cell from heater, pumps, room and evaporation (not from flows), W. */
export function cellGainW(cell: HeatCell, temperatureC: number, roomTemperatureC: number, roomVapourPa: number): number {
  const heating = cell.heater === null ? 0 : heaterPowerW(cell.heater, temperatureC);
  const dry = cell.uaWPerK * (roomTemperatureC - temperatureC);
  const wet = cell.evaporativeWPerPa * (roomVapourPa - saturationVapourPressurePa(temperatureC, cell.salinityGPerKg));
  return heating + cell.constantW + dry + wet;
}

/** Exact slope of `cellGainW` over the cell's temperature, W/K. */
export function cellGainSlopeWPerK(cell: HeatCell, temperatureC: number): number {
  const heating = cell.heater === null ? 0 : heaterSlopeWPerK(cell.heater, temperatureC);
  const wet = cell.evaporativeWPerPa * salineVapourFactor(cell.salinityGPerKg) * saturationPressureSlopePaPerK(temperatureC);
  return heating - cell.uaWPerK - wet;
}

/** Writes dT/dt of every cell, K/s. Volumes are constant: what flows in displaces as much of the cell's own water. Allocates nothing. */
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

/** Writes the Jacobian of `temperatureRates`, 1/s, row by row into a dense array of cells x cells. */
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

/** Power that raises a body of water by a difference in a time without losses, W. */
export function heatingPowerW(heatCapacityJPerK: number, differenceK: number, seconds: number): number {
  return (heatCapacityJPerK * differenceK) / seconds;
}

/** Power that holds a temperature against the room, dry losses only, W. */
export function holdingPowerW(uaWPerK: number, waterC: number, roomC: number): number {
  return uaWPerK * (waterC - roomC);
}
