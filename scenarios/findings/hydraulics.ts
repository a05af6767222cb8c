// "When the power fails and comes back, all the water stays in, with 123 mm to spare." Cut, faults, marks, blocked drain, cabinet.

import type { FaultCell, FaultMatrix, FillMarks, FitAndLoad, Remedy, SlowDrift, Verdict } from "../../models/hydraulics/types.ts";
import { nozzlesOf, type Rig } from "../../models/rig.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import { cellStakes, consequenceOf, type FaultAnswers, type HydraulicAnswers } from "../report/hydraulic-report.ts";
import type { Likelihood } from "../result/result.ts";
import type { Statement } from "../result/statement.ts";
import {
  area,
  capital,
  duration,
  joined,
  lasting,
  length,
  type Message,
  number,
  quantified,
  sentence,
  volume,
  withValue,
} from "../text/message.ts";
import { partName, tankName } from "./part-name.ts";

/** Fill levels closer together than this count as one [m]. */
const SAME_MARK_M = 0.002;
/** Smallest relative difference between two volumes on the floor that is reported. */
const TELLS_APART = 0.02;
const UNATTENDED_SOON_DAYS = 3;

const spare = (rig: Rig, verdict: Verdict): Message =>
  Number.isFinite(verdict.marginM) && verdict.marginVesselId !== ""
    ? sentence`${length(verdict.marginM)} to spare in ${partName(rig, verdict.marginVesselId)}`
    : sentence`room to spare`;

/** "5.4 L on the floor from the sump, from 2.7 s after the power fails" */
function flood(rig: Rig, { floorM3, firstSpillS, spillStage, spillVesselId }: Verdict): Message {
  const from = spillVesselId === null ? "" : ` from ${partName(rig, spillVesselId)}`;
  const at = firstSpillS === null || firstSpillS < 1 ? null : duration(firstSpillS);
  const when =
    spillStage === "power cut"
      ? at === null
        ? sentence`as soon as the power fails`
        : sentence`starting ${at} after the power fails`
      : spillStage === "restart"
        ? at === null
          ? sentence`as soon as the pump starts again`
          : sentence`starting ${at} after the pump starts again`
        : at === null
          ? sentence`with the pump running`
          : sentence`starting ${at} later with the pump running`;
  return sentence`${volume(floorM3)} run${from} onto the floor, ${when}`;
}

const outcome = (rig: Rig, verdict: Verdict): Message =>
  verdict.word === "FLOODS" ? flood(rig, verdict) : sentence`the water stays in, with ${spare(rig, verdict)}`;

const figureOf = (verdict: Verdict): Pick<Statement, "value" | "unit"> =>
  verdict.word === "FLOODS" ? { value: verdict.floorM3, unit: "m3" } : { value: verdict.marginM, unit: "m" };

/** The plain outage, irregularities while running, and parts that do not fit. */
export function hydraulicFindings({ rig, stories, running, fit }: HydraulicAnswers, remedies: readonly Remedy[]): Statement[] {
  return [plainCut(rig, stories[0].run.verdict, remedies), ...steadiness(running), ...misfits(fit)];
}

function plainCut(rig: Rig, verdict: Verdict, remedies: readonly Remedy[]): Statement {
  const floods = verdict.word === "FLOODS";
  const leaks = verdict.onlyIfValveSeals;
  const begins = leaks
    ? "When the power fails and the check valve leaks, as most do sooner or later"
    : "When the power fails and comes back";
  const text = floods
    ? sentence`${begins}, ${flood(rig, verdict)}.`
    : sentence`${begins}, all the water stays in, with ${verdict.word === "TIGHT" ? "only " : ""}${spare(rig, verdict)}.`;
  const also = quantified(verdict.warnings.length > 0 ? ` ${capital(verdict.warnings.join("; "))}.` : "");
  return {
    id: "power-cut",
    topic: "hydraulics",
    consequence: consequenceOf(verdict),
    likelihood: leaks ? "expected" : "planned",
    word: verdict.word,
    text: sentence`${text}${also}`,
    ...figureOf(verdict),
    brief: floods
      ? sentence`${leaks ? "If the check valve leaks, a power cut puts" : "A power cut puts"} ${volume(verdict.floorM3)} on the floor.`
      : sentence`When the power fails and comes back, all the water stays in.`,
    advice: floods
      ? "Do not pull the plug as a test before this is cured."
      : "Pull the plug yourself once, with a watch and a ruler, and compare the measured rise with this.",
    ...(floods ? { remedy: cure(remedies) } : {}),
  };
}

