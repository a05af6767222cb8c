// Sentences of the power cut with uncertain hydraulics.

import type { ResolvedScenario } from "../build/build.ts";
import { ScenarioFormatter } from "../build/scenario-formatter.ts";
import { formatMessage, length, sentence, volume } from "../text/message.ts";
import type { HydraulicRange } from "./hydraulic-range.ts";

const percent = (share: number): string => `${Math.round(100 * share)} %`;
const of100 = (share: number): string => String(Math.round(100 * share));

export function hydraulicSentences(
  resolved: ResolvedScenario,
  { marginM, riseM, floorM3, verdicts, why }: HydraulicRange,
): readonly string[] {
  const words = new ScenarioFormatter(resolved);
  const { HOLDS, TIGHT, FLOODS } = verdicts;
  const said = [
    sentence`When the power fails, all the water stays in with room to spare in ${of100(HOLDS)} runs of 100, stays in but is tight in ${of100(TIGHT)}, and runs onto the floor in ${of100(FLOODS)}.`,
    sentence`Water to the nearest rim: ${length(marginM.early)} · ${length(marginM.likely)} · ${length(marginM.late)} (early, likely, late: a tenth, a half and nine tenths of the runs lie below). The return chamber rises by ${length(riseM.early)} to ${length(riseM.late)}, likely ${length(riseM.likely)}.`,
    ...(floorM3.late > 0 ? [sentence`In the worst tenth of the runs at least ${volume(floorM3.late)} end up on the floor.`] : []),
  ].map((message) => formatMessage(message, words));
  if (why.length > 0)
    said.push(`Why it is wide: mostly ${why.map(({ input, share }) => `${input} (${percent(share)})`).join(", ")}.`);
  return said;
}
