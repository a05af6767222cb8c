// Faults, marks and checks of an earlier run, which stand in while somebody moves a control: they take longer than the days.
import type { Remedy } from "../../models/hydraulics/types.ts";
import type { Rig } from "../../models/rig.ts";
import type { RunResult } from "../result/result.ts";
import { type Statement, statementOf } from "../result/statement.ts";
import type { FaultResult } from "./hydraulic-report.ts";

/** What is needed of the earlier run. */
export type CachedFaults = Pick<RunResult, "rig" | "findings"> & { readonly hydraulics: FaultResult };

export interface FaultsFound {
  readonly result: FaultResult;
  /** What would make it hold; none where an earlier run stands in. */
  readonly remedies: readonly Remedy[];
  readonly findings: readonly Statement[];
}

/** Sentences that are about the rig alone and take long to find. */
const OF_THE_RIG: readonly string[] = [
  "everyday-faults",
  "possible-faults",
  "rare-faults",
  "worst-pair",
  "check-valve",
  "fill-mark",
  "fuse",
  "evaporation",
];

/** A page carries its numbers to six figures: no more are compared. */
const sixFigures = (_key: string, value: unknown): unknown => (typeof value === "number" ? Number(value.toPrecision(6)) : value);

export const isSameRig = (a: Rig, b: Rig): boolean => JSON.stringify(a, sixFigures) === JSON.stringify(b, sixFigures);

/** The part of a hydraulic result that is about faults and marks. */
export const faultsOf = ({ faults, matrix, marks, remedies, checks }: FaultResult): FaultResult => ({
  faults,
  matrix,
  marks,
  remedies,
  checks,
});

/** The tables as they were; their sentences too when the rig is the same, else none, since they may be wrong now. */
export const reuseFaults = ({ rig, findings, hydraulics }: CachedFaults, now: { readonly rig: Rig }): FaultsFound => ({
  result: faultsOf(hydraulics),
  remedies: [],
  findings: isSameRig(rig, now.rig) ? findings.filter(({ id }) => OF_THE_RIG.includes(id)).map(statementOf) : [],
});
