// Water changes by hose: taking water out and putting it back, with the return running or off, and what a hose does that
// nobody shuts.

import type { SimulationEvent } from "../../../sim/events/events.ts";
import { initialiseModes } from "../dynamics/mode-events.ts";
import { runStage } from "../dynamics/transient.ts";
import { ENTRANCE_REENTRANT, EXIT } from "../laws/fittings.ts";
import { levelCurve, levelZ } from "../laws/level-curve.ts";
import { type Link, type Network, setPumps, type Vessel } from "../network/network.ts";
import type { RunningState, Transient, Verdict } from "../types.ts";
import type { OutageSimulator } from "./outage-simulation.ts";
import { startRunning } from "./start.ts";
import { reportSteadyState } from "./steady-state-report.ts";
import { judge } from "./verdict.ts";

export interface HosePlan {
  /** Id of the display or chamber that both hoses hang in. */
  readonly vessel: string;
  /** Water to be changed [m3]. */
  readonly changeM3: number;
  /** Elevation of the end in the water; it takes no more below it. */
  readonly endZ: number;
  /** A hose that siphons down to its other end, or a pump with its flow [m3/s]. */
  readonly out: { readonly boreM: number; readonly lengthM: number; readonly downToZ: number } | { readonly pumpM3PerS: number };
  readonly fillM3PerS: number;
  /** Whether the return runs meanwhile. */
  readonly returnRuns: boolean;
}

/** The hose that nobody shuts; none: both are shut in time. */
export type Forgotten = "none" | "draining" | "filling";

export interface WaterChangeRun {
  readonly running: RunningState;
  readonly transient: Transient;
  readonly verdict: Verdict;
  /** Water that was taken out and that ran in [m3]. */
  readonly takenM3: number;
  readonly filledM3: number;
  /** Times [s]: emptying begins, filling begins, the hose is shut; null = not reached. */
  readonly emptyS: number;
  readonly fillS: number | null;
  readonly shutS: number | null;
}

/** Steady running before anything is touched, and the wait after the return is switched off [s] (modelling assumption). */
const LEAD_S = 5;
const COMES_DOWN_S = 600;
const LONGEST_S = 86_400;
/** More water than any hose gives in that time [m3]. */
const MAINS_M3 = 1000;
/** The last of the water over the end of a hose is not waited for [m]. */
const BARED_M = 0.006;
/** Water on the floor at which a forgotten hose counts as found [m3]. */
const FOUND_M3 = 1e-3;
/** Roughness of smooth hose [m] (Moody 1944, drawn tubing). */
const SMOOTH_M = 1.5e-6;
/** Plan area outside [m2]; its level has no effect. */
const OUTSIDE_M2 = 1e4;

/** The network with mains, a house drain, and the hoses to and from them. */
function withHoses(
  network: Network,
  { vessel, endZ, out, fillM3PerS }: HosePlan,
): { network: Network; mains: number; away: number } {
  const from = network.vessels.findIndex(({ id }) => id === vessel);
  if (from < 0) throw new Error(`nothing is called ${vessel}`);
  const mains = network.vessels.length;
  const away = mains + 1;
  const downToZ = "pumpM3PerS" in out ? 0 : out.downToZ;
  const outside = (id: string, name: string, kind: "reservoir" | "air", bottomZ: number): Vessel => ({
    id,
    name,
    kind,
    partOf: "",
    bottomZ,
    rimZ: null,
    areaM2: OUTSIDE_M2,
    curve: levelCurve(bottomZ, OUTSIDE_M2),
  });
  const drains = { id: "draining hose", name: "the draining hose", from, to: away } as const;
  const draining: Link =
    "pumpM3PerS" in out
      ? { ...drains, kind: "set", flowM3PerS: out.pumpM3PerS, switchedBy: "emptying", intakeZ: endZ }
      : {
          ...drains,
          kind: "overflow pipe",
          pipe: { boreM: out.boreM, lengthM: out.lengthM, roughnessM: SMOOTH_M, lossK: ENTRANCE_REENTRANT + EXIT },
          mouthZ: endZ,
          outletZ: downToZ,
          hose: true,
        };
  const filling: Link = {
    kind: "set",
    id: "filling hose",
    name: "the filling hose",
    from: mains,
    to: from,
    flowM3PerS: fillM3PerS,
    switchedBy: "filling",
  };
  const vessels = [
    ...network.vessels,
    outside("mains", "the tap", "reservoir", 0),
    outside("house drain", "the house drain", "air", downToZ),
  ];
  return { network: { ...network, vessels, links: [...network.links, draining, filling] }, mains, away };
}

