// The answer of a result for the page: its sentences and findings in the reader's units.
import type { Answer, Finding, LeadAnswer, RunResult, Spoken } from "../../scenarios/result/result.ts";
import { type Reader, readerText } from "./reader.ts";

/** A sentence of a result in the reader's units, kit scale and number format. */
export const spokenWords = (reader: Reader, result: Pick<RunResult, "kit">, { text, said }: Spoken): string =>
  readerText(reader, result, said ?? text);

/** The sentences that answer the scenario's question, without those that a lead line says word by word. */
export function answerWords(reader: Reader, result: RunResult): readonly string[] {
  const leads = new Set(result.answer.lead.map((lead) => spokenWords(reader, result, lead)));
  return result.answer.sentences.map((sentence) => spokenWords(reader, result, sentence)).filter((words) => !leads.has(words));
}

export const JOB_NAME: Readonly<Record<LeadAnswer["job"], string>> = {
  ready: "First animals",
  "power cut": "Power cut",
  stocking: "Stocking",
};

/** The groups of findings, with the next step for the reader. */
export const GROUPS: readonly { readonly key: keyof Answer["groups"]; readonly title: string }[] = [
  { key: "doNow", title: "Do now" },
  { key: "watch", title: "Keep an eye on" },
  { key: "know", title: "Good to know" },
];

/** The findings of a group, in their order. */
export const findingsOf = (result: RunResult, key: keyof Answer["groups"]): readonly Finding[] =>
  result.answer.groups[key].flatMap((id) => result.findings.find((f) => f.id === id) ?? []);
