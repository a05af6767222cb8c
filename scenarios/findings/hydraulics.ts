// "Stays in the sump with 23 mm (7/8 in) to spare; with the siphon hole blocked, 24 L on the floor."
import type { Fault, FaultCell, SlowDrift, Verdict } from "../../models/hydraulics/types.ts";
import type { Rig } from "../../models/rig.ts";
import type { FaultAnswers, HydraulicAnswers } from "../report/hydraulic-report.ts";
import type { Level } from "../result/result.ts";
import type { Statement } from "../result/statement.ts";
import { capital, duration, length, type Message, number, sentence, volume } from "../text/message.ts";

/** A rare fault that floods is worth a look; an ordinary one is an alarm. */
const ORDINARY = 2;
const levels: Record<Verdict["word"], Level> = { HOLDS: "info", TIGHT: "watch", FLOODS: "alarm" };

function outcome(verdict: Verdict): Message {
  if (verdict.word === "FLOODS") {
    const first = verdict.firstSpillS;
    const when = first === null ? "" : first < 1 ? ", at once" : sentence`, first drop after ${duration(first)}`;
    const stage =
      verdict.spillStage === "restart" ? " when the pump starts again" : verdict.spillStage === "running" ? " while running" : "";
    return sentence`${volume(verdict.floorM3)} on the floor${stage}${when}`;
  }
  return sentence`stays in with ${length(verdict.marginM)} to spare`;
}

const nameOf = (faults: readonly Fault[], id: string): string => faults.find((fault) => fault.id === id)?.name ?? id;

function worst(cells: readonly FaultCell[]): FaultCell | null {
  return cells.reduce<FaultCell | null>(
    (a, b) =>
      a === null ||
      b.verdict.floorM3 > a.verdict.floorM3 ||
      (b.verdict.floorM3 === a.verdict.floorM3 && b.verdict.marginM < a.verdict.marginM)
        ? b
        : a,
    null,
  );
}

/** The plain cut, and what is odd while running. */
export function hydraulicFindings({ stories, running }: HydraulicAnswers): Statement[] {
  const plain = stories[0].story.verdict;
  const findings: Statement[] = [
    {
      id: "power-cut",
      topic: "hydraulics",
      level: levels[plain.word],
      word: plain.word,
      text: sentence`Power cut and restart, nothing else wrong: ${outcome(plain)}.${plain.warnings.length > 0 ? ` ${capital(plain.warnings.join("; "))}.` : ""}`,
      value: plain.word === "FLOODS" ? plain.floorM3 : plain.marginM,
      unit: plain.word === "FLOODS" ? "m3" : "m",
      advice: "Pull the plug yourself once, with a watch and a ruler, and write the measured rise beside the predicted one.",
    },
  ];
  if (running.warnings.length > 0)
    findings.push({
      id: "running",
      topic: "hydraulics",
      level: running.balanced ? "info" : "alarm",
      word: running.balanced ? "NOTE" : "WATCH",
      text: sentence`While running: ${running.warnings.join("; ")}.`,
      value: null,
      unit: "",
    });
  return findings;
}

