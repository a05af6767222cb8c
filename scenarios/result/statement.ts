// A finding as it is found: its sentences may hold quantities, which the result carries both ways.

import { type Ear, heard, type Said } from "../text/message.ts";
import type { Finding } from "./result.ts";

export interface Statement extends Omit<Finding, "text" | "advice"> {
  readonly text: string | Said;
  readonly advice?: string | Said;
}

/** With its sentences spelt out for the scenario's own units, and kept apart for readers of others. */
export function findingOf(ear: Ear, { text, advice, ...rest }: Statement): Finding {
  return {
    ...rest,
    text: heard(text, ear),
    ...(advice === undefined ? {} : { advice: heard(advice, ear) }),
    ...(typeof text === "string" ? {} : { said: text }),
    ...(advice === undefined || typeof advice === "string" ? {} : { advised: advice }),
  };
}
