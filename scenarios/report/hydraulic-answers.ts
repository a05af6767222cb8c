// Selects the outage runs to report, with their fill levels, remedies and checks.

import { compareWorse } from "../../models/hydraulics/outage/verdict.ts";
import { breakHoles } from "../../models/hydraulics/planning/break-holes.ts";
import { fitAndLoad } from "../../models/hydraulics/planning/cabinet-fit.ts";
import { fillMarks } from "../../models/hydraulics/planning/fill-levels.ts";
import { remedies } from "../../models/hydraulics/planning/remedies.ts";
import { sizingChecks } from "../../models/hydraulics/planning/sizing.ts";
import type { FaultCell, FaultMatrix, OutageRun } from "../../models/hydraulics/types.ts";
import type { Rig } from "../../models/rig.ts";
import type { CoupledModel } from "../model/compile.ts";
import type { FaultAnswers, HydraulicAnswers, TitledOutage } from "./hydraulic-report.ts";
import { sequencesOf } from "./sequences.ts";

/** Largest number of sequences with a drawing. */
const MOST_DRAWN = 2;

/** The plain outage first, then the worst single fault and the worst ordinary pair where they are known. */
export function hydraulicAnswers(
  { resolved, running, simulator }: CoupledModel,
  plain: OutageRun,
  matrix: FaultMatrix | null,
): HydraulicAnswers {
  const judged = plain.verdict.onlyIfValveSeals ? simulator.simulateJudged({ follow: false }) : plain;
  const titled = (title: string, story: OutageRun): string =>
    story.verdict.onlyIfValveSeals ? `${title}, check valve leaking` : title;
  const stories: TitledOutage[] = [{ id: "plain", title: titled("Power cut and restart", judged), run: judged }];
  const add = (id: string, title: string, cell: FaultCell | null): void => {
    if (!cell) return;
    const story = simulator.simulateJudged({ faults: cell.faults, follow: false });
    const names = cell.faults.map((f) => matrix?.faults.find(({ id: known }) => known === f)?.name ?? f).join(" and ");
    stories.push({ id, title: titled(`${title}: ${names}`, story), run: story });
  };
  if (matrix) {
    add("worst-single", "Worst single fault", [...matrix.singles].sort((a, b) => compareWorse(a.verdict, b.verdict))[0] ?? null);
    add("worst-pair", "Worst pair of faults", matrix.worstOrdinaryPair);
  }
  const holes = breakHoles(resolved.rig, simulator, judged);
  const sequences = sequencesOf(resolved, simulator, plain.cut.settledS);
  stories.push(...sequences.slice(0, MOST_DRAWN));
  return { rig: resolved.rig, running, stories, holes, sequences, fit: fitAndLoad(resolved.rig) };
}

/** The slowest part: fill levels need a search over many levels, and each remedy needs a trial. */
export const faultAnswers = (rig: Rig, plain: OutageRun, matrix: FaultMatrix | null): FaultAnswers => ({
  matrix,
  marks: fillMarks(rig),
  remedies: matrix && (plain.verdict.word !== "HOLDS" || everydayFlood(matrix)) ? remedies(rig, matrix) : [],
  checks: sizingChecks(rig),
});

const everydayFlood = ({ faults, singles }: FaultMatrix): boolean =>
  singles.some(
    ({ faults: [id], verdict }) => verdict.word === "FLOODS" && faults.some((fault) => fault.id === id && fault.ordinary === 3),
  );
