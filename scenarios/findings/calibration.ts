// "You measured 2400 L/h; by the curve it would be 2822 L/h." What was measured stands, and how far the model was off is told.

import type { Calibration } from "../../models/hydraulics/planning/calibrate.ts";
import type { Statement } from "../result/statement.ts";
import { flow, length, type Message, number, sentence } from "../text/message.ts";

/** A model that far off has something else wrong with it. */
const FAR_OFF = 0.3;

const SET: Readonly<Record<Calibration["what"], string>> = {
  "return flow": "the pump is computed at this share of its speed",
  "drain capacity": "the main drain is computed with this share of its bore",
  "level rise": "the edges are computed with this share of their opening",
};

export function calibrationFindings(calibrations: readonly Calibration[]): Statement[] {
  return calibrations.map(({ what, measured, modelled, factor }): Statement => {
    const value = (v: number) => (what === "level rise" ? length(v) : flow(v));
    const off = modelled / measured - 1;
    const set: Message =
      factor === null
        ? sentence` Nothing that could be set gives that: measure again, or look for what the file leaves out.`
        : sentence` So ${SET[what]}: ${number(100 * factor, 3)} %.`;
    return {
      id: `measured-${what.replace(" ", "-")}`,
      topic: "hydraulics",
      consequence: factor === null || Math.abs(off) > FAR_OFF ? "harm" : "none",
      likelihood: "planned",
      word: "MEASURED",
      text: sentence`You measured a ${what} of ${value(measured)}; by the file it would be ${value(modelled)}, ${number(100 * Math.abs(off))} % ${off > 0 ? "more" : "less"}.${set}`,
      value: off,
      unit: "",
    };
  });
}
