// Faults, fill levels and checks of an earlier run. They replace new ones while a control moves, because they take
// longer than the days.
import type { Remedy } from "../../models/hydraulics/types.ts";
import type { Rig } from "../../models/rig.ts";
import type { RunResult } from "../result/result.ts";
import { type Statement, statementOf } from "../result/statement.ts";
import type { FaultResult } from "./hydraulic-report.ts";

/** The part of the earlier run that is reused. */
export type CachedFaults = Pick<RunResult, "rig" | "findings"> & { readonly hydraulics: FaultResult };

export interface FaultsFound {
  readonly result: FaultResult;
  /** Changes that would make it hold; empty when an earlier run is reused. */
  readonly remedies: readonly Remedy[];
  readonly findings: readonly Statement[];
}

/** Numbers are compared to six significant figures, because a page stores no more. */
const sixFigures = (_key: string, value: unknown): unknown => (typeof value === "number" ? Number(value.toPrecision(6)) : value);

export const isSameRig = (a: Rig, b: Rig): boolean => JSON.stringify(a, sixFigures) === JSON.stringify(b, sixFigures);

/** The part of a hydraulic result with faults and fill levels. */
export const faultsOf = ({ faults, matrix, marks, remedies, checks }: FaultResult): FaultResult => ({
  faults,
  matrix,
  marks,
  remedies,
  checks,
});

/** The earlier tables. The earlier findings are reused only when the rig is the same, because they may be wrong otherwise. */
export const reuseFaults = ({ rig, findings, hydraulics }: CachedFaults, now: { readonly rig: Rig }): FaultsFound => ({
  result: faultsOf(hydraulics),
  remedies: [],
  findings: isSameRig(rig, now.rig) ? findings.filter(({ ofRig }) => ofRig).map(statementOf) : [],
});
