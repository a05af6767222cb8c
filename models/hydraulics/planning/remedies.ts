// Remedies that make a rig hold: each is solved for its smallest sufficient change; ranked by ease.

import { type Drain, nozzlesOf, type Rig, withLines } from "../../rig.ts";
import { NoRoomError } from "../laws/level-curve.ts";
import { chamberCurve } from "../network/sump-parts.ts";
import { faultsFor } from "../outage/faults.ts";
import { OutageSimulator } from "../outage/outage-simulation.ts";
import { withRunningLevel } from "../outage/rig-changes.ts";
import { compareWorse } from "../outage/verdict.ts";
import type { FaultId, FaultMatrix, Remedy, Verdict } from "../types.ts";
import { highestThatPasses, lowestFillM } from "./fill-levels.ts";

/** Rating of the faults that a remedy must cover. */
const EXPECTED = 3;
/**
 * A hole of this fraction of the bore breaks the siphon within a few millimetres (modelling assumption, see the air
 * model of the return line).
 */
const HOLE_SHARE_OF_BORE = 0.25;
/** Depth of a new hole below the running surface [m] (common practice, no published source). */
const HOLE_DEPTH_M = 0.012;
/** Smallest useful depth of a nozzle below the running surface [m] (modelling assumption). */
const SHALLOWEST_NOZZLE_M = 0.015;
const LARGEST_SUMP = 3;
const EMERGENCY_OVER_MAIN_M = 0.02;

/** The cases that must hold and do not now: the plain outage, and each expected single fault. */
interface Goal {
  readonly cells: readonly (readonly FaultId[])[];
}

/**
 * Remedies for a rig that floods, or that does not hold with a margin, easiest first, up to the first that alone makes
 * every failing case hold (the plain outage and the expected faults); each with the worst verdict that then remains.
 * Empty when everything holds.
 * @param matrix the verdicts of this rig, if known
 */
export function remedies(rig: Rig, matrix: FaultMatrix | null = null): Remedy[] {
  const known = new Map(matrix ? [matrix.plain, ...matrix.singles].map(({ faults, verdict }) => [faults.join(), verdict]) : []);
  const simulator = new OutageSimulator(rig);
  const expected = faultsFor(rig).filter((fault) => fault.ordinary === EXPECTED);
  const cells: FaultId[][] = [[], ...expected.map((fault) => [fault.id])];
  const judged = cells.map((faults) => ({ faults, word: (known.get(faults.join()) ?? simulator.verdict(faults).verdict).word }));
  const failing = judged.filter(({ word }) => word !== "HOLDS");
  if (failing.length === 0) return [];
  const goal: Goal = { cells: failing.map(({ faults }) => faults) };
  const tried: Remedy[] = [];
  for (const remedy of EASIEST_FIRST) {
    const found = remedy(rig, goal);
    if (found) tried.push(found);
    if (found?.holds) break;
  }
  return tried;
}

const EASIEST_FIRST: readonly ((rig: Rig, goal: Goal) => Remedy | null)[] = [
  lowerFill,
  raiseNozzle,
  drillHole,
  smallerReturnChamber,
  addDrain,
  largerSump,
];

function worst(rig: Rig, goal: Goal): Verdict {
  const simulator = new OutageSimulator(rig);
  return goal.cells.map((cell) => simulator.verdict(cell).verdict).reduce((a, b) => (compareWorse(a, b) <= 0 ? a : b));
}

function holds(rig: Rig, goal: Goal): boolean {
  const simulator = new OutageSimulator(rig);
  return goal.cells.every((cell) => simulator.verdict(cell).verdict.word === "HOLDS");
}

function result(rig: Rig, goal: Goal, rest: Omit<Remedy, "holds" | "verdict">): Remedy {
  const verdict = worst(rig, goal);
  return { ...rest, holds: verdict.word === "HOLDS", verdict };
}

function lowerFill(rig: Rig, goal: Goal): Remedy {
  const low = Math.min(lowestFillM(rig) + 0.005, rig.sump.runningLevelM);
  const level = highestThatPasses(low, rig.sump.runningLevelM, 1e-3, (value) => holds(withRunningLevel(rig, value), goal)) ?? low;
  return result(withRunningLevel(rig, level), goal, {
    id: "lower fill",
    what: "run the return chamber no higher than {value}",
    value: level,
    unit: "m",
    ease: 1,
  });
}

/** Smallest raise of all nozzles that is sufficient; the shallowest position when none is. */
function raiseNozzle(rig: Rig, goal: Goal): Remedy | null {
  const { levelsZ } = new OutageSimulator(rig).running();
  const room = Math.max(...nozzlesOf(rig).map((nozzle) => levelsZ[nozzle.display] - SHALLOWEST_NOZZLE_M - nozzle.tipZ));
  if (room <= 0.001) return null;
  const raised = (by: number): Rig =>
    withLines(rig, (line) => ({
      ...line,
      nozzles: line.nozzles.map((nozzle) => {
        const tipZ = Math.max(nozzle.tipZ, Math.min(nozzle.tipZ + by, levelsZ[nozzle.display] - SHALLOWEST_NOZZLE_M));
        return { ...nozzle, tipZ };
      }),
    }));
  const lowest = highestThatPasses(0, room, 2e-3, (by) => !holds(raised(by), goal));
  const by = lowest === null ? room : Math.min(room, lowest + 2e-3);
  const deepest = nozzlesOf(rig).reduce((a, b) => (levelsZ[a.display] - a.tipZ > levelsZ[b.display] - b.tipZ ? a : b));
  return result(raised(by), goal, {
    id: "raise nozzle",
    what: "raise the return outlet until its lowest opening is {value} below the water line",
    value: Math.max(SHALLOWEST_NOZZLE_M, levelsZ[deepest.display] - deepest.tipZ - by),
    unit: "m",
    ease: 2,
  });
}

