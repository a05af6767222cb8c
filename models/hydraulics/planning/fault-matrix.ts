// Every ordinary fault alone and in pairs.

import type { Rig } from "../../rig.ts";
import { faultsFor } from "../outage/faults.ts";
import { OutageSimulator } from "../outage/outage-simulation.ts";
import { compareWorse } from "../outage/verdict.ts";
import type { FaultCell, FaultId, FaultMatrix } from "../types.ts";

/** Ordinary enough, both of a pair, for the pair to count as an ordinary one. */
const ORDINARY = 2;

/**
 * Verdicts of no fault, of each fault and of every pair. A check valve never earns a pass: where the rig has one, each cell is the worse
 * of the valve sealing and leaking.
 * @param onProgress called after each cell with cells done and cells in all; return false to stop early (the cells so far are returned)
 */
export function faultMatrix(rig: Rig, onProgress?: (done: number, of: number) => boolean | undefined): FaultMatrix {
  const simulator = new OutageSimulator(rig);
  const faults = faultsFor(rig);
  const of = 1 + faults.length + (faults.length * (faults.length - 1)) / 2;
  let done = 0;
  let stopped = false;
  const cell = (ids: readonly FaultId[]): FaultCell | null => {
    if (stopped) return null;
    const made = { faults: ids, ...simulator.verdict(ids) };
    stopped = onProgress?.(++done, of) === false;
    return made;
  };
  const plain = cell([])!;
  const singles = faults.flatMap((fault) => cell([fault.id]) ?? []);
  const pairs: FaultCell[] = [];
  for (let a = 0; a < faults.length; a++)
    for (let b = a + 1; b < faults.length; b++) {
      const made = cell([faults[a].id, faults[b].id]);
      if (made) pairs.push(made);
    }
  const rating = new Map(faults.map((fault) => [fault.id, fault.ordinary]));
  const ordinaryPairs = pairs.filter((pair) => pair.faults.every((id) => (rating.get(id) ?? 0) >= ORDINARY));
  const worstOrdinaryPair = ordinaryPairs.reduce<FaultCell | null>(
    (worst, pair) => (worst === null || compareWorse(pair.verdict, worst.verdict) < 0 ? pair : worst),
    null,
  );
  const { checkValve } = rig.return;
  return {
    faults,
    plain,
    singles,
    pairs,
    worstOrdinaryPair,
    checkValveDistrusted: checkValve === "seals" || checkValve === "weeps",
  };
}
