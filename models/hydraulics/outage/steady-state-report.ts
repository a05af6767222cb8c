// Evaluates the steady running state: operating point, head contributions, weirs, drains, siphons.

import type { Rig } from "../../rig.ts";
import { ReturnLineSolver } from "../dynamics/return-line.ts";
import { drainVelocityMPerS, type HydraulicSystem } from "../dynamics/system.ts";
import { networkLinks, networkVessels, volumesById } from "../dynamics/transient.ts";
import { fittingPieces } from "../laws/fittings.ts";
import { clearingVelocityMPerS, stackCapacityM3PerS, standpipeInletM3PerS, VENTED_SHARE } from "../laws/outlet.ts";
import { boreAreaM2, GRAVITY, pipeLossM } from "../laws/pipe.ts";
import { LEAST_STATED_HEAD_M, weirHeadUncertaintyM } from "../laws/weir.ts";
import { buildNetwork, type ValveLosses } from "../network/from-rig.ts";
import type { DrainPipe, FullPipeLink, ReturnLeg } from "../network/network.ts";
import type { DrainReading, HeadPiece, RunningState, SiphonReading, WeirReading } from "../types.ts";
import { startRunning } from "./start.ts";

/** Below this share of its potential flow, a pump counts as drawing air. */
const CLEAR_SHARE = 0.98;
/** A smaller spare capacity of a drain gives a warning (common practice, no published source). */
const LEAST_SPARE_SHARE = 0.2;

/**
 * Describes a system in its steady running state.
 * @param throttles to try other bends as well; null = skip that
 * @param balanced whether the rates have decayed
 */
export function reportSteadyState(
  rig: Rig,
  valveLosses: ValveLosses | null,
  system: HydraulicSystem,
  volumes: Float64Array,
  balanced: boolean,
): RunningState {
  system.evaluate(volumes);
  const { network, levels, flows, solver } = system;
  const line = network.returnLine;
  const flow = system.lines.reduce((sum, line) => sum + line.solver.pumpFlow, 0);
  const share = line ? ReturnLineSolver.waterShare(line, levels[line.source]) : 1;
  const wet = new Set(["floor", "air", "reservoir"]);
  const systemVolumeM3 = network.vessels.reduce((sum, vessel, n) => (wet.has(vessel.kind) ? sum : sum + volumes[n]), 0);
  const weirs = network.links.flatMap((link, n): WeirReading[] => {
    if (link.kind !== "weir" || network.vessels[link.from].kind !== "display") return [];
    const headM = Math.max(0, levels[link.from] - link.crestZ);
    return [
      {
        overflowId: network.vessels[link.to].partOf,
        headM,
        flowM3PerS: flows[n],
        outsideStatedRange: headM < LEAST_STATED_HEAD_M,
        headUncertaintyM: weirHeadUncertaintyM(headM),
      },
    ];
  });
  // A standpipe's mouth is the edge that the water of its display falls over.
  for (const drain of network.drains) {
    if (network.vessels[drain.box].kind !== "display" || drain.kind === "dry emergency") continue;
    const headM = Math.max(0, levels[drain.box] - drain.inletZ);
    weirs.push({
      overflowId: drain.overflowId,
      headM,
      flowM3PerS: flows[drain.inletLink],
      outsideStatedRange: false,
      headUncertaintyM: weirHeadUncertaintyM(headM),
    });
  }
  const drains = network.drains.map((drain, n) => readDrain(system, drain, n));
  const siphons = network.links.flatMap((link, n): SiphonReading[] =>
    link.kind === "full pipe" && link.prime >= 0 ? [readSiphon(system, link, n)] : [],
  );
  const drawsAir = share < CLEAR_SHARE;
  const state = {
    vessels: networkVessels(network),
    links: networkLinks(network),
    levelsZ: Object.fromEntries(network.vessels.map((vessel, n) => [vessel.id, levels[n]])),
    volumesM3: volumesById(system, volumes),
    flowsM3PerS: Object.fromEntries(network.links.map((link, n) => [link.id, flows[n]])),
    pump: {
      flowM3PerS: flow,
      headM: solver && line ? solver.headOutZ - levels[line.source] : 0,
      drawsAir,
      shutOffHeadM: solver?.shutOffM ?? 0,
    },
    headBudget: headBudget(rig, system),
    gainFromReturnBendM3PerS: valveLosses && gainFromReturnBend(rig, valveLosses, flow),
    returnVelocityMPerS: line ? (solver?.pumpFlow ?? 0) / boreAreaM2(line.tees[0].pipe.boreM) : 0,
    nozzles: system.lines
      .flatMap((each) => each.line.legs)
      .map((leg) => ({
        id: leg.id,
        flowM3PerS: flows[leg.outLink],
        velocityMPerS: flows[leg.outLink] / boreAreaM2(leg.boreM),
      })),
    weirs,
    drains,
    siphons,
    systemVolumeM3,
    turnoverPerHour: (3600 * flow) / systemVolumeM3,
    bypassShare: bypassShares(system),
    balanced,
  };
  return { ...state, warnings: [...warningsOf(state), ...network.notes] };
}

