// Volumes that are mistaken for each other: on the label, inside to the rim, and the water there really is.
import type { ResolvedScenario } from "../build/build.ts";
import type { CoupledModel } from "../model/compile.ts";
import type { Statement } from "../result/statement.ts";
import { sentence, volume } from "../text/message.ts";

/** @returns one sentence where a label is told or something is dosed from a bottle or by weight; else none */
export function volumeFindings(
  { exchange, plan }: Pick<CoupledModel, "exchange" | "plan">,
  resolved: ResolvedScenario,
): Statement[] {
  const { rig, labelM3, dosedByAmount } = resolved;
  if (labelM3 === null && !dosedByAmount) return [];
  const rimM3 = rig.displays.reduce((sum, d) => sum + d.lengthM * d.widthM * d.heightM, 0);
  const all = exchange.volumesM3.reduce((a, b) => a + b, 0);
  const inDisplays = exchange.volumesM3.filter((_, c) => plan.cells[c].kind === "display").reduce((a, b) => a + b, 0);
  const label = labelM3 === null ? "" : sentence`${volume(labelM3)} by the label, `;
  return [
    {
      id: "volumes",
      topic: "water",
      consequence: "none",
      likelihood: "planned",
      word: "VOLUMES",
      text: sentence`The display holds ${label}${volume(rimM3)} to the rim, and ${volume(inDisplays)} of water as it runs; with sump and filter there are ${volume(all)}. Doses and medicines go by the last.`,
      value: all,
      unit: "m3",
    },
  ];
}