/** A hole in each nozzle's pipe, just below the surface and wide enough for its bore. It is one more hole to keep clean. */
function drillHole(rig: Rig, goal: Goal): Remedy | null {
  const { levelsZ } = new OutageSimulator(rig).running();
  const wide = (bore: number) => Math.ceil(bore * HOLE_SHARE_OF_BORE * 2000) / 2000;
  const missing = nozzlesOf(rig).filter(
    ({ breakHole, boreM }) => breakHole === null || breakHole.diameterM < wide(boreM) || breakHole.count < 2,
  );
  if (missing.length === 0) return null;
  const drilled = withLines(rig, (line) => ({
    ...line,
    nozzles: line.nozzles.map((nozzle) => ({
      ...nozzle,
      breakHole: { diameterM: wide(nozzle.boreM), z: levelsZ[nozzle.display] - HOLE_DEPTH_M, count: 2 },
    })),
  }));
  return result(drilled, goal, {
    id: "drill hole",
    what: "drill two siphon-break holes of {value} in each return pipe, 12 mm below the water line",
    value: wide(Math.max(...missing.map((nozzle) => nozzle.boreM))),
    unit: "m",
    ease: 3,
  });
}

/** Moves the last baffle so that the pump runs dry before the display reaches its rim. */
function smallerReturnChamber(rig: Rig, goal: Goal): Remedy | null {
  const { chambers } = rig.sump;
  if (chambers.length < 2) return null;
  const last = chambers.length - 1;
  const whole = chambers[last].lengthM;
  const shrunk = (length: number): Rig => ({
    ...rig,
    sump: {
      ...rig.sump,
      chambers: chambers.map((chamber, n) =>
        n === last
          ? { ...chamber, lengthM: length }
          : n === last - 1
            ? { ...chamber, lengthM: chamber.lengthM + whole - length }
            : chamber,
      ),
    },
  });
  const shortest = Math.min(whole, Math.max(0.35 * whole, 0.12));
  const less = highestThatPasses(0, whole - shortest, 2e-3, (by) => hasRoom(shrunk(whole - by)));
  const smallest = whole - (less ?? 0);
  if (smallest >= whole) return null;
  const length = highestThatPasses(smallest, whole, 2e-3, (value) => holds(shrunk(value), goal)) ?? smallest;
  return result(shrunk(length), goal, {
    id: "smaller return chamber",
    what: "move the last baffle so that the return chamber is {value} long",
    value: length,
    unit: "m",
    ease: 4,
  });
}

/** Whether the objects in the chambers still fit. */
function hasRoom(rig: Rig): boolean {
  try {
    for (const chamber of rig.sump.chambers) chamberCurve(rig, chamber);
    return true;
  } catch (error) {
    if (error instanceof NoRoomError) return false;
    throw error;
  }
}

/** A dry emergency pipe beside the widest drain of every overflow that has none. */
function addDrain(rig: Rig, goal: Goal): Remedy | null {
  const lacking = rig.displays.some((display) =>
    display.overflows.some(({ drains }) => !drains.some((drain) => drain.kind === "dry emergency")),
  );
  if (!lacking) return null;
  const emergency = (drains: readonly Drain[], depthM: number): Drain => {
    const widest = drains.reduce((a, b) => (b.boreM > a.boreM ? b : a));
    const inletM = Math.min(
      depthM - 0.005,
      Math.max(...drains.map((drain) => drain.inletM)) + EMERGENCY_OVER_MAIN_M + widest.boreM,
    );
    return { ...widest, id: `${widest.id} emergency`, kind: "dry emergency", inletM, openShare: 1 };
  };
  const doubled: Rig = {
    ...rig,
    displays: rig.displays.map((display) => ({
      ...display,
      overflows: display.overflows.map((overflow) =>
        overflow.drains.some((drain) => drain.kind === "dry emergency")
          ? overflow
          : { ...overflow, drains: [...overflow.drains, emergency(overflow.drains, overflow.box.depthM)] },
      ),
    })),
  };
  return result(doubled, goal, {
    id: "second drain",
    what: "add a dry emergency drain as wide as the main one",
    value: null,
    unit: "",
    ease: 5,
  });
}

/** Smallest sump of the same height, with chambers in proportion, that holds. */
function largerSump(rig: Rig, goal: Goal): Remedy {
  const grown = (by: number): Rig => ({
    ...rig,
    sump: {
      ...rig.sump,
      lengthM: rig.sump.lengthM * by,
      chambers: rig.sump.chambers.map((chamber) => ({ ...chamber, lengthM: chamber.lengthM * by })),
    },
  });
  const fails = highestThatPasses(1, LARGEST_SUMP, 0.02, (by) => !holds(grown(by), goal)) ?? 1;
  const by = Math.min(LARGEST_SUMP, fails + 0.02);
  return result(grown(by), goal, {
    id: "larger sump",
    what: "fit a sump {value} long, as wide and as high as now",
    value: rig.sump.lengthM * by,
    unit: "m",
    ease: 6,
  });
}
