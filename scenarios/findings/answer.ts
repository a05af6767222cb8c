// The first section of the page: the question, one or two sentences that answer it, and one line for each of the three main jobs.
import type { Answer, Finding, Job, LeadAnswer } from "../result/result.ts";

const PLAIN_QUESTION = "When can the animals go in, and does the water stay off the floor?";

/** Findings that may represent a job; the first one that exists leads. */
const SPEAKERS: readonly { readonly job: Job; readonly ids: readonly string[]; readonly show: LeadAnswer["show"] }[] = [
  { job: "ready", ids: ["ready"], show: { series: ["tan", "no2"] } },
  { job: "power cut", ids: ["power-cut", "everyday-faults"], show: { story: "plain" } },
  { job: "stocking", ids: ["stocking", "capacity"], show: { series: ["tan", "no2"] } },
];

/**
 * Subjects of questions, recognised by their words, and the findings that answer them: from each list the first one
 * that exists. An id also matches all ids that begin with it ("cut-" for the outage of any day).
 */
const SUBJECTS: readonly { readonly asked: RegExp; readonly ids: readonly (readonly string[])[] }[] = [
  { asked: /\bstop(s|ped)?\b|\bstall/, ids: [["alkalinity", "ready"]] },
  { asked: /\bready\b|\bgo in\b|\bwait\b|\bstuck\b|\bslow\b|\bmatur|\bcycl|\bsave\b/, ids: [["ready"]] },
  { asked: /\bclosed filter|\bcanister/, ids: [["closed-filter"]] },
  { asked: /\bhow (high|full)\b|\bmark\b|\blevel may\b/, ids: [["fill-mark"]] },
  { asked: /\bpair\b/, ids: [["worst-pair", "everyday-faults"]] },
  {
    asked: /\bhold|\bflood|\bfloor\b|\bpower\b|\bplug\b|\bwater go\b|\bspill|\boverflow|\bcheck valve\b/,
    ids: [["power-cut"], ["everyday-faults"]],
  },
  { asked: /\bfish have\b|\bhow long do\b|\bsurvive\b|\bshort of air\b/, ids: [["cut-", "clock-"]] },
  { asked: /\badd(ing|s)?\b|\bstock|\blots?\b|\bmore fish\b/, ids: [["stocking"]] },
  { asked: /\btoo much food\b|\boverfe|\bfeeding\b/, ids: [["feeding", "shock-feed"]] },
  { asked: /\bplate\b|\bwett|\bdrip\b/, ids: [["wetting-"], ["shock-wetting"]] },
  { asked: /\bhow much food\b|\bhandle\b|\bcarr(y|ies)\b/, ids: [["ready", "capacity"]] },
];

/** Largest number of sentences in the answer. */
const MOST_SENTENCES = 2;

/** The findings that answer a question, in its order; the leading ones where the question has no known subject. */
function answering(question: string, findings: readonly Finding[]): readonly Finding[] {
  const candidates = findings.filter(({ brief }) => brief !== undefined);
  const first = (ids: readonly string[]): readonly Finding[] =>
    ids.flatMap((id) => candidates.find((finding) => finding.id.startsWith(id)) ?? []).slice(0, 1);
  const words = question.toLowerCase();
  const place = ({ asked }: (typeof SUBJECTS)[number]): number => words.search(asked);
  const subjects = SUBJECTS.filter((subject) => place(subject) >= 0).sort((a, b) => place(a) - place(b));
  // Each subject is answered once before any is answered at length.
  const rounds = Math.max(0, ...subjects.map(({ ids }) => ids.length));
  const found = Array.from({ length: rounds }, (_, n) => subjects.flatMap(({ ids }) => first(ids[n] ?? []))).flat();
  const answers = found.length > 0 ? found : SPEAKERS.flatMap(({ ids }) => first(ids));
  // Whoever asks about a power cut, or about nothing in particular, hears first that it kills.
  const deadly = candidates
    .filter(({ id, level }) => level === "alarm" && (id.startsWith("cut-") || id.startsWith("clock-")))
    .slice(0, 1);
  const concerns = found.length === 0 || answers.some(({ topic }) => topic === "hydraulics" || topic === "power cut");
  return [...new Set(concerns ? [...deadly, ...answers] : answers)];
}

const URGENCY = ["alarm", "watch", "info"] as const;

/** @param question of the scenario; "" when it has none */
export function answerOf(question: string, findings: readonly Finding[]): Answer {
  const lead = SPEAKERS.flatMap(({ job, ids, show }): LeadAnswer[] => {
    const spoken = ids.flatMap((id) => findings.filter((finding) => finding.id === id));
    // The most severe of them; ties go to the first.
    const main = [...spoken].sort((a, b) => URGENCY.indexOf(a.level) - URGENCY.indexOf(b.level))[0];
    if (!main) return [];
    const { level, word, text, said } = main;
    const others = spoken.filter((finding) => finding !== main);
    return [{ job, level, word, text, ...(said ? { said } : {}), findings: [main, ...others].map(({ id }) => id), show }];
  });
  const ids = (level: Finding["level"]) => findings.filter((finding) => finding.level === level).map(({ id }) => id);
  const asked = question === "" ? PLAIN_QUESTION : question;
  return {
    question: asked,
    sentences: answering(asked, findings)
      .slice(0, MOST_SENTENCES)
      .flatMap(({ brief }) => brief ?? []),
    lead,
    groups: { doNow: ids("alarm"), watch: ids("watch"), know: ids("info") },
  };
}
