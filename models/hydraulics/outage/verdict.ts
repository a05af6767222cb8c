// The verdict of an outage run: HOLDS, TIGHT or FLOODS, with its margin.

import { levelZ, volumeBelowM3 } from "../laws/level-curve.ts";
import type { Network } from "../network/network.ts";
import type { RunningState, Transient, Verdict, VerdictWord } from "../types.ts";

/** A smaller distance to the rim, or a smaller spare share of what arrived, is TIGHT (product definition). */
export const TIGHT_M = 0.025;
export const TIGHT_SHARE = 0.1;
/** Smaller volumes on the floor do not count as a flood: a few drops [m³]. */
export const SPILL_THRESHOLD_M3 = 5e-6;
/** A display that never rises by this much keeps its usual headroom; only risen levels are judged by their margin [m]. */
const RISEN_M = 0.002;
/** A display this much above its usual level at the end gives a warning [m]. */
const STANDS_HIGH_M = 0.005;

export interface Stages {
  readonly healthyVolumes: Float64Array;
  readonly running: RunningState;
  readonly faultWhileRunning: Transient | null;
  readonly cut: Transient;
  readonly restart: Transient | null;
  /** Why there is no restart; "" otherwise. */
  readonly noRestart: string;
}

/** Judges an outage run by every rim over which water would reach the floor. */
export function judge(network: Network, stages: Stages): Verdict {
  const transients = [stages.faultWhileRunning, stages.cut, stages.restart].filter((stage) => stage !== null);
  const floorM3 = transients.reduce((sum, stage) => sum + stage.spilledM3, 0);
  const spill = firstSpill(stages);
  const nearest = nearestRim(network, stages.healthyVolumes, transients);
  const marginM = floorM3 > SPILL_THRESHOLD_M3 ? 0 : Math.max(0, nearest.marginM);
  const marginUncertaintyM = nearest.isChamber ? drainDownUncertaintyM(network, stages.running) : 0;
  // A run that could not be completed does not count as holding.
  const unknown = transients.some((stage) => stage.ending === "failed");
  const tight =
    unknown || marginM - marginUncertaintyM < TIGHT_M || (nearest.spareShare !== null && nearest.spareShare < TIGHT_SHARE);
  const word: VerdictWord = floorM3 > SPILL_THRESHOLD_M3 ? "FLOODS" : tight ? "TIGHT" : "HOLDS";
  return {
    word,
    marginM,
    marginUncertaintyM,
    marginVesselId: nearest.vesselId,
    spareShare: nearest.spareShare,
    floorM3: Math.max(0, floorM3),
    ...spill,
    onlyIfValveSeals: false,
    warnings: warningsOf(network, stages),
  };
}

function nearestRim(
  network: Network,
  healthy: Float64Array,
  transients: readonly Transient[],
): { marginM: number; vesselId: string; spareShare: number | null; isChamber: boolean } {
  let nearest = { marginM: Number.POSITIVE_INFINITY, vesselId: "", spareShare: null as number | null, isChamber: false };
  for (const link of network.links) {
    if (link.kind !== "rim" || link.to !== network.floor) continue;
    const vessel = network.vessels[link.from];
    const peakZ = Math.max(...transients.map((stage) => stage.highestZ[vessel.id].z));
    const usualZ = levelZ(vessel.curve, healthy[link.from]);
    const isChamber = vessel.kind === "chamber";
    if (!isChamber && peakZ < usualZ + RISEN_M) continue;
    const marginM = link.crestZ - peakZ;
    if (marginM >= nearest.marginM) continue;
    const arrived = volumeBelowM3(vessel.curve, peakZ) - healthy[link.from];
    const spare = volumeBelowM3(vessel.curve, link.crestZ) - volumeBelowM3(vessel.curve, peakZ);
    nearest = { marginM, vesselId: vessel.id, spareShare: arrived > 1e-6 ? Math.max(0, spare) / arrived : null, isChamber };
  }
  return nearest;
}