/** The cheapest remedy that holds, otherwise the best of those tried, and what remains after it. */
function cure(remedies: readonly Remedy[]): Message | string {
  const best = remedies.find(({ holds }) => holds) ?? [...remedies].sort((a, b) => a.verdict.floorM3 - b.verdict.floorM3)[0];
  if (!best) return "Lower the water level in the return chamber first, then test again.";
  const { what, value, unit, verdict } = best;
  const change = withValue(
    what,
    value === null ? "" : unit === "m" ? length(value) : unit === "m2" ? area(value) : volume(value),
  );
  if (best.holds)
    return sentence`Cheapest cure: ${change}. Then the power cut and every everyday fault stay in, with at least ${length(verdict.marginM)} to spare.`;
  return verdict.word === "FLOODS"
    ? sentence`No single change we tried cures it. The best is to ${change}; in the worst case it still puts ${volume(verdict.floorM3)} on the floor.`
    : sentence`Best of the changes we tried: ${change}. In the worst case the water then stays in, with ${length(verdict.marginM)} to spare.`;
}

function steadiness(running: HydraulicAnswers["running"]): Statement[] {
  if (running.warnings.length === 0) return [];
  return [
    {
      id: "running",
      topic: "hydraulics",
      consequence: running.balanced ? "none" : "harm",
      likelihood: "planned",
      word: running.balanced ? "NOTE" : "UNSTEADY",
      text: quantified(`${capital(running.warnings.join("; "))}.`),
      value: null,
      unit: "",
    },
  ];
}

/** Parts that are too large for the cabinet or its door. */
function misfits({ fit }: FitAndLoad): Statement[] {
  const tooLarge = fit.filter(({ fits }) => !fits).sort((a, b) => a.spareM - b.spareM);
  if (tooLarge.length === 0) return [];
  const list = tooLarge.map(({ part, spareM }) => sentence`${length(-spareM)} for ${part}`);
  return [
    {
      id: "fit",
      topic: "fit",
      consequence: "harm",
      likelihood: "planned",
      word: "DOES NOT FIT",
      text: sentence`It does not fit the cabinet. Missing: ${joined(list)}.`,
      value: -tooLarge[0].spareM,
      unit: "m",
      advice:
        "Measure the cabinet again before anything is cut or ordered; a lower tower, a lower sump or a taller stand would fit.",
    },
  ];
}

/** Faults and pairs, fill levels, and the effect of a blocked drain. */
export function faultFindings(rig: Rig, { matrix, marks, remedies }: FaultAnswers): Statement[] {
  return [...(matrix ? matrixFindings(rig, matrix, remedies) : []), fillMark(rig, marks), blockedDrain(rig, marks)];
}

const worse = (a: FaultCell, b: FaultCell): boolean =>
  b.verdict.floorM3 > a.verdict.floorM3 || (b.verdict.floorM3 === a.verdict.floorM3 && b.verdict.marginM < a.verdict.marginM);

const worst = (cells: readonly FaultCell[]): FaultCell | null =>
  cells.reduce<FaultCell | null>((a, b) => (a === null || worse(a, b) ? b : a), null);

const CLASSES: readonly { readonly ordinary: 1 | 2 | 3; readonly id: string; readonly title: string; readonly all: string }[] = [
  { ordinary: 3, id: "everyday-faults", title: "Worst everyday fault", all: "everyday faults" },
  { ordinary: 2, id: "possible-faults", title: "Worst of the less common faults", all: "less common faults" },
  { ordinary: 1, id: "rare-faults", title: "Worst rare fault", all: "rare faults" },
];

