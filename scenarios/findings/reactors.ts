// "When the pump stops, 3.1 L come back from the reactor into the sump."

import { bodyId } from "../../models/hydraulics/network/branch-parts.ts";
import { returnLines } from "../../models/rig.ts";
import type { HydraulicAnswers } from "../report/hydraulic-report.ts";
import type { Statement } from "../result/statement.ts";
import { flow, joined, sentence, volume } from "../text/message.ts";

/** Less water that comes back is not worth a sentence [m3]. */
const LEAST_M3 = 1e-4;

/** What the reactors on side branches do: their flow while running, and the water that they give back at a stop. */
export function reactorFindings({ rig, running, stories }: HydraulicAnswers): Statement[] {
  const { cut } = stories[0].run;
  const bodies = returnLines(rig)
    .flatMap(({ branches }) => branches)
    .filter(({ body }) => body !== null);
  if (bodies.length === 0) return [];
  const back = bodies.map(({ id }) => cut.startVolumesM3[bodyId(id)] - cut.endVolumesM3[bodyId(id)]);
  const all = back.reduce((sum, each) => sum + each, 0);
  const flows = joined(bodies.map(({ id }) => sentence`${flow(running.flowsM3PerS[`branch ${id}`])} through ${id}`));
  const returned =
    all > LEAST_M3
      ? sentence`When the pump stops, ${volume(all)} of their water comes down into the sump; the test of the power cut counts it.`
      : sentence`When the pump stops, they keep their water.`;
  return [
    {
      id: "reactors",
      topic: "hydraulics",
      consequence: "none",
      likelihood: "planned",
      word: "NOTE",
      text: sentence`While it runs, the pump sends ${flows}. ${returned}`,
      value: all,
      unit: "m3",
    },
  ];
}
