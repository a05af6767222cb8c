// A complete outage run: steady running, the fault, the outage to rest, the restart to steady state or failure.

import type { TimedEvent } from "../../../sim/events/events.ts";
import type { Rig } from "../../rig.ts";
import { initialiseModes } from "../dynamics/mode-events.ts";
import { ReturnLineSolver } from "../dynamics/return-line.ts";
import { solveSteadyState } from "../dynamics/steady-state.ts";
import { HydraulicSystem } from "../dynamics/system.ts";
import { runStage, type StageOptions } from "../dynamics/transient.ts";
import { levelZ, volumeBelowM3 } from "../laws/level-curve.ts";
import { boreAreaM2 } from "../laws/pipe.ts";
import { buildNetwork, type ValveLosses } from "../network/from-rig.ts";
import { type Modes, type Network, setPumps } from "../network/network.ts";
import type { BlockedDrain, FaultId, OutageRun, RunningState, Transient, Verdict } from "../types.ts";
import { DRIP_HOLE, type FaultyRig, withBlockedDrain, withFaults } from "./faults.ts";
import { trustsValve } from "./rig-changes.ts";
import { setRunning, startRunning, valveLossesFor } from "./start.ts";
import { reportSteadyState } from "./steady-state-report.ts";
import { compareWorse, judge, SPILL_THRESHOLD_M3 } from "./verdict.ts";

export interface OutageSimulationOptions {
  readonly faults?: readonly FaultId[];
  /** Length of the outage [s]; absent = until nothing moves. */
  readonly cutSeconds?: number;
  /** Keep traces for drawing; default true. */
  readonly keepTrace?: boolean;
  /** Compute transfer matrices; default true. */
  readonly follow?: boolean;
  /** The favourable limit for the air of siphon-break holes: it collects at the crown. By default the unfavourable limit. */
  readonly airGathers?: boolean;
}

/** Longest simulated times [s]: a fault while running, an outage, a restart. */
const LONGEST_FAULT_S = 3600;
const LONGEST_CUT_S = 6 * 3600;
const LONGEST_RESTART_S = 3600;

/** The steady running state at the user's fill. @throws Error when the network cannot be built */
export function runningState(rig: Rig, faults: readonly FaultId[] = []): RunningState {
  return new OutageSimulator(rig).running(faults);
}

/** Steady running -> outage -> rest -> restart -> steady, with the given faults. */
export function cutAndRestart(rig: Rig, options: OutageSimulationOptions = {}): OutageRun {
  return new OutageSimulator(rig).simulate(options);
}

function faultyNetwork(faulty: FaultyRig, valveLosses: ValveLosses): Network {
  const network = buildNetwork(faulty.broken, valveLosses);
  if (!faulty.drips) return network;
  const from = network.vessels.findIndex((vessel) => vessel.kind === "display");
  const z = network.vessels[from].bottomZ + DRIP_HOLE.heightM;
  const drip = {
    kind: "hole",
    id: "drip",
    name: "dripping bulkhead",
    from,
    to: network.floor,
    areaM2: boreAreaM2(DRIP_HOLE.diameterM),
    z,
  } as const;
  return { ...network, links: [...network.links, drip] };
}

interface Healthy {
  readonly volumes: Float64Array;
  readonly modes: Modes;
  readonly balanced: boolean;
  readonly rig: Rig;
}

/** A run up to the end of its outage. */
interface BeforeRestart {
  readonly network: Network;
  readonly modes: Modes;
  readonly volumes: Float64Array;
  readonly healthy: Healthy;
  readonly running: RunningState;
  readonly faultWhileRunning: Transient | null;
  readonly cut: Transient;
}

/** Simulates outages of one rig. What its runs share (throttles, running states without faults) is computed once. */
export class OutageSimulator {
  readonly rig: Rig;
  readonly valveLosses: ValveLosses;
  private readonly healthy = new Map<number, Healthy>();
  private readonly beforeRestart = new Map<string, BeforeRestart>();
  private plainNetwork: Network | undefined;
  /** Number of integrated stages. */
  stages = 0;

  constructor(rig: Rig, valveLosses: ValveLosses = valveLossesFor(rig)) {
    this.rig = rig;
    this.valveLosses = valveLosses;
  }