function matrixFindings(rig: Rig, matrix: FaultMatrix, remedies: readonly Remedy[]): Statement[] {
  const nameOf = (id: string): Message => quantified(matrix.faults.find((fault) => fault.id === id)?.name ?? id);
  const findings = CLASSES.flatMap(({ ordinary, id, title, all }): Statement[] => {
    const cells = matrix.singles.filter(({ faults }) =>
      matrix.faults.some((fault) => fault.id === faults[0] && fault.ordinary === ordinary),
    );
    const cell = worst(cells);
    if (!cell) return [];
    const { verdict } = cell;
    const flooding = cells.filter((other) => other.verdict.word === "FLOODS").length;
    // Of faults that are not expected, only floods are reported.
    if (ordinary < 3 && flooding === 0) return [];
    const stakes = cellStakes(matrix, cell);
    const name = nameOf(cell.faults[0]);
    const others =
      flooding > 1 ? ` ${flooding - 1} more of the ${cells.length} ${all} ${flooding === 2 ? "floods" : "flood"} too.` : "";
    return [
      {
        id,
        topic: "hydraulics",
        ...stakes,
        word: verdict.word,
        text:
          verdict.word === "FLOODS"
            ? sentence`${title}, ${name}: ${flood(rig, verdict)}.${others}`
            : sentence`${cells.length === 1 ? `The one of the ${all} that applies` : `Each of the ${cells.length} ${all} alone`} leaves the floor dry; the closest call is ${name}, with ${spare(rig, verdict)}.`,
        ...figureOf(verdict),
        brief:
          verdict.word === "FLOODS"
            ? sentence`With ${name}, ${volume(verdict.floorM3)} would end up on the floor.`
            : sentence`With each everyday fault it stays in too.`,
        ...(stakes.consequence === "loss" && stakes.likelihood === "expected" ? { remedy: cure(remedies) } : {}),
      },
    ];
  });
  const pair = matrix.worstOrdinaryPair;
  const single = worst(matrix.singles.filter(({ faults }) => pair?.faults.includes(faults[0])));
  const adds =
    pair !== null &&
    (single === null || pair.verdict.floorM3 > (1 + TELLS_APART) * single.verdict.floorM3 || pair.verdict.word !== "FLOODS");
  if (pair && adds) {
    const stakes = cellStakes(matrix, pair);
    findings.push({
      id: "worst-pair",
      topic: "hydraulics",
      ...stakes,
      word: pair.verdict.word,
      text: sentence`Worst pair of faults at once, ${joined(pair.faults.map(nameOf))}: ${outcome(rig, pair.verdict)}.`,
      ...figureOf(pair.verdict),
      brief:
        pair.verdict.word === "FLOODS"
          ? sentence`The worst pair, ${joined(pair.faults.map(nameOf))}, would put ${volume(pair.verdict.floorM3)} on the floor.`
          : sentence`No pair of faults tried floods it.`,
      ...(stakes.consequence === "loss" && stakes.likelihood === "expected" ? { remedy: cure(remedies) } : {}),
    });
  }
  if (matrix.checkValveDistrusted)
    findings.push({
      id: "check-valve",
      topic: "hydraulics",
      consequence: "none",
      likelihood: "planned",
      word: "NOTE",
      text: "Every test was also run with the check valve leaking, and the worse result counts.",
      value: null,
      unit: "",
    });
  return findings;
}

function fillMark(rig: Rig, { minM, maxTrustedM, maxUntrustedM, runningNowM: now }: FillMarks): Statement {
  const base = { id: "fill-mark", topic: "hydraulics", likelihood: "planned", unit: "m" } as const;
  if (minM === null)
    return {
      ...base,
      consequence: "none",
      word: "NO MARK",
      text: "Pump and drain never settle to steady levels, so there is no fill mark to give.",
      value: null,
    };
  const mark = maxUntrustedM ?? maxTrustedM;
  if (mark === null)
    return {
      ...base,
      consequence: "harm",
      word: "NO MARK",
      text: "At no level in the return chamber does a power cut leave enough room in the sump.",
      brief: "At no level in the return chamber does a power cut leave enough room in the sump.",
      value: null,
    };
  if (mark < minM)
    return {
      ...base,
      consequence: "harm",
      word: "NO MARK",
      text: sentence`No level in the return chamber suits both: above ${length(mark)} a power cut may flood, below ${length(minM)} the pump draws air.`,
      value: mark,
    };
  const hasHole = nozzlesOf(rig).some((nozzle) => nozzle.breakHole !== null);
  const higher = hasHole && maxUntrustedM !== null && maxTrustedM !== null && maxTrustedM - maxUntrustedM > SAME_MARK_M;
  const trusting = higher ? sentence` With a clean siphon-break hole, up to ${length(maxTrustedM!)} still holds.` : "";
  const tooFull = now > mark + SAME_MARK_M;
  return {
    ...base,
    consequence: tooFull ? "harm" : "none",
    word: tooFull ? "TOO FULL" : "FILL MARK",
    brief: sentence`Run the return chamber no more than ${length(mark)} deep${tooFull ? sentence`; now it is ${length(now)}, too full` : ""}.`,
    text: sentence`Keep the water in the return chamber between ${length(minM)} and ${length(mark)} deep; now it is ${length(now)}.${trusting}`,
    value: mark,
    ...(tooFull ? { advice: sentence`Lower it by ${length(now - mark)}.` } : {}),
  };
}

