// The initial running state: the user's fill, and drains throttled as the installer left them.

import { assertNever } from "../../../sim/assert-never.ts";
import type { Rig } from "../../rig.ts";
import { type SteadyState, solveSteadyState } from "../dynamics/steady-state.ts";
import { HydraulicSystem } from "../dynamics/system.ts";
import { volumeBelowM3 } from "../laws/level-curve.ts";
import { boreAreaM2, GRAVITY, pipeLossM } from "../laws/pipe.ts";
import { buildNetwork, type ValveLosses } from "../network/from-rig.ts";
import { type Modes, type Network, setPumps } from "../network/network.ts";

/** A valve is not set at lower flows: one litre per hour [m³/s]. */
const LEAST_SET_M3_PER_S = 1e-3 / 3600;

/** Modes of a normally running system. */
export function setRunning(modes: Modes): void {
  setPumps(modes, true);
  modes.powered = true;
  modes.hoseOff = false;
  for (const line of [modes, ...modes.more]) line.legJoined.fill(1);
}

/**
 * Initial volumes close enough to the running state for the steady-state solver: everything moderately full, the return
 * chamber at the user's fill.
 */
function firstGuess(rig: Rig, network: Network): Float64Array {
  const fills = new Map<string, number>();
  const levelsBehind = chamberGuesses(rig);
  rig.sump.chambers.forEach((chamber, n) => {
    fills.set(chamber.id, levelsBehind[n]);
  });
  for (const { id, to, bottomZ, pipe } of rig.sump.joined)
    fills.set(id, Math.max(fills.get(to) ?? bottomZ, bottomZ, pipe.z) + 0.002);
  for (const display of rig.displays) {
    const crest = Math.min(...display.overflows.map((overflow) => overflow.crestZ));
    fills.set(display.id, crest + 0.012);
    for (const overflow of display.overflows) {
      const { box } = overflow;
      const inlet = Math.min(...overflow.drains.map((drain) => drain.inletM));
      fills.set(`${overflow.id} box`, box.floorZ + (box.runningLevelM ?? Math.min(inlet + 0.03, 0.9 * box.depthM)));
      fills.set(`${overflow.id} cup`, overflow.crestZ - 0.005);
    }
  }
  return Float64Array.from(network.vessels, (vessel) => {
    const surface = fills.get(vessel.id);
    if (surface !== undefined) return volumeBelowM3(vessel.curve, surface);
    switch (vessel.kind) {
      case "tray":
      case "prefilter":
        return 0.015 * vessel.areaM2;
      case "media":
        return 0.01 * vessel.areaM2;
      case "return pipe": {
        const leg = [network.returnLine, ...network.moreLines]
          .flatMap((line) => line?.legs ?? [])
          .find((candidate) => network.vessels[candidate.legVessel].id === vessel.id);
        return leg ? volumeBelowM3(vessel.curve, leg.crownZ) : 0;
      }
      case "drain pipe": {
        const drain = network.drains.find((candidate) => network.vessels[candidate.pipeVessel].id === vessel.id)!;
        const room = boreAreaM2(drain.pipe.boreM) * drain.pipe.lengthM;
        return drain.kind === "throttled siphon" ? room : drain.kind === "open" ? 0.2 * room : 0;
      }
      case "sock":
        return volumeBelowM3(vessel.curve, 0.005 + (fills.get(vessel.partOf) ?? 0));
      case "reactor": {
        const out = network.links.find((link) => link.kind === "overflow pipe" && network.vessels[link.from].id === vessel.id);
        return out?.kind === "overflow pipe" ? volumeBelowM3(vessel.curve, out.mouthZ + 0.01) : 0;
      }
      case "reservoir":
        return rig.topOff?.reservoirM3 ?? 0;
      case "display":
      case "chamber":
      case "box":
      case "cup":
      case "floor":
      case "air":
        return 0;
      default:
        return assertNever(vessel.kind);
    }
  });
}

/** Levels in the chambers, from the return chamber backwards over or under each baffle [m]. */
function chamberGuesses(rig: Rig): number[] {
  const { chambers, baffles, runningLevelM } = rig.sump;
  const levels = new Array<number>(chambers.length).fill(runningLevelM);
  for (let n = chambers.length - 2; n >= 0; n--)
    levels[n] = baffles[n].kind === "over" ? Math.max(levels[n + 1], baffles[n].topM + 0.008) : levels[n + 1] + 0.001;
  return levels;
}

export interface Start {
  readonly system: HydraulicSystem;
  readonly settled: SteadyState;
}

/**
 * Solves the steady running state with the return chamber held at the user's fill. Where none exists (a drain that
 * cannot carry the pump's flow, so that the held chamber would supply a flood without end), the state is that when the
 * pump starts: displays just above their weirs, return chamber at the fill, `settled` false.
 */
export function startRunning(rig: Rig, network: Network): Start {
  const system = new HydraulicSystem(network);
  setRunning(system.modes);
  const guess = firstGuess(rig, network);
  const settled = solveSteadyState(system, guess, network.returnLine ? [network.returnLine.source] : []);
  system.evaluate(settled.volumesM3);
  const spills = network.links.some((link, n) => link.kind === "rim" && link.to === network.floor && system.flows[n] > 1e-9);
  if (settled.settled && !spills && settled.volumesM3[network.floor] < 1e-9) return { system, settled };
  return { system, settled: { volumesM3: guess, residualM3PerS: settled.residualM3PerS, settled: false } };
}

/**
 * Loss coefficient to which the installer closes each throttled drain so that its box has the level `runningLevelM`
 * while the pump runs. Several such drains in one box share the flow by bore. A drain that is too small is left open.
 */
export function valveLossesFor(rig: Rig): ValveLosses {
  const valveLosses = new Map<string, number>();
  const set = rig.displays.flatMap((display) => display.overflows).filter((overflow) => overflow.box.runningLevelM !== null);
  if (!set.some((overflow) => overflow.drains.some((drain) => drain.kind === "throttled siphon"))) return valveLosses;
  const network = buildNetwork(rig, valveLosses);
  const system = new HydraulicSystem(network);
  setRunning(system.modes);
  const boxes = set.map((overflow) => network.vessels.findIndex((vessel) => vessel.id === `${overflow.id} box`));
  const held = [...boxes, ...(network.returnLine ? [network.returnLine.source] : [])];
  const { volumesM3 } = solveSteadyState(system, firstGuess(rig, network), held);
  system.evaluate(volumesM3);
  for (const box of boxes) {
    const inflow = network.links.reduce((sum, link, n) => (link.to === box ? sum + system.flows[n] : sum), 0);
    const drains = network.drains.filter((drain) => drain.box === box && drain.kind === "throttled siphon");
    const bores = drains.reduce((sum, drain) => sum + boreAreaM2(drain.pipe.boreM), 0);
    for (const drain of drains) {
      const area = boreAreaM2(drain.pipe.boreM);
      const flow = (inflow * area) / bores;
      // Without flow there is nothing to set the valve by, so it stays open.
      if (!(flow > LEAST_SET_M3_PER_S)) continue;
      const head = system.levels[box] - Math.max(drain.outletZ, system.levels[drain.to]);
      const spare = head - pipeLossM(drain.pipe, flow, network.viscosityM2PerS);
      valveLosses.set(drain.id, Math.max(0, (spare * 2 * GRAVITY * area * area) / (flow * flow)));
    }
  }
  return valveLosses;
}
