// "It measures 330 L inside, holds 287 L as it runs, and its label says 350 L: dose by what it holds."

import type { ResolvedScenario } from "../build/build.ts";
import type { HydraulicAnswers } from "../report/hydraulic-report.ts";
import type { Statement } from "../result/statement.ts";
import { type Message, number, sentence, volume } from "../text/message.ts";

/** Gross, net and label volume of the tanks whose label is told. */
export function volumeFindings({ labelM3, rig }: ResolvedScenario, { running }: HydraulicAnswers): Statement[] {
  return rig.displays.flatMap((display): Statement[] => {
    const label = labelM3[display.id];
    if (label === undefined) return [];
    const gross = display.lengthM * display.widthM * display.heightM;
    const net = running.volumesM3[display.id];
    const over = label / net - 1;
    const dose: Message =
      over > 0 ? sentence` What is dosed by the label is ${number(100 * over)} % too much for this tank alone.` : [];
    return [
      {
        id: `volume-${display.id}`,
        topic: "hydraulics",
        consequence: "none",
        likelihood: "planned",
        word: "VOLUMES",
        text: sentence`${display.name === "tank" ? "The tank" : display.name} measures ${volume(gross)} inside, holds ${volume(net)} of water as it runs, and its label says ${volume(label)}.${dose} The whole system holds ${volume(running.systemVolumeM3)}.`,
        value: net,
        unit: "m3",
      },
    ];
  });
}