const DRAIN_OUTCOMES = ["spills", "runs dry", "carried"] as const;

/** The worst display when its drain closes. */
function blockedDrain(rig: Rig, { fuses }: FillMarks): Statement {
  const fuse = [...fuses].sort(
    (a, b) => DRAIN_OUTCOMES.indexOf(a.outcome) - DRAIN_OUTCOMES.indexOf(b.outcome) || b.floorM3 - a.floorM3,
  )[0];
  const tank = tankName(rig, fuse.display);
  const spills = fuse.outcome === "spills";
  const likelihood: Likelihood = "possible";
  const begins = `If the main drain of ${tank} blocks while the pump runs`;
  const text: Message = spills
    ? sentence`${begins}, ${tank} overflows${fuse.firstSpillS === null || fuse.firstSpillS < 1 ? "" : sentence` after ${duration(fuse.firstSpillS)}`}: ${volume(fuse.floorM3)} on the floor.`
    : fuse.outcome === "runs dry"
      ? sentence`${begins}, the pump runs dry before ${tank} overflows: noisy, but the floor stays dry.`
      : sentence`${begins}, the rest of the drains carry the flow: ${tank} stays in. It gets loud; take that as the warning.`;
  return {
    id: "fuse",
    topic: "hydraulics",
    consequence: spills ? "loss" : "none",
    likelihood,
    word: spills ? "FLOODS" : "DRAIN",
    text,
    value: fuse.floorM3,
    unit: "m3",
    ...(spills
      ? {
          advice:
            "A smaller return chamber, more room below the rim, a second drain or a float switch that stops the pump would prevent it. Do not try it by hand.",
        }
      : {}),
  };
}

/** In days, or in hours below two days. */
const inDays = (d: number): Message => (d < 2 ? [lasting(d)] : sentence`${number(d)} days`);

/** Effect of two weeks of evaporation without attention. */
export function evaporationFinding(drift: SlowDrift, hasTopOff: boolean): Statement {
  const perDay = drift.evaporationM3PerS * SECONDS_PER_DAY;
  const { pumpDrawsAirD, reservoirEmptyD } = drift;
  const span = Math.round(drift.daysD[drift.daysD.length - 1]);
  const soon = pumpDrawsAirD !== null && pumpDrawsAirD < UNATTENDED_SOON_DAYS;
  const reservoir = !hasTopOff
    ? sentence` Nothing tops it up`
    : reservoirEmptyD === null
      ? sentence` The top-off reservoir lasts ${span} days and more`
      : sentence` The top-off reservoir is empty after ${inDays(reservoirEmptyD)}`;
  const pump =
    pumpDrawsAirD === null
      ? sentence`, and the pump still has water after ${span} days.`
      : sentence`, and the pump draws air after ${inDays(pumpDrawsAirD)}.`;
  return {
    id: "evaporation",
    topic: "upkeep",
    consequence: soon ? "harm" : "none",
    likelihood: "planned",
    word: "EVAPORATION",
    text: sentence`About ${volume(perDay)} of water evaporates a day.${reservoir}${pump} Only the return chamber shows it; the tank stays full.`,
    value: pumpDrawsAirD,
    unit: "d",
  };
}
