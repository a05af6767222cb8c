// What the page says first: the question, sentences that answer it, and one line for each of the three jobs people come for.
import type { Answer, Finding, Job, LeadAnswer } from "../result/result.ts";

const PLAIN_QUESTION = "When can the animals go in, and does the water stay off the floor?";

/** Findings that speak for a job, the first that exists leads. */
const SPEAKERS: readonly { readonly job: Job; readonly ids: readonly string[]; readonly show: LeadAnswer["show"] }[] = [
  { job: "ready", ids: ["ready"], show: { series: ["tan", "no2"] } },
  { job: "power cut", ids: ["power-cut", "everyday-faults"], show: { story: "plain" } },
  { job: "stocking", ids: ["stocking", "capacity"], show: { series: ["tan", "no2"] } },
];

const URGENCY = ["alarm", "watch", "info"] as const;

/** @param question as the scenario asks it; "" when it does not */
export function answerOf(question: string, findings: readonly Finding[]): Answer {
  const lead = SPEAKERS.flatMap(({ job, ids, show }): LeadAnswer[] => {
    const spoken = ids.flatMap((id) => findings.filter((finding) => finding.id === id));
    // The most urgent of them, and of equal ones the first.
    const main = [...spoken].sort((a, b) => URGENCY.indexOf(a.level) - URGENCY.indexOf(b.level))[0];
    if (!main) return [];
    const { level, word, text, said } = main;
    const others = spoken.filter((finding) => finding !== main);
    return [{ job, level, word, text, ...(said ? { said } : {}), findings: [main, ...others].map(({ id }) => id), show }];
  });
  const ids = (level: Finding["level"]) => findings.filter((finding) => finding.level === level).map(({ id }) => id);
  return {
    question: question === "" ? PLAIN_QUESTION : question,
    sentences: lead.map(({ text, said }) => ({ text, ...(said ? { said } : {}) })),
    lead,
    groups: { doNow: ids("alarm"), watch: ids("watch"), know: ids("info") },
  };
}