/**
 * Simulates a water change by hose from the steady state: the return is switched off if the plan says so, the hose takes
 * the water down to the wanted volume or to its end, the same volume is put back, the return runs again. A forgotten
 * draining hose runs on to its end; a forgotten filling hose runs until a litre is on the floor, at most for a day.
 * @returns null if there is no steady state to start from
 */
export function simulateWaterChange(simulator: OutageSimulator, plan: HosePlan, forgotten: Forgotten): WaterChangeRun | null {
  const { rig } = simulator;
  const { network, mains, away } = withHoses(simulator.network, plan);
  const { system, settled } = startRunning(rig, network);
  if (!settled.settled) return null;
  const { modes } = system;
  const running = reportSteadyState(rig, null, system, settled.volumesM3, true);
  const y = Float64Array.from(settled.volumesM3);
  y[mains] = MAINS_M3;
  const before = Float64Array.from(y);
  const taken = (at: Float64Array) => at[away] - before[away];
  const filled = (at: Float64Array) => before[mains] - at[mains];
  const vessel = network.vessels.findIndex(({ id }) => id === plan.vessel);
  const overEnd = (at: Float64Array) => levelZ(network.vessels[vessel].curve, at[vessel]) - plan.endZ - BARED_M;
  const emptyS = plan.returnRuns ? LEAD_S : LEAD_S + COMES_DOWN_S;
  let fillS: number | null = null;
  let shutS: number | null = null;
  const begins = { id: "filling", label: "the hose out is shut, and the filling hose runs" } as const;
  const fill = (t: number) => {
    modes.hose = "filling";
    fillS = t;
    return "continue" as const;
  };
  const emptying = () => modes.hose === "emptying" && forgotten !== "draining";
  const planned: SimulationEvent[] = [
    {
      kind: "timed",
      id: "emptying",
      label: "the hose takes water out",
      at: emptyS,
      apply() {
        modes.hose = "emptying";
        return "continue";
      },
    },
    { kind: "state", ...begins, direction: "rising", guard: (_t, at) => taken(at) - plan.changeM3, armed: emptying, apply: fill },
    { kind: "state", ...begins, direction: "falling", guard: (_t, at) => overEnd(at), armed: emptying, apply: fill },
    {
      kind: "state",
      id: "filled",
      label: "as much is back as was taken",
      direction: "rising",
      guard: (_t, at) => filled(at) - taken(at),
      armed: () => modes.hose === "filling" && shutS === null,
      apply(t, at) {
        shutS = t;
        if (forgotten === "filling") return "continue";
        modes.hose = "none";
        setPumps(modes, true);
        initialiseModes(system, at);
        return "continue";
      },
    },
    {
      kind: "state",
      id: "found",
      label: "the water on the floor is found",
      direction: "rising",
      guard: (_t, at) => at[network.floor] - before[network.floor] - FOUND_M3,
      armed: () => forgotten === "filling",
      apply: () => "stop",
    },
  ];
  if (!plan.returnRuns)
    planned.unshift({
      kind: "timed",
      id: "pump off",
      label: "the return is switched off",
      at: LEAD_S,
      apply(_t, at) {
        setPumps(modes, false);
        initialiseModes(system, at);
        return "continue";
      },
    });
  simulator.stages++;
  const transient = runStage(system, y, {
    kind: "slow",
    atMostS: LONGEST_S,
    untilStill: true,
    keepTrace: true,
    follow: false,
    planned,
  });
  const stages = { healthyVolumes: before, running, faultWhileRunning: null, cut: transient, restart: null, noRestart: "" };
  const verdict = judge(network, stages);
  return { running, transient, verdict, takenM3: taken(y), filledM3: filled(y), emptyS, fillS, shutS };
}