function readDrain(system: HydraulicSystem, drain: DrainPipe, n: number): DrainReading {
  const { network, flows, modes } = system;
  const flow = flows[drain.inletLink];
  const backedUpZ = network.links.reduce(
    (crest, link) => (link.kind === "weir" && link.to === drain.box ? Math.min(crest, link.crestZ) : crest),
    Number.POSITIVE_INFINITY,
  );
  const rim = network.vessels[drain.box].rimZ ?? Number.POSITIVE_INFINITY;
  const brimZ = Math.min(backedUpZ, rim);
  const boxZ = Number.isFinite(brimZ) ? brimZ : system.levels[drain.box];
  const whole = system.fullDrainFlow(drain, boxZ);
  const capacity =
    drain.kind === "throttled siphon" ? whole : Math.min(whole, standpipeInletM3PerS(boxZ - drain.inletZ, drain.mouthBoreM));
  return {
    drainId: drain.id,
    overflowId: drain.overflowId,
    flowM3PerS: flow,
    velocityMPerS: drainVelocityMPerS(drain, flow),
    capacityM3PerS: capacity,
    siphonCapacityM3PerS: whole,
    ventedCapacityM3PerS: stackCapacityM3PerS(drain.pipe.boreM, VENTED_SHARE),
    spareShare: flow > 1e-9 ? (capacity - flow) / flow : null,
    runsFull: modes.drainFull[n] === 1,
  };
}

function readSiphon(system: HydraulicSystem, link: FullPipeLink, n: number): SiphonReading {
  return {
    overflowId: system.network.vessels[link.to].partOf,
    primed: system.modes.tubesPrimed[link.prime] === 1,
    velocityMPerS: system.flows[n] / link.count / boreAreaM2(link.pipe.boreM),
    clearingVelocityMPerS: clearingVelocityMPerS(link.pipe.boreM),
  };
}

/** Contributions to the pump's head on the path to the nozzle with the highest flow; they sum to the head. */
function headBudget(rig: Rig, system: HydraulicSystem): HeadPiece[] {
  const { network, levels, flows, solver } = system;
  const line = network.returnLine;
  if (!line || !solver || line.legs.length === 0) return [];
  const leg = line.legs.reduce((best: ReturnLeg, other) => (flows[other.outLink] > flows[best.outLink] ? other : best));
  const riserFlow = line.legs.reduce((sum, other) => sum + flows[other.inLink], 0);
  const riser = line.tees[0].pipe;
  const velocity = riserFlow / boreAreaM2(riser.boreM);
  const perK = (velocity * velocity) / (2 * GRAVITY);
  const wall = solver.headOutZ - solver.teeZ[leg.tee] - riser.lossK * perK;
  const named = fittingPieces(rig.return.riser.fittings, riser.boreM).map(([name, each, count, source]) => ({
    name: `${count} ${name}`,
    k: each * count,
    source,
  }));
  const rest = riser.lossK - named.reduce((sum, piece) => sum + piece.k, 0);
  const pieces: HeadPiece[] = [
    { name: "lift from sump to display", headM: Math.max(levels[leg.display], leg.tipZ) - levels[line.source], source: "levels" },
    { name: "friction in the riser", headM: wall, source: "Colebrook 1939" },
    ...named.filter((piece) => piece.k > 0).map((piece) => ({ name: piece.name, headM: piece.k * perK, source: piece.source })),
    {
      name: line.checkValve === "none" ? "valve" : "valve and check valve",
      headM: rest * perK,
      source: "Crane TP-410; part-closed: Weisbach (from memory)",
    },
    { name: "nozzle", headM: pipeLossM(leg.out, flows[leg.outLink], network.viscosityM2PerS), source: "Crane TP-410" },
  ];
  return pieces;
}

