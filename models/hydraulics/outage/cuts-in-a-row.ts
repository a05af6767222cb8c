// Sequences of stops: several outages in succession, restarts while water still drains, a pump on a timer. Levels carry
// over.

import type { TimedEvent } from "../../../sim/events/events.ts";
import { returnLines } from "../../rig.ts";
import { initialiseModes } from "../dynamics/mode-events.ts";
import { runStage } from "../dynamics/transient.ts";
import { setPumps } from "../network/network.ts";
import type { OutageRun } from "../types.ts";
import type { OutageSimulator } from "./outage-simulation.ts";
import { startRunning } from "./start.ts";
import { reportSteadyState } from "./steady-state-report.ts";
import { judge } from "./verdict.ts";

export interface Stop {
  /** Start of the stop from the start of the sequence, and its duration [s]. */
  readonly fromS: number;
  readonly forS: number;
}

/** Simulated time after the last restart [s]. */
const AFTERWARDS_S = 900;

/**
 * Simulates a sequence of stops of the return pump from the steady state; the result is the `cut` of an outage without restart.
 * @param stops in order of time, without overlap
 * @param powered whether only the pump stops and everything else keeps running
 * @param circuit only the pumps on this circuit stop; absent: all of them
 * @returns null if there is no steady state to start from
 */
export function stopsInARow(
  simulator: OutageSimulator,
  stops: readonly Stop[],
  powered: boolean,
  circuit?: string,
): OutageRun | null {
  const { rig, network, valveLosses } = simulator;
  const { system, settled } = startRunning(rig, network);
  if (!settled.settled) return null;
  const running = reportSteadyState(rig, valveLosses, system, settled.volumesM3, true);
  const lines = returnLines(rig);
  const runOn = system.lines.filter((_, n) => circuit !== undefined && lines[n].circuit !== circuit).map(({ modes }) => modes);
  const turn = (on: boolean, n: number, at: number): TimedEvent => ({
    kind: "timed",
    id: on ? "pump on" : "pump off",
    label: `${powered ? "the pump" : "the power"} ${on ? "is back" : "goes"}${stops.length > 1 ? `, ${n + 1} of ${stops.length}` : ""}`,
    at,
    apply(_t, y) {
      setPumps(system.modes, on, runOn);
      system.modes.powered = on || powered;
      initialiseModes(system, y);
      return "continue";
    },
  });
  const timed = stops.flatMap(({ fromS, forS }, n) => [turn(false, n, fromS), turn(true, n, fromS + forS)]);
  const last = stops[stops.length - 1];
  const y = Float64Array.from(settled.volumesM3);
  simulator.stages++;
  const cut = runStage(system, y, {
    kind: "flicker",
    atMostS: last.fromS + last.forS + AFTERWARDS_S,
    untilStill: false,
    keepTrace: true,
    follow: false,
    planned: timed,
  });
  const verdict = judge(network, {
    healthyVolumes: settled.volumesM3,
    running,
    faultWhileRunning: null,
    cut,
    restart: null,
    noRestart: "",
  });
  const air = cut.events.some(({ id }) => id === "pump air");
  const warnings = air ? [...verdict.warnings, "the pump draws air between the stops"] : verdict.warnings;
  return { faults: [], running, faultWhileRunning: null, cut, restart: null, verdict: { ...verdict, warnings } };
}
