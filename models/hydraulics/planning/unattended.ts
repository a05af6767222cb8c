// Unattended operation: days of evaporation and top-off, repeated short outages, and faults that nobody notices.

import type { TimedEvent } from "../../../sim/events/events.ts";
import { SECONDS_PER_DAY } from "../../../sim/time.ts";
import type { Rig } from "../../rig.ts";
import { densityKgPerM3 } from "../../water/density.ts";
import { initialiseModes } from "../dynamics/mode-events.ts";
import { solveSteadyState } from "../dynamics/steady-state.ts";
import { HydraulicSystem } from "../dynamics/system.ts";
import { runStage } from "../dynamics/transient.ts";
import { evaporationOfRigM3PerS } from "../laws/evaporation.ts";
import { levelZ, volumeBelowM3 } from "../laws/level-curve.ts";
import { buildNetwork } from "../network/from-rig.ts";
import { setPumps } from "../network/network.ts";
import { OutageSimulator } from "../outage/outage-simulation.ts";
import { setRunning, startRunning, valveLossesFor } from "../outage/start.ts";
import type { FaultId, SlowDrift, Transient } from "../types.ts";

/** Interval at which the steady state is solved again [d]. */
const STEP_D = 1 / 8;
/** The run stops when evaporation has reduced the water to this share of the initial volume. */
const LEAST_SHARE = 0.5;

/**
 * Days of running with evaporation and, where there is one, a top-off. Every three hours the loss is subtracted from
 * the displays and the steady state is solved again, so the level falls where it really does, in the return chamber. A
 * float fills from its low to its high level until the reservoir is empty. Salt stays behind.
 * @param days simulated time [d]
 */
export function slowDrift(rig: Rig, days: number): SlowDrift {
  const network = buildNetwork(rig, valveLossesFor(rig));
  const line = network.returnLine!;
  const { system, settled } = startRunning(rig, network);
  let y: Float64Array = settled.volumesM3;
  const evaporation = evaporationOfRigM3PerS(rig);
  const displays = network.vessels.flatMap((vessel, n) => (vessel.kind === "display" ? [n] : []));
  const plan = displays.reduce((sum, n) => sum + network.vessels[n].areaM2, 0);
  const air = network.vessels.findIndex((vessel) => vessel.kind === "air");
  const density = densityKgPerM3(rig.waterTemperatureC, rig.salinityGPerKg);
  const reservoir = network.topOff?.reservoir ?? -1;
  const waterOf = (state: Float64Array) =>
    system.total(state) - state[air] - state[network.floor] - (reservoir >= 0 ? state[reservoir] : 0);
  const firstWater = waterOf(y);
  let saltG = rig.salinityGPerKg * density * firstWater;
  const level = () => levelZ(network.vessels[line.source].curve, y[line.source]);
  const rows: { d: number; level: number; displays: number[]; reservoir: number; salinity: number; evaporated: number }[] = [];
  const record = (d: number) =>
    rows.push({
      d,
      level: level(),
      displays: displays.map((n) => levelZ(network.vessels[n].curve, y[n])),
      reservoir: reservoir >= 0 ? y[reservoir] : 0,
      salinity: saltG / (density * waterOf(y)),
      evaporated: y[air],
    });
  record(0);
  let pumpDrawsAirD: number | null = null;
  let reservoirEmptyD: number | null = null;
  const steps = Math.ceil(days / STEP_D - 1e-9);
  for (let k = 1; k <= steps; k++) {
    const d = Math.min(days, k * STEP_D);
    const loss = evaporation * STEP_D * SECONDS_PER_DAY;
    for (const n of displays) y[n] -= (loss * network.vessels[n].areaM2) / plan;
    y[air] += loss;
    y = solveSteadyState(system, y).volumesM3;
    if (network.topOff && rig.topOff && level() <= network.topOff.onBelowZ && y[reservoir] > 0) {
      const wanted = volumeBelowM3(network.vessels[line.source].curve, network.topOff.offAboveZ) - y[line.source];
      const given = Math.min(Math.max(0, wanted), y[reservoir]);
      y[line.source] += given;
      y[reservoir] -= given;
      saltG += given * density * rig.topOff.salinityGPerKg;
      y = solveSteadyState(system, y).volumesM3;
      if (y[reservoir] <= 1e-9) reservoirEmptyD = d;
    }
    record(d);
    if (pumpDrawsAirD === null && level() < line.intakeZ) pumpDrawsAirD = d;
    if (waterOf(y) < LEAST_SHARE * firstWater) break;
  }
  return {
    daysD: rows.map((row) => row.d),
    returnLevelM: rows.map((row) => row.level),
    displayZ: Object.fromEntries(displays.map((n, k) => [network.vessels[n].id, rows.map((row) => row.displays[k])])),
    reservoirM3: rows.map((row) => row.reservoir),
    salinityGPerKg: rows.map((row) => row.salinity),
    evaporatedM3: rows.map((row) => row.evaporated),
    pumpDrawsAirD,
    reservoirEmptyD,
    evaporationM3PerS: evaporation,
  };
}

/**
 * Repeated short outages, from steady running: `cuts` of them, each `cutSeconds` long, one every `everySeconds`;
 * simulated to the end of the last period.
 */
export function flicker(
  rig: Rig,
  { cuts, cutSeconds, everySeconds }: { cuts: number; cutSeconds: number; everySeconds: number },
): Transient {
  const simulator = new OutageSimulator(rig);
  const { system, settled } = startRunning(rig, simulator.network);
  const until = cuts * everySeconds;
  const power = (on: boolean, at: number): TimedEvent => ({
    kind: "timed",
    id: on ? "power back" : "power cut",
    label: on ? "the power is back" : "the power goes",
    at,
    every: everySeconds,
    until,
    apply(_t, y) {
      setPumps(system.modes, on);
      system.modes.powered = on;
      initialiseModes(system, y);
      return "continue";
    },
  });
  const timed = [power(false, 1), power(true, 1 + cutSeconds)];
  return runStage(system, settled.volumesM3, {
    kind: "flicker",
    atMostS: until,
    untilStill: false,
    keepTrace: true,
    follow: true,
    planned: timed,
  });
}

/**
 * Hours with an unnoticed fault and the pump running: a drip, a weeping valve with the power off, a top-off that never
 * stops.
 */
export function simulateUnattended(
  rig: Rig,
  faults: readonly FaultId[],
  options: { hours: number; powered: boolean },
): Transient {
  const simulator = new OutageSimulator(rig);
  const network = simulator.networkWith(faults);
  const { settled } = startRunning(rig, simulator.network);
  const system = new HydraulicSystem(network);
  setRunning(system.modes);
  setPumps(system.modes, options.powered);
  system.modes.powered = options.powered;
  system.modes.topOff = faults.includes("reservoir dumped") ? "stuck on" : "off";
  system.modes.hoseOff = faults.includes("hose off");
  return runStage(system, settled.volumesM3, {
    kind: "slow",
    atMostS: options.hours * 3600,
    untilStill: true,
    keepTrace: true,
    follow: false,
  });
}
