// Fill levels for the glass of the return chamber: the highest and the lowest running level.

import type { ReturnLine, Rig } from "../../rig.ts";
import { levelZ, volumeBelowM3 } from "../laws/level-curve.ts";
import { withFaults } from "../outage/faults.ts";
import { OutageSimulator } from "../outage/outage-simulation.ts";
import { valvesStuckOpen, withRunningLevel } from "../outage/rig-changes.ts";
import { TIGHT_M, TIGHT_SHARE } from "../outage/verdict.ts";
import type { FillMarks, RunningState } from "../types.ts";

/** Resolution of the fill levels [m]. */
const MARK_M = 2e-4;

/**
 * Highest value in [low, high] that passes a test which passes below some value and fails above it; null when even `low` fails.
 * The result is that of bisection to `precision`. If the test returns a margin, fewer evaluations are needed.
 * @param test whether a value passes, or its margin: 0 or more passes
 */
export function highestThatPasses(
  low: number,
  high: number,
  precision: number,
  test: (value: number) => boolean | number,
): number | null {
  const tried = (at: number): Tried => {
    const found = test(at);
    return { at, room: typeof found === "number" ? found : found ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY };
  };
  let good = tried(low);
  if (!(good.room >= 0)) return null;
  let bad = tried(high);
  if (bad.room >= 0) return high;
  let guess = crossing(good, bad);
  for (let sameSide = 0; ; ) {
    const [below, above] = halvedTo(guess, low, high, precision);
    const next = below > good.at ? below : above < bad.at ? above : null;
    if (next === null) return below;
    const found = tried(next);
    sameSide = found.room >= 0 ? Math.max(1, sameSide + 1) : Math.min(-1, sameSide - 1);
    if (found.room >= 0) good = found;
    else bad = found;
    // If the secant stays on one side of the root, bisect instead.
    guess = Math.abs(sameSide) > 1 ? (good.at + bad.at) / 2 : crossing(good, bad);
  }
}

interface Tried {
  readonly at: number;
  readonly room: number;
}

/** Zero of the secant through two trials; the midpoint if they give no margin. */
function crossing(good: Tried, bad: Tried): number {
  const share = good.room / (good.room - bad.room);
  return good.at + (share >= 0 && share < 1 ? share : 0.5) * (bad.at - good.at);
}

/** Final interval of the bisection of [low, high] to `precision` if values up to `root` pass. */
function halvedTo(root: number, low: number, high: number, precision: number): readonly [number, number] {
  let [good, bad] = [low, high];
  while (bad - good > precision) {
    const middle = (good + bad) / 2;
    if (middle <= root) good = middle;
    else bad = middle;
  }
  return [good, bad];
}

/**
 * The rig in its worst plausible condition: siphon-break holes blocked, the shallow outlet of a tee blocked, check
 * valve open.
 */
export function withoutSafeguards(rig: Rig): Rig {
  const { broken } = withFaults(valvesStuckOpen(rig), ["outlet blocked"]);
  const unholed = (line: ReturnLine): ReturnLine => ({
    ...line,
    nozzles: line.nozzles.map((nozzle) => ({ ...nozzle, breakHole: null })),
  });
  return { ...broken, return: unholed(broken.return), moreReturns: broken.moreReturns.map(unholed) };
}

/**
 * Smallest margin of the sump chambers in an outage, above the required 25 mm [m] and a tenth of the arrived volume [m³];
 * negative if a chamber has less.
 */
function cutRoom(rig: Rig): number {
  const simulator = new OutageSimulator(rig);
  const { cut, running } = simulator.cutOnly(rig);
  if (cut.ending === "failed") return Number.NEGATIVE_INFINITY;
  if (cut.spilledM3 > 0) return -TIGHT_M - cut.spilledM3;
  return simulator.network.vessels.reduce((least, vessel) => {
    if (vessel.kind !== "chamber" || vessel.rimZ === null) return least;
    const peak = cut.highestZ[vessel.id].z;
    const arrived = volumeBelowM3(vessel.curve, peak) - running.volumesM3[vessel.id];
    const spare = volumeBelowM3(vessel.curve, vessel.rimZ) - volumeBelowM3(vessel.curve, peak);
    return Math.min(least, vessel.rimZ - peak - TIGHT_M, spare - TIGHT_SHARE * arrived);
  }, Number.POSITIVE_INFINITY);
}