/** Faults and pairs, marks, and what a blocked drain can do. */
export function faultFindings(rig: Rig, { matrix, marks }: FaultAnswers): Statement[] {
  const findings: Statement[] = [];
  if (matrix) {
    const single = worst(matrix.singles);
    if (single && single.verdict.word !== "HOLDS")
      findings.push({
        id: "worst-fault",
        topic: "hydraulics",
        level:
          (matrix.faults.find(({ id }) => id === single.faults[0])?.ordinary ?? 3) < ORDINARY && single.verdict.word === "FLOODS"
            ? "watch"
            : levels[single.verdict.word],
        word: single.verdict.word,
        text: sentence`Worst single fault, ${nameOf(matrix.faults, single.faults[0])}: ${outcome(single.verdict)}.`,
        value: single.verdict.word === "FLOODS" ? single.verdict.floorM3 : single.verdict.marginM,
        unit: single.verdict.word === "FLOODS" ? "m3" : "m",
      });
    else if (single)
      findings.push({
        id: "worst-fault",
        topic: "hydraulics",
        level: "info",
        word: "HOLDS",
        text: sentence`Each of the ${matrix.singles.length} ordinary faults alone ${outcome(single.verdict)}.`,
        value: single.verdict.marginM,
        unit: "m",
      });
    const pair = matrix.worstOrdinaryPair;
    if (pair)
      findings.push({
        id: "worst-pair",
        topic: "hydraulics",
        level: pair.verdict.word === "FLOODS" ? "watch" : "info",
        word: pair.verdict.word,
        text: sentence`Worst ordinary pair, ${pair.faults.map((id) => nameOf(matrix.faults, id)).join(" and ")}: ${outcome(pair.verdict)}.`,
        value: pair.verdict.floorM3,
        unit: "m3",
      });
    if (matrix.checkValveDistrusted)
      findings.push({
        id: "check-valve",
        topic: "hydraulics",
        level: "info",
        word: "NOTE",
        text: "The check valve was also taken as leaking in every test; where it made the difference the worse answer is shown.",
        value: null,
        unit: "",
      });
  }
  const trusted = marks.maxTrustedM;
  const untrusted = marks.maxUntrustedM;
  const now = marks.runningNowM;
  const hasHole = rig.return.nozzles.some((nozzle) => nozzle.breakHole !== null);
  const mark = untrusted ?? trusted;
  findings.push({
    id: "fill-mark",
    topic: "hydraulics",
    level: mark === null || now > mark ? "watch" : "info",
    word: mark === null ? "NO MARK" : now > mark ? "TOO FULL" : "MARK",
    text:
      mark === null
        ? "No running level in the return chamber passes the power cut: see what would make it hold."
        : sentence`Run the return chamber no higher than ${length(mark)}${hasHole && untrusted !== null && trusted !== null && trusted - untrusted > 0.002 ? sentence` (${length(trusted)} if you trust the siphon-break hole)` : ""}, that is ${length(rig.sump.heightM - mark)} down from the rim, and no lower than ${length(marks.minM)}. It is run at ${length(now)}.`,
    value: mark,
    unit: "m",
    ...(mark !== null && now > mark ? { advice: sentence`Lower the running level by ${length(now - mark)}.` } : {}),
  });
  const { fuse } = marks;
  findings.push({
    id: "fuse",
    topic: "hydraulics",
    level: fuse.pumpRunsDryFirst ? "info" : "watch",
    word: fuse.pumpRunsDryFirst ? "NOTE" : "WATCH",
    text: sentence`If a drain blocks while running, the pump can lift ${volume(fuse.aboveIntakeM3)} into a display with room for ${volume(fuse.displayHeadroomM3)}: ${fuse.pumpRunsDryFirst ? "it runs dry before the display spills" : "the display spills first"}.`,
    value: fuse.displayHeadroomM3 - fuse.aboveIntakeM3,
    unit: "m3",
    ...(fuse.pumpRunsDryFirst
      ? {}
      : { advice: "A smaller return chamber, more headroom, a second drain or a level cut-off would change that." }),
  });
  return findings;
}

/** What evaporation does over a fortnight of nobody looking. */
export function evaporationFinding(drift: SlowDrift, hasTopOff: boolean): Statement {
  const perDay = drift.evaporationM3PerS * 86_400;
  const { pumpDrawsAirD, reservoirEmptyD } = drift;
  const span = drift.daysD[drift.daysD.length - 1];
  const lasts =
    pumpDrawsAirD === null
      ? sentence`the pump has water for the ${number(span)} days looked at`
      : sentence`the pump draws air after ${number(pumpDrawsAirD)} days`;
  const reservoir = hasTopOff
    ? reservoirEmptyD === null
      ? "the reservoir lasts, "
      : sentence`the reservoir is empty after ${number(reservoirEmptyD)} days and `
    : "with no top-off ";
  return {
    id: "evaporation",
    topic: "upkeep",
    level: pumpDrawsAirD !== null && pumpDrawsAirD < 3 ? "watch" : "info",
    word: "EVAPORATION",
    text: sentence`About ${volume(perDay)} evaporates a day; ${reservoir}${lasts}. All of it shows in the return chamber, none in the display.`,
    value: pumpDrawsAirD,
    unit: "d",
  };
}