  running(faults: readonly FaultId[] = []): RunningState {
    return this.open(withFaults(this.rig, faults), { keepTrace: true, follow: false }).running();
  }

  /**
   * Simulates and judges an outage. Where a check valve would improve the verdict, the verdict is that with a leaking
   * valve.
   */
  simulate(options: OutageSimulationOptions = {}): OutageRun {
    const story = this.simulateOnce(options);
    const withLeakingCheckValve = this.withLeakingCheckValve(options.faults ?? []);
    if (!withLeakingCheckValve) return story;
    const leaking = this.simulateOnce({ ...options, faults: withLeakingCheckValve, keepTrace: false, follow: false }).verdict;
    return { ...story, verdict: worseOf(story.verdict, leaking) };
  }

  /** The outage run to which the verdict refers: with a leaking check valve where that determines the verdict. */
  simulateJudged(options: OutageSimulationOptions = {}): OutageRun {
    const story = this.simulate(options);
    const withLeakingCheckValve = this.withLeakingCheckValve(options.faults ?? []);
    if (!withLeakingCheckValve || !story.verdict.onlyIfValveSeals) return story;
    return { ...this.simulateOnce({ ...options, faults: withLeakingCheckValve }), verdict: story.verdict };
  }

  /** What happens when the widest working drain of a display closes while the pump continues. */
  blockedDrain(displayId: string): BlockedDrain {
    const { faultWhileRunning } = this.open(withBlockedDrain(this.rig, displayId), { keepTrace: false, follow: false });
    if (!faultWhileRunning) return { outcome: "carried", floorM3: 0, firstSpillS: null };
    const { spilledM3, spills, ending } = faultWhileRunning;
    if (spilledM3 > SPILL_THRESHOLD_M3)
      return { outcome: "spills", floorM3: spilledM3, firstSpillS: Math.min(...spills.map(({ firstS }) => firstS)) };
    return { outcome: ending === "hunting" ? "runs dry" : "carried", floorM3: 0, firstSpillS: null };
  }

  /** The verdict only, without traces. */
  verdict(faults: readonly FaultId[], cutSeconds?: number): { verdict: Verdict; restEndZ: Record<string, number> } {
    const options = { faults, keepTrace: false, follow: false, ...(cutSeconds === undefined ? {} : { cutSeconds }) };
    const story = this.simulate(options);
    return { verdict: story.verdict, restEndZ: restLevels(story.cut, this.network) };
  }

  /** The network without faults. */
  get network(): Network {
    this.plainNetwork ??= buildNetwork(this.rig, this.valveLosses);
    return this.plainNetwork;
  }

  /** The network with faults, with the throttles set before them. */
  networkWith(faults: readonly FaultId[]): Network {
    return faultyNetwork(withFaults(this.rig, faults), this.valveLosses);
  }

  /** An outage without faults of a rig that differs from this one only in its fill. */
  cutOnly(rig: Rig): { running: RunningState; cut: Transient } {
    const { running, cut } = this.start(rig);
    return { running, cut };
  }

  /** The same with the restart. */
  cutThenRestart(rig: Rig): { running: RunningState; cut: Transient; restart: Transient } {
    const { running, cut, system, y } = this.start(rig);
    const restart = this.restart(withFaults(rig, []), system, y, { keepTrace: false, follow: false })!;
    return { running, cut, restart };
  }

  private start(rig: Rig) {
    const keep = { keepTrace: false, follow: false };
    const opening = this.open(withFaults(rig, []), keep);
    const { system, y } = opening;
    const running = opening.running();
    const cut = this.cut(system, y, LONGEST_CUT_S, keep);
    return { running, cut, system, y };
  }

  private cut(
    system: HydraulicSystem,
    y: Float64Array,
    atMostS: number,
    keep: Pick<StageOptions, "keepTrace" | "follow">,
  ): Transient {
    const backed = system.lines.filter(({ line, modes }) => line.backupS > 0 && modes.pumpOn);
    setPumps(
      system.modes,
      false,
      backed.map(({ modes }) => modes),
    );
    system.modes.powered = false;
    const timed = backed.map(
      ({ line, modes }): TimedEvent => ({
        kind: "timed",
        id: `battery${line.id}`,
        label: `the battery of the pump${line.id} is empty`,
        at: line.backupS,
        apply(_t, volumes) {
          modes.pumpOn = false;
          initialiseModes(system, volumes);
          return "continue";
        },
      }),
    );
    return this.stage(system, y, { kind: "power cut", atMostS, untilStill: true, planned: timed, ...keep });
  }