/** Gain in flow if every two quarter bends in the riser were one return bend [m³/s]; 0 with fewer than two. */
function gainFromReturnBend(rig: Rig, valveLosses: ValveLosses, flowNow: number): number {
  const { fittings } = rig.return.riser;
  const pairs = Math.floor(fittings.bends90 / 2);
  if (pairs === 0) return 0;
  const bent: Rig = {
    ...rig,
    return: {
      ...rig.return,
      riser: {
        ...rig.return.riser,
        fittings: { ...fittings, bends90: fittings.bends90 - 2 * pairs, bends180: fittings.bends180 + pairs },
      },
    },
  };
  const { system, settled } = startRunning(bent, buildNetwork(bent, valveLosses));
  system.evaluate(settled.volumesM3);
  return system.lines.reduce((sum, line) => sum + line.solver.pumpFlow, 0) - flowNow;
}

/** Share of the inflow of each tower that bypasses its media. */
function bypassShares(system: HydraulicSystem): Record<string, number> {
  const { network, flows } = system;
  const shares: Record<string, number> = {};
  for (const [n, vessel] of network.vessels.entries()) {
    if (vessel.kind !== "tray") continue;
    const tower = vessel.partOf;
    const prefilter = network.vessels.findIndex((other) => other.kind === "prefilter" && other.partOf === tower);
    const top = prefilter >= 0 ? prefilter : n;
    const own = new Set([n, prefilter]);
    const brought = network.links.reduce((sum, link, k) => (link.to === top && !own.has(link.from) ? sum + flows[k] : sum), 0);
    const past = network.links.reduce(
      (sum, link, k) => (link.kind === "rim" && own.has(link.from) && link.to !== n ? sum + flows[k] : sum),
      0,
    );
    shares[tower] = brought > 0 ? past / brought : 0;
  }
  return shares;
}

function warningsOf(state: Omit<RunningState, "warnings">): string[] {
  const warnings: string[] = [];
  if (!state.balanced) warnings.push("no steady running state was found");
  if (state.pump.drawsAir) warnings.push("the pump draws air while running");
  if (state.pump.flowM3PerS <= 0 && state.nozzles.length > 0) warnings.push("the pump does not lift water to the display");
  for (const vessel of state.vessels) {
    if (vessel.rimZ === null) continue;
    if (state.levelsZ[vessel.id] > vessel.rimZ) warnings.push(`${vessel.name} spills while running`);
  }
  for (const drain of state.drains)
    if (!drain.runsFull && drain.spareShare !== null && drain.spareShare < LEAST_SPARE_SHARE)
      warnings.push(`the drain ${drain.drainId} has little capacity to spare`);
  for (const siphon of state.siphons)
    if (siphon.velocityMPerS < siphon.clearingVelocityMPerS)
      warnings.push(
        `the water in the siphon tubes of ${siphon.overflowId} is too slow to carry bubbles away, so in time they lose their siphon`,
      );
  for (const weir of state.weirs)
    if (weir.outsideStatedRange && weir.headM > 0)
      warnings.push(
        `the water over the weir of ${weir.overflowId} is under 30 mm deep, where no published formula is stated to hold`,
      );
  return warnings;
}
