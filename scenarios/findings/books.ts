// Whether the balances of a run close. They do by construction; if one does not, the program has an error and no result
// on the page is reliable.
import type { HydraulicResult, NitrogenResult } from "../result/result.ts";
import type { Statement } from "../result/statement.ts";
import { sentence } from "../text/message.ts";

/** Id of the finding that a balance does not close; the command line then ends as after a program error. */
export const BOOKS_ID = "books";

/** Largest closure errors, relative to the input or to the water, and lowest level below a floor [m]. */
const LIMITS = { water: 1e-9, nitrogen: 1e-8, solids: 1e-9, underFloorM: 1e-9 } as const;

/** The balances that do not close, in words; empty when all do. */
function openBooks(hydraulics: HydraulicResult, nitrogen: NitrogenResult): readonly string[] {
  const open = (words: string, value: number, limit: number, unit: string): string[] =>
    value <= limit ? [] : [`${words} ${value.toExponential(1)}${unit}`];
  return [
    ...open("nitrogen is off by", nitrogen.ledger.imbalance, LIMITS.nitrogen, " of what came in"),
    ...open("dirt is off by", nitrogen.inertSolids.imbalance, LIMITS.solids, " of what came in"),
    ...open("water is off by", hydraulics.waterImbalance, LIMITS.water, " of what is there"),
    ...open("a vessel is drained below its floor by", hydraulics.underFloorM, LIMITS.underFloorM, " m"),
  ];
}

/** An alarm when a balance does not close; otherwise nothing. */
export function bookFindings(hydraulics: HydraulicResult, nitrogen: NitrogenResult): Statement[] {
  const open = openBooks(hydraulics, nitrogen);
  if (open.length === 0) return [];
  return [
    {
      id: BOOKS_ID,
      topic: "water",
      level: "alarm",
      word: "FAULT",
      text: sentence`The books of this run do not close: ${open.join("; ")}. This is a fault of the program, not of your file: do not act on any figure here.`,
      value: null,
      unit: "",
      advice: "Report it with the scenario file.",
    },
  ];
}