/** The uncertainty of a weir head, as the uncertainty of the level rise in the sump [m]. */
function drainDownUncertaintyM(network: Network, running: RunningState): number {
  const plan = (id: string) => network.vessels.find((vessel) => vessel.id === id)?.areaM2 ?? 0;
  const displays = new Map<string, number>();
  for (const link of running.links) {
    const weir = running.weirs.find((candidate) => link.id === `weir ${candidate.overflowId}`);
    if (weir) displays.set(link.from, Math.max(displays.get(link.from) ?? 0, weir.headUncertaintyM));
  }
  let volume = 0;
  for (const [id, head] of displays) volume += head * plan(id);
  const sump = network.vessels.reduce((sum, vessel) => (vessel.kind === "chamber" ? sum + vessel.areaM2 : sum), 0);
  return sump > 0 ? volume / sump : 0;
}

function firstSpill({ faultWhileRunning, cut, restart }: Stages): Pick<Verdict, "firstSpillS" | "spillStage" | "spillVesselId"> {
  const named = [
    ["running", faultWhileRunning],
    ["power cut", cut],
    ["restart", restart],
  ] as const;
  for (const [spillStage, stage] of named) {
    if (!stage || stage.spilledM3 <= SPILL_THRESHOLD_M3 || stage.spills.length === 0) continue;
    const largest = stage.spills.reduce((best, spill) => (spill.volumeM3 > best.volumeM3 ? spill : best));
    return { spillStage, firstSpillS: Math.min(...stage.spills.map((spill) => spill.firstS)), spillVesselId: largest.vesselId };
  }
  return { spillStage: null, firstSpillS: null, spillVesselId: null };
}

function warningsOf(network: Network, { healthyVolumes, running, faultWhileRunning, cut, restart, noRestart }: Stages): string[] {
  const warnings: string[] = [];
  if (running.pump.drawsAir || faultWhileRunning?.ending === "hunting") warnings.push("the pump draws air while running");
  if (faultWhileRunning?.ending === "failed")
    warnings.push(`the run with the fault could not be finished: ${faultWhileRunning.endingNote}`);
  if (cut.ending === "failed") warnings.push(`the power cut could not be followed to its end: ${cut.endingNote}`);
  if (cut.ending === "still moving") warnings.push(`after ${(cut.durationS / 60).toFixed(0)} minutes ${cut.endingNote}`);
  if (noRestart) warnings.push(noRestart);
  if (!restart) return warnings;
  if (restart.ending === "failed") warnings.push(`the restart could not be followed to its end: ${restart.endingNote}`);
  if (restart.ending === "hunting") warnings.push("after the restart the pump draws air and the level hunts");
  if (restart.ending === "still moving")
    warnings.push(`${(restart.durationS / 60).toFixed(0)} minutes after the restart ${restart.endingNote}`);
  for (const event of restart.events) if (event.id.startsWith("emergency ")) warnings.push(event.label);
  for (const [n, vessel] of network.vessels.entries()) {
    if (vessel.kind !== "display") continue;
    const usual = levelZ(vessel.curve, healthyVolumes[n]);
    const end = levelZ(vessel.curve, restart.endVolumesM3[vessel.id]);
    if (end > usual + STANDS_HIGH_M)
      warnings.push(`the water in ${vessel.name} comes to rest ${((end - usual) * 1000).toFixed(0)} mm above its usual line`);
  }
  return [...new Set(warnings)];
}

const RANK: Record<VerdictWord, number> = { HOLDS: 0, TIGHT: 1, FLOODS: 2 };

/** Order of verdicts: negative when `a` is worse than `b` (more on the floor, then less margin). */
export function compareWorse(a: Verdict, b: Verdict): number {
  return RANK[b.word] - RANK[a.word] || b.floorM3 - a.floorM3 || a.marginM - b.marginM;
}
