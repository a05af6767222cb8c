// All faults, alone and in pairs.

import type { Rig } from "../../rig.ts";
import { faultsFor } from "../outage/faults.ts";
import { OutageSimulator } from "../outage/outage-simulation.ts";
import { trustsValve } from "../outage/rig-changes.ts";
import { compareWorse } from "../outage/verdict.ts";
import type { FaultCell, FaultId, FaultMatrix } from "../types.ts";

/** Smallest rating of both faults of a pair for the pair to count as ordinary. */
const ORDINARY = 2;

export interface FaultProgress {
  readonly done: number;
  readonly of: number;
}

/** The whole matrix at once; see `faultMatrixSteps`. */
export function faultMatrix(rig: Rig, onProgress?: (done: number, of: number) => void): FaultMatrix {
  const steps = faultMatrixSteps(rig);
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
    onProgress?.(step.value.done, step.value.of);
  }
}

/**
 * Verdicts without a fault, with each fault and with every pair. A check valve never improves a verdict: where the rig
 * has one, each cell is the worse result of a sealing and a leaking valve. Yields after each cell, because all of them
 * can take a minute; the caller may do other work in between, or stop.
 */
export function* faultMatrixSteps(rig: Rig): Generator<FaultProgress, FaultMatrix> {
  const simulator = new OutageSimulator(rig);
  const faults = faultsFor(rig);
  const of = 1 + faults.length + (faults.length * (faults.length - 1)) / 2;
  let done = 0;
  function* cell(ids: readonly FaultId[]): Generator<FaultProgress, FaultCell> {
    const made = { faults: ids, ...simulator.verdict(ids) };
    yield { done: ++done, of };
    return made;
  }
  const plain = yield* cell([]);
  const singles: FaultCell[] = [];
  for (const fault of faults) singles.push(yield* cell([fault.id]));
  const pairs: FaultCell[] = [];
  for (let a = 0; a < faults.length; a++)
    for (let b = a + 1; b < faults.length; b++) pairs.push(yield* cell([faults[a].id, faults[b].id]));
  const rating = new Map(faults.map((fault) => [fault.id, fault.ordinary]));
  const ordinaryPairs = pairs.filter((pair) => pair.faults.every((id) => (rating.get(id) ?? 0) >= ORDINARY));
  const worstOrdinaryPair = ordinaryPairs.reduce<FaultCell | null>(
    (worst, pair) => (worst === null || compareWorse(pair.verdict, worst.verdict) < 0 ? pair : worst),
    null,
  );
  return {
    faults,
    plain,
    singles,
    pairs,
    worstOrdinaryPair,
    checkValveDistrusted: trustsValve(rig),
  };
}