  private withLeakingCheckValve(faults: readonly FaultId[]): FaultId[] | null {
    if (!trustsValve(this.rig) || faults.includes("check valve leaks")) return null;
    return [...faults, "check valve leaks"];
  }

  private healthyAt(before: Rig): Healthy {
    const key = before.sump.runningLevelM;
    const known = this.healthy.get(key);
    if (known) return known;
    const { system, settled } = startRunning(before, buildNetwork(before, this.valveLosses));
    const made = { volumes: settled.volumesM3, modes: system.modes, balanced: settled.settled, rig: before };
    this.healthy.set(key, made);
    return made;
  }

  private simulateOnce(options: OutageSimulationOptions): OutageRun {
    const faulty = withFaults(this.rig, options.faults ?? []);
    const keep = { keepTrace: options.keepTrace ?? true, follow: options.follow ?? true };
    const { cutSeconds = LONGEST_CUT_S, airGathers = false } = options;
    const { network, modes, volumes, healthy, running, faultWhileRunning, cut } = this.untilRestart(
      faulty,
      cutSeconds,
      airGathers,
      keep,
    );
    const system = new HydraulicSystem(network, structuredClone(modes));
    const restart = this.restart(faulty, system, Float64Array.from(volumes), keep);
    const noRestart = faulty.stage.pumpStaysOff ? "power is back, flow is not: the return pump does not turn" : "";
    const verdict = judge(network, {
      healthyVolumes: healthy.volumes,
      running,
      faultWhileRunning,
      cut,
      restart,
      noRestart,
    });
    return { faults: options.faults ?? [], running, faultWhileRunning, cut, restart, verdict };
  }

  /** The run up to the end of the outage. Without traces, faults that differ only at the restart share one run. */
  private untilRestart(
    faulty: FaultyRig,
    cutSeconds: number,
    airGathers: boolean,
    keep: Pick<StageOptions, "keepTrace" | "follow">,
  ): BeforeRestart {
    const { tubesEmptyAtRestart: _, pumpStaysOff: __, ...stage } = faulty.stage;
    const shared = !keep.keepTrace && !keep.follow;
    const key = shared ? JSON.stringify([faulty.before, faulty.broken, stage, faulty.drips, cutSeconds, airGathers]) : "";
    const known = this.beforeRestart.get(key);
    if (known) return known;
    const { system, y, healthy, faultWhileRunning, running: report } = this.open(faulty, keep);
    const running = report();
    const { modes, network } = system;
    modes.airGathers = airGathers;
    const cut = this.cut(system, y, cutSeconds, keep);
    const state = { network, modes, volumes: y, healthy, running, faultWhileRunning, cut };
    if (shared) this.beforeRestart.set(key, state);
    return state;
  }

  private stage(system: HydraulicSystem, y: Float64Array, options: StageOptions): Transient {
    this.stages++;
    return runStage(system, y, options);
  }

  private restart(
    faulty: FaultyRig,
    cutSystem: HydraulicSystem,
    y: Float64Array,
    keep: Pick<StageOptions, "keepTrace" | "follow">,
  ): Transient | null {
    if (faulty.stage.pumpStaysOff) return null;
    const system =
      faulty.atRestart === faulty.broken
        ? cutSystem
        : new HydraulicSystem(faultyNetwork({ ...faulty, broken: faulty.atRestart }, this.valveLosses), cutSystem.modes);
    setPumps(system.modes, true);
    system.modes.powered = true;
    if (faulty.stage.tubesEmptyAtRestart) system.modes.tubesPrimed.fill(0);
    return this.stage(system, y, { kind: "restart", atMostS: LONGEST_RESTART_S, untilStill: true, ...keep });
  }

