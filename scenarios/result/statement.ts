// A finding before formatting: its sentences may contain quantities, which the result carries in both forms.

import { formatMessage, type Message, type MessageFormatter } from "../text/message.ts";
import type { Consequence, Finding, Likelihood, Spoken } from "./result.ts";
import { levelOf } from "./stakes.ts";

export interface Statement
  extends Omit<Finding, "text" | "said" | "advice" | "advised" | "remedy" | "brief" | "level" | "consequence" | "likelihood"> {
  readonly level?: Finding["level"];
  readonly consequence?: Consequence;
  readonly likelihood?: Likelihood;
  readonly text: string | Message;
  readonly advice?: string | Message;
  readonly remedy?: string | Message;
  readonly brief?: string | Message;
}

/** Formatted in the scenario's own units, and as separate parts for readers with other units. */
export const spoken = (messageFormatter: MessageFormatter, words: string | Message): Spoken => ({
  text: formatMessage(words, messageFormatter),
  ...(typeof words === "string" ? {} : { said: words }),
});

export function findingOf(messageFormatter: MessageFormatter, { text, advice, remedy, brief, ...rest }: Statement): Finding {
  const advised = advice === undefined ? null : spoken(messageFormatter, advice);
  return {
    ...rest,
    ...stakes(rest),
    ...spoken(messageFormatter, text),
    ...(advised === null ? {} : { advice: advised.text, ...(advised.said ? { advised: advised.said } : {}) }),
    ...(remedy === undefined ? {} : { remedy: spoken(messageFormatter, remedy) }),
    ...(brief === undefined ? {} : { brief: spoken(messageFormatter, brief) }),
  };
}

const BY_LEVEL: Readonly<Record<Finding["level"], Consequence>> = { alarm: "loss", watch: "harm", info: "none" };

type Stakes = Pick<Statement, "level" | "consequence" | "likelihood">;

function stakes({ level, consequence, likelihood = "planned" }: Stakes): Pick<Finding, "consequence" | "likelihood" | "level"> {
  const comesTo = consequence ?? BY_LEVEL[level ?? "info"];
  return { consequence: comesTo, likelihood, level: levelOf(comesTo, likelihood) };
}

export const levelOfStatement = (statement: Stakes): Finding["level"] => stakes(statement).level;

/** A finding of an earlier result, to be told again. */
export function statementOf({ text, said, advice, advised, remedy, brief, ...rest }: Finding): Statement {
  const advises = advised ?? advice;
  const mends = remedy?.said ?? remedy?.text;
  const short = brief?.said ?? brief?.text;
  return {
    ...rest,
    text: said ?? text,
    ...(advises === undefined ? {} : { advice: advises }),
    ...(mends === undefined ? {} : { remedy: mends }),
    ...(short === undefined ? {} : { brief: short }),
  };
}
