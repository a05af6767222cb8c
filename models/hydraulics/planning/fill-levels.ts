// Marks for the glass of the return chamber: how high and how low it may run.

import type { Rig } from "../../rig.ts";
import { levelZ, volumeBelowM3 } from "../laws/level-curve.ts";
import { withFaults, withRunningLevel } from "../outage/faults.ts";
import { OutageSimulator } from "../outage/outage-simulation.ts";
import { TIGHT_M, TIGHT_SHARE } from "../outage/verdict.ts";
import type { FillMarks, RunningState } from "../types.ts";

/** Marks are found to this [m]. */
const MARK_M = 2e-4;

/**
 * Highest value in [low, high] that passes, for a test that passes below some value and fails above; null when even `low` fails.
 */
export function highestThatPasses(
  low: number,
  high: number,
  precision: number,
  passes: (value: number) => boolean,
): number | null {
  if (!passes(low)) return null;
  if (passes(high)) return high;
  let good = low;
  let bad = high;
  while (bad - good > precision) {
    const middle = (good + bad) / 2;
    if (passes(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

/** The rig with nothing trusted that may block or leak: no siphon-break holes, the shallow outlet of a tee blocked, check valve open. */
export function untrusting(rig: Rig): Rig {
  const { broken } = withFaults(withValveOpen(rig), ["outlet blocked"]);
  const nozzles = broken.return.nozzles.map((nozzle) => ({ ...nozzle, breakHole: null }));
  return { ...broken, return: { ...broken.return, nozzles } };
}

function withValveOpen(rig: Rig): Rig {
  return rig.return.checkValve === "none" ? rig : { ...rig, return: { ...rig.return, checkValve: "stuck open" } };
}

/** Whether a power cut leaves every sump chamber 25 mm and a tenth of what arrived to spare. */
function cutHolds(rig: Rig): boolean {
  const simulator = new OutageSimulator(rig);
  const { cut, running } = simulator.cutOnly(rig);
  if (cut.spilledM3 > 0 || cut.ending === "failed") return false;
  return simulator.network.vessels.every((vessel) => {
    if (vessel.kind !== "chamber" || vessel.rimZ === null) return true;
    const peak = cut.highestZ[vessel.id].z;
    const arrived = volumeBelowM3(vessel.curve, peak) - running.volumesM3[vessel.id];
    const spare = volumeBelowM3(vessel.curve, vessel.rimZ) - volumeBelowM3(vessel.curve, peak);
    return vessel.rimZ - peak >= TIGHT_M && spare >= TIGHT_SHARE * arrived;
  });
}

/** Highest running level that passes a power cut [m], to 0.2 mm, throttled drains set again for it; null when none does. */
export function highestFillM(rig: Rig): number | null {
  const low = rig.return.pump.intakeM + 0.001;
  const high = rig.sump.heightM - TIGHT_M;
  if (low >= high) return null;
  return highestThatPasses(low, high, MARK_M, (level) => cutHolds(withRunningLevel(rig, level)));
}

/** Lowest running level at which the pump draws no air, running or at restart, throttled drains set again for it [m]; the rim when there is none. */
export function lowestFillM(rig: Rig): number {
  const simulator = new OutageSimulator(rig);
  const line = simulator.network.returnLine;
  if (!line) return 0;
  const id = simulator.network.vessels[line.source].id;
  const drawsAir = (level: number): boolean => {
    const filled = withRunningLevel(rig, level);
    const { running, restart } = new OutageSimulator(filled).cutThenRestart(filled);
    return running.pump.drawsAir || restart.lowestZ[id].z < line.intakeZ;
  };
  return highestThatPasses(line.intakeZ - line.airBandM, rig.sump.heightM, MARK_M, drawsAir) ?? line.intakeZ;
}

/** Water in the return chamber above the intake, with what stands behind open gaps and can follow it [m3]. */
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

/** Room in each display between the running level and the rim [m3]. */
export function headroomM3(simulator: OutageSimulator, running: RunningState, displayId: string): number {
  return simulator.network.vessels.reduce(
    (sum, { kind, partOf, rimZ, curve, id }) =>
      kind === "display" && partOf === displayId && rimZ !== null
        ? sum + volumeBelowM3(curve, rimZ) - running.volumesM3[id]
        : sum,
    0,
  );
}

/** All marks of a rig; none where no running level is steady. A check valve is trusted in none of them. */
export function fillMarks(rig: Rig): FillMarks {
  const open = withValveOpen(rig);
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
    maxUntrustedM: steady ? highestFillM(untrusting(rig)) : null,
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
