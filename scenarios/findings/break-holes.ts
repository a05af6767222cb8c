// "The siphon-break hole of the outlet may not break this siphon: enlarge it or add holes, and test."

import { compareWorse } from "../../models/hydraulics/outage/verdict.ts";
import { downOf } from "../../models/hydraulics/planning/break-holes.ts";
import type { BreakHole, OutageRun } from "../../models/hydraulics/types.ts";
import type { HydraulicAnswers } from "../report/hydraulic-report.ts";
import type { Statement } from "../result/statement.ts";
import { length, type Message, number, sentence, volume } from "../text/message.ts";

/** The most important hole among those that are not reliable. */
export function breakHoleFindings({ holes, stories }: HydraulicAnswers): Statement[] {
  const doubtful = holes.filter(({ outcome }) => outcome !== "breaks");
  if (doubtful.length === 0) return [];
  const least = doubtful.reduce((a, b) => (b.airShare < a.airShare ? b : a));
  return [doubt(least, doubtful.length - 1, stories[0].run)];
}

function doubt(hole: BreakHole, others: number, { cut, verdict }: OutageRun): Statement {
  const { count, diameterM, nozzle, outcome, ifItBreaks, wantedDiameterM } = hole;
  const holes =
    count === 1
      ? sentence`The siphon-break hole of ${length(diameterM)}`
      : sentence`The ${count} siphon-break holes of ${length(diameterM)}`;
  const it = count === 1 ? "it" : "they";
  const fast = hole.velocityMPerS > hole.clearingVelocityMPerS;
  const why = fast
    ? sentence`The water runs back at ${number(hole.velocityMPerS)} m/s; from ${number(hole.clearingVelocityMPerS)} m/s on it sweeps the air down with it, and ${number(100 * hole.airShare)} % of air only slows it.`
    : sentence`So little air comes in that the siphon runs on.`;
  const band: Message = ifItBreaks
    ? sentence` If ${it} ${count === 1 ? "does" : "do"}, ${volume(ifItBreaks.downM3)} come down; this page counts on ${volume(downOf(cut))}, as if ${it} did not.`
    : [];
  const matters =
    ifItBreaks !== null && ifItBreaks.verdict.word !== verdict.word && compareWorse(verdict, ifItBreaks.verdict) < 0;
  return {
    id: "break-hole",
    topic: "hydraulics",
    consequence: matters ? "harm" : "none",
    likelihood: "planned",
    word: "HOLE",
    text: sentence`${holes} in ${nozzle === "outlet" ? "the return outlet" : nozzle} ${outcome} this siphon; enlarge it or add holes, and test. ${why}${band}${others > 0 ? ` The same holds for ${others} more of the outlets.` : ""}`,
    value: wantedDiameterM,
    unit: "m",
    advice: sentence`${count === 1 ? "A hole" : `${count} holes`} of ${length(wantedDiameterM)} would break it. Then pull the plug and watch that the water stops at the hole.`,
  };
}