/** Highest running level that passes an outage [m], to 0.2 mm, with throttled drains reset for it; null when none does. */
export function highestFillM(rig: Rig): number | null {
  const low = rig.return.pump.intakeM + 0.001;
  const high = rig.sump.heightM - TIGHT_M;
  if (low >= high) return null;
  return highestThatPasses(low, high, MARK_M, (level) => cutRoom(withRunningLevel(rig, level)));
}

/**
 * Lowest running level at which the pump draws no air, running or at restart, with throttled drains reset for it [m];
 * the rim when there is none.
 */
export function lowestFillM(rig: Rig): number {
  const simulator = new OutageSimulator(rig);
  const line = simulator.network.returnLine;
  if (!line) return 0;
  const id = simulator.network.vessels[line.source].id;
  /**
   * Depth by which the level falls below the intake [m]; infinite if the pump draws air while it runs, negative if it
   * draws none.
   */
  const drawsAir = (level: number): number => {
    const filled = withRunningLevel(rig, level);
    const { running, restart } = new OutageSimulator(filled).cutThenRestart(filled);
    const below = line.intakeZ - restart.lowestZ[id].z;
    if (below > 0) return below;
    return running.pump.drawsAir ? Number.POSITIVE_INFINITY : Math.min(below, -Number.MIN_VALUE);
  };
  return highestThatPasses(line.intakeZ - line.airBandM, rig.sump.heightM, MARK_M, drawsAir) ?? line.intakeZ;
}

/** Water in the return chamber above the intake, with the water behind open gaps that can follow it [m³]. */
export function waterAboveIntakeM3(rig: Rig, simulator: OutageSimulator, running: RunningState): number {
  const { chambers, baffles } = rig.sump;
  let volume = 0;
  for (let n = chambers.length - 1; n >= 0; n--) {
    if (n < chambers.length - 1 && baffles[n].kind === "over") break;
    const vessel = simulator.network.vessels.find((candidate) => candidate.id === chambers[n].id)!;
    volume += Math.max(0, running.volumesM3[vessel.id] - volumeBelowM3(vessel.curve, rig.return.pump.intakeM));
  }
  return volume;
}

/** Free volume of each display between the running level and the rim [m³]. */
export function headroomM3(simulator: OutageSimulator, running: RunningState, displayId: string): number {
  return simulator.network.vessels.reduce(
    (sum, { kind, partOf, rimZ, curve, id }) =>
      kind === "display" && partOf === displayId && rimZ !== null
        ? sum + volumeBelowM3(curve, rimZ) - running.volumesM3[id]
        : sum,
    0,
  );
}

/** All fill levels of a rig; none where no running level is steady. None of them relies on a check valve. */
export function fillMarks(rig: Rig): FillMarks {
  const open = valvesStuckOpen(rig);
  const simulator = new OutageSimulator(open);
  const { cut, running } = simulator.cutOnly(open);
  const level = (id: string) => {
    const vessel = simulator.network.vessels.find((candidate) => candidate.id === id)!;
    return levelZ(vessel.curve, cut.endVolumesM3[id]);
  };
  const aboveIntakeM3 = waterAboveIntakeM3(rig, simulator, running);
  const steady = running.balanced && !running.pump.drawsAir;
  return {
    runningNowM: rig.sump.runningLevelM,
    maxTrustedM: steady ? highestFillM(open) : null,
    maxUntrustedM: steady ? highestFillM(withoutSafeguards(rig)) : null,
    minM: steady ? lowestFillM(open) : null,
    offM: level(rig.sump.chambers[rig.sump.chambers.length - 1].id),
    fuses: rig.displays.map(({ id }) => ({
      display: id,
      aboveIntakeM3,
      headroomM3: headroomM3(simulator, running, id),
      ...simulator.blockedDrain(id),
    })),
    display: rig.displays.map(({ id, bottomZ, heightM }) => ({
      id,
      runZ: running.levelsZ[id],
      stopZ: level(id),
      rimZ: bottomZ + heightM,
    })),
  };
}
