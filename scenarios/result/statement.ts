// A finding as it is found: its sentences may hold quantities, which the result carries both ways.

import { formatMessage, type Message, type MessageFormatter } from "../text/message.ts";
import type { Finding } from "./result.ts";

export interface Statement extends Omit<Finding, "text" | "advice"> {
  readonly text: string | Message;
  readonly advice?: string | Message;
}

/** With its sentences spelt out for the scenario's own units, and kept apart for readers of others. */
export function findingOf(messageFormatter: MessageFormatter, { text, advice, ...rest }: Statement): Finding {
  return {
    ...rest,
    text: formatMessage(text, messageFormatter),
    ...(advice === undefined ? {} : { advice: formatMessage(advice, messageFormatter) }),
    ...(typeof text === "string" ? {} : { said: text }),
    ...(advice === undefined || typeof advice === "string" ? {} : { advised: advice }),
  };
}
