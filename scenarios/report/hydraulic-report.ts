// Results of the hydraulic model in the form that the page reads.

import type { Stop } from "../../models/hydraulics/outage/cuts-in-a-row.ts";
import type {
  BreakHole,
  FaultCell,
  FaultMatrix,
  FillMarks,
  FitAndLoad,
  OutageRun as ModelStory,
  Remedy,
  RunningState,
  SizingCheck,
  Transient,
  Verdict,
} from "../../models/hydraulics/types.ts";
import type { Rig } from "../../models/rig.ts";
import type { Consequence, HydraulicResult, Level, Likelihood, OutageEvent, OutageTrace } from "../result/result.ts";
import { levelOf } from "../result/stakes.ts";
import { formatMessage, type MessageFormatter, quantified } from "../text/message.ts";

/** Seconds of the running state shown before the outage begins [s]. */
const LEAD_S = 5;

const short = (value: number): number => Number(value.toPrecision(6));

/** The stages of an outage run in sequence: running, fault if any, stop, restart. */
export function outageTraceOf(id: string, title: string, story: ModelStory): OutageTrace {
  const stages: readonly { readonly name: string; readonly transient: Transient }[] = [
    ...(story.faultWhileRunning ? [{ name: "the fault takes hold", transient: story.faultWhileRunning }] : []),
    { name: "power off", transient: story.cut },
    ...(story.restart ? [{ name: "power back", transient: story.restart }] : []),
  ];
  const timeS: number[] = [0];
  const events: OutageEvent[] = [];
  const { vessels, links } = story.cut;
  const first = stages[0].transient.trace;
  const levels = vessels.map((vessel) => [short(first.levelsZ[vessel.id]?.[0] ?? vessel.bottomZ)]);
  const flows = links.map((link) => [short(story.running.flowsM3PerS[link.id] ?? 0)]);
  // Repeat the running sample just before the outage, so that interpolation shows no early movement.
  timeS.push(LEAD_S - 0.01);
  for (const series of [...levels, ...flows]) series.push(series[0]);
  let offset = LEAD_S;
  for (const { name, transient } of stages) {
    events.push({ s: offset, id: name, label: name });
    transient.trace.timesS.forEach((t, n) => {
      timeS.push(short(offset + t));
      for (const [v, vessel] of vessels.entries())
        levels[v].push(short(transient.trace.levelsZ[vessel.id]?.[n] ?? vessel.bottomZ));
      for (const [l, link] of links.entries()) flows[l].push(short(transient.trace.flowsM3PerS[link.id]?.[n] ?? 0));
    });
    for (const event of transient.events) events.push({ s: short(offset + event.tS), id: event.id, label: event.label });
    offset = timeS[timeS.length - 1] + LEAD_S;
  }
  return {
    id,
    title,
    faults: story.faults,
    verdict: story.verdict.word,
    marginM: short(story.verdict.marginM),
    floorM3: short(story.verdict.floorM3),
    timeS,
    vessels: vessels.map((vessel, v) => ({
      id: vessel.id,
      name: vessel.name,
      kind: vessel.kind,
      partOf: vessel.partOf,
      bottomZ: vessel.bottomZ,
      rimZ: vessel.rimZ,
      levelZ: levels[v],
    })),
    flows: links.map((link, l) => ({ id: link.id, label: link.name, from: link.from, to: link.to, m3PerS: flows[l] })),
    events: events.sort((a, b) => a.s - b.s),
  };
}

/** The fast part: running balance, plain outage, fit in the cabinet. */
export interface HydraulicAnswers {
  readonly rig: Rig;
  readonly running: RunningState;
  readonly stories: readonly TitledOutage[];
  readonly holes: readonly BreakHole[];
  /** Outages that are too close together to be simulated separately. */
  readonly sequences: readonly TitledSequence[];
  readonly fit: FitAndLoad;
}

export interface TitledOutage {
  readonly id: string;
  readonly title: string;
  readonly run: ModelStory;
}

export interface TitledSequence extends TitledOutage {
  readonly stops: readonly Stop[];
  /** Only the pumps on this circuit stop; absent: all of them. */
  readonly circuit?: string | undefined;
}

/** The slow part, which depends on the rig alone. */
export interface FaultAnswers {
  readonly matrix: FaultMatrix | null;
  readonly marks: FillMarks;
  readonly remedies: readonly Remedy[];
  readonly checks: readonly SizingCheck[];
}

/** Its part of the result. */
export type FaultResult = Pick<HydraulicResult, "faults" | "matrix" | "marks" | "remedies" | "checks">;

/**
 * @param faults computed for this rig, or reused from an earlier run
 * @param messageFormatter of the scenario's own units
 */