  /**
   * Introduces the fault into the running system: solves the faulty steady state directly; if it would spill, draw air
   * or break a siphon, integrates in time instead.
   */
  private open(faulty: FaultyRig, keep: Pick<StageOptions, "keepTrace" | "follow">) {
    const healthy = this.healthyAt(faulty.before);
    const network = faultyNetwork(faulty, this.valveLosses);
    const system = new HydraulicSystem(network);
    setRunning(system.modes);
    system.modes.topOff = faulty.stage.topOffDead ? "stuck off" : faulty.stage.reservoirDumped ? "stuck on" : "off";
    let y: Float64Array = Float64Array.from(healthy.volumes);
    if (faulty.stage.reservoirDumped && network.topOff && network.returnLine) {
      y[network.returnLine.source] += y[network.topOff.reservoir];
      y[network.topOff.reservoir] = 0;
    }
    let faultWhileRunning: Transient | null = null;
    let balanced = healthy.balanced;
    if (faulty.stage.hoseOff) system.modes.hoseOff = true;
    if (faulty.stage.pumpStands !== undefined) {
      system.lines[faulty.stage.pumpStands].modes.failed = true;
      setPumps(system.modes, true);
    }
    const quiet = faulty.stage.hoseOff || !healthy.balanced ? null : quietBalance(system, y);
    if (quiet) y = quiet;
    else {
      faultWhileRunning = this.stage(system, y, {
        kind: "fault while running",
        atMostS: LONGEST_FAULT_S,
        untilStill: true,
        ...keep,
      });
      balanced = faultWhileRunning.ending === "steady" || faultWhileRunning.ending === "at rest";
    }
    const atStart = Float64Array.from(y);
    const running = () => reportSteadyState(faulty.broken, keep.keepTrace ? this.valveLosses : null, system, atStart, balanced);
    return { system, y, healthy, faultWhileRunning, running };
  }
}

/**
 * The faulty steady state, when the floor stays dry, the pump submerged and every siphon covered; null when it must be
 * integrated in time.
 */
function quietBalance(system: HydraulicSystem, start: Float64Array): Float64Array | null {
  const { network } = system;
  const line = network.returnLine;
  // A riser that siphons back beside a pump that runs on has air holes to reach.
  if (system.lines.some(({ modes }) => !modes.pumpOn)) return null;
  let { settled, volumesM3 } = solveSteadyState(system, start);
  if (settled && line && network.topOff && system.modes.topOff === "off" && Number.isFinite(network.runningZ)) {
    const missing = network.runningZ - levelZ(network.vessels[line.source].curve, volumesM3[line.source]);
    if (missing > 1e-6) ({ settled, volumesM3 } = toppedUp(system, volumesM3, line.source, network.topOff.reservoir));
  }
  if (!settled) return null;
  system.evaluate(volumesM3);
  const dry = volumesM3[network.floor] - start[network.floor] < 1e-9;
  const clear = !line || ReturnLineSolver.waterShare(line, system.levels[line.source]) > 0.999;
  const covered = network.drains.every(
    (drain, n) => system.modes.drainFull[n] === 0 || system.levels[drain.box] > drain.inletZ + 0.002,
  );
  const cupped = network.links.every(
    (link) => link.kind !== "full pipe" || link.prime < 0 || system.levels[link.from] > link.inletZ,
  );
  return dry && clear && covered && cupped ? volumesM3 : null;
}

/** The float restores the level of the return chamber, as far as the reservoir allows. */
function toppedUp(
  system: HydraulicSystem,
  volumes: Float64Array,
  source: number,
  reservoir: number,
): { settled: boolean; volumesM3: Float64Array } {
  const held = Float64Array.from(volumes);
  held[source] = volumeBelowM3(system.network.vessels[source].curve, system.network.runningZ);
  const filled = solveSteadyState(system, held, [source]);
  const needed = system.total(filled.volumesM3) - system.total(volumes);
  if (needed <= volumes[reservoir]) {
    filled.volumesM3[reservoir] -= needed;
    return filled;
  }
  const emptied = Float64Array.from(volumes);
  emptied[source] += emptied[reservoir];
  emptied[reservoir] = 0;
  return solveSteadyState(system, emptied);
}

/** The worse of two verdicts, marked when only a perfect check valve gives the better one. */
function worseOf(sealed: Verdict, leaking: Verdict): Verdict {
  if (compareWorse(leaking, sealed) >= 0) return sealed;
  return { ...leaking, onlyIfValveSeals: true };
}

function restLevels(cut: Transient, network: Network): Record<string, number> {
  return Object.fromEntries(network.vessels.map((vessel) => [vessel.id, levelZ(vessel.curve, cut.endVolumesM3[vessel.id])]));
}