export function hydraulicResult(
  answers: HydraulicAnswers,
  faults: FaultResult,
  messageFormatter: MessageFormatter,
): HydraulicResult {
  const { running, fit } = answers;
  const transients = answers.stories.flatMap(({ run: story }) =>
    [story.faultWhileRunning, story.cut, story.restart].filter((transient) => transient !== null),
  );
  const drift = Math.max(...transients.map(({ waterDriftM3 }) => waterDriftM3));
  return {
    running: {
      pumpFlowM3PerS: running.pump.flowM3PerS,
      turnoverPerHour: running.turnoverPerHour,
      levels: running.vessels
        .filter((vessel) => vessel.rimZ !== null)
        .map((vessel) => ({
          vessel: vessel.id,
          z: running.levelsZ[vessel.id],
          belowRimM: (vessel.rimZ ?? 0) - running.levelsZ[vessel.id],
        })),
      headBudget: running.headBudget.map(({ name, headM }) => ({ part: name, headM })),
      drainInHandShare: Math.min(...running.drains.map((drain) => drain.spareShare ?? Number.POSITIVE_INFINITY), 10),
    },
    stories: answers.stories.map(({ id, title, run: story }) => outageTraceOf(id, title, story)),
    ...faults,
    fit: fit.fit.map(({ part, fits, spareM, note }) => ({
      part,
      ok: fits,
      spareM,
      note: formatMessage(quantified(note), messageFormatter),
    })),
    load: { parts: fit.masses, totalKg: fit.wetMassKg, kPa: fit.pressureKPa, lbPerFt2: fit.pressureLbPerFt2 },
    waterImbalance: drift / running.systemVolumeM3,
    underFloorM: Math.max(
      0,
      ...transients.flatMap(({ vessels, lowestZ }) => vessels.map(({ id, bottomZ }) => bottomZ - lowestZ[id].z)),
    ),
  };
}

type Rating = 1 | 2 | 3;
const LIKELIHOOD: Readonly<Record<Rating, Likelihood>> = { 3: "expected", 2: "possible", 1: "rare" };

/** Likelihood of a fault from its rating; two at once are one step less likely than the less likely of them. */
export function likelihoodOf(ratings: readonly Rating[]): Likelihood {
  if (ratings.length === 0) return "planned";
  const rarest = Math.min(...ratings) as Rating;
  return ratings.length === 1 ? LIKELIHOOD[rarest] : rarest === 3 ? "possible" : "rare";
}

/** Water on the floor is a loss; a narrow margin, or a pump that draws air, is harm. */
export const consequenceOf = ({ word }: Pick<Verdict, "word">): Consequence =>
  word === "FLOODS" ? "loss" : word === "TIGHT" ? "harm" : "none";

/**
 * Consequence and likelihood of a cell of the matrix; a pair is as likely as one of its faults when that fault alone
 * has the same consequence.
 */
export function cellStakes(
  matrix: FaultMatrix,
  { faults, verdict }: FaultCell,
): { consequence: Consequence; likelihood: Likelihood } {
  const rating = (id: string): Rating => matrix.faults.find((fault) => fault.id === id)?.ordinary ?? 3;
  const own = { consequence: consequenceOf(verdict), likelihood: likelihoodOf(faults.map(rating)) };
  if (faults.length < 2) return own;
  const halves = faults.flatMap((id) =>
    matrix.singles.filter((single) => single.faults[0] === id).map((half) => cellStakes(matrix, half)),
  );
  const level = ({ consequence, likelihood }: typeof own): number => LEVELS.indexOf(levelOf(consequence, likelihood));
  return halves.reduce((worst, half) => (level(half) > level(worst) ? half : worst), own);
}

const LEVELS: readonly Level[] = ["info", "watch", "alarm"];

const matrixCell = (a: string, b: string, cell: FaultCell, matrix: FaultMatrix): HydraulicResult["matrix"][number] => {
  const { verdict } = cell;
  const stakes = cellStakes(matrix, cell);
  return {
    a,
    b,
    verdict: verdict.word,
    marginM: short(verdict.marginM),
    floorM3: short(verdict.floorM3),
    floorAfterS: verdict.firstSpillS,
    level: levelOf(stakes.consequence, stakes.likelihood),
  };
};

export function faultResult(rig: Rig, { matrix, marks, remedies, checks }: FaultAnswers): FaultResult {
  return {
    faults: (matrix?.faults ?? []).map(({ id, name, ordinary }) => ({ id, name, ordinary })),
    matrix: matrix
      ? [
          matrixCell("", "", matrix.plain, matrix),
          ...matrix.singles.map((cell) => matrixCell(cell.faults[0], cell.faults[0], cell, matrix)),
          ...matrix.pairs.map((cell) => matrixCell(cell.faults[0], cell.faults[1], cell, matrix)),
        ]
      : [],
    marks: {
      maxRunningTrustedM: marks.maxTrustedM,
      maxRunningUntrustedM: marks.maxUntrustedM,
      minRunningM: marks.minM,
      offLevelM: marks.offM,
      runningM: marks.runningNowM,
      sumpRimM: rig.sump.heightM,
      fuses: marks.fuses,
    },
    remedies: remedies.map(({ what, value, unit, ease, verdict }) => ({
      what,
      value,
      unit,
      ease,
      verdict: verdict.word,
      marginM: short(verdict.marginM),
      floorM3: short(verdict.floorM3),
    })),
    checks: checks.map((check) => ({
      name: check.id,
      rule: check.rule,
      value: check.have,
      unit: check.unit,
      ok: check.met,
      source: check.evidence === "published" ? check.note : "common practice, no published source",
    })),
  };
}
