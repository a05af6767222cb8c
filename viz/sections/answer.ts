// The first section: the answer to the file's question, one line per main job, and the findings grouped by the next step.
import type { Finding, LeadAnswer, RunResult } from "../../scenarios/result/result.ts";
import { levelBar, sparkline } from "../charts/small.ts";
import { answerWords, findingsOf, GROUPS, JOB_NAME, spokenWords } from "../view/answer.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { findingWords, type Reader } from "../view/reader.ts";
import { symbol } from "../view/symbols.ts";
import { termMarker } from "../view/terms.ts";
import { type Context, focused } from "./context.ts";

type Marked = (text: string) => Child;

const STOCKING = /stock|feed/i;

/** Days marked in the figure of an answer: the day of readiness, or the days on which animals arrive. */
function daysOf(result: RunResult, lead: LeadAnswer): readonly number[] {
  if (lead.job === "ready") {
    const ready = result.findings.find((f) => lead.findings.includes(f.id) && f.unit === "day" && f.value !== null);
    return ready?.value !== null && ready?.value !== undefined ? [ready.value] : [];
  }
  const arrivals = result.nitrogen.marks.filter((mark) => STOCKING.test(mark.kind)).map((mark) => mark.day);
  return [...new Set(arrivals)].slice(0, 1);
}

function pictureOf(result: RunResult, lead: LeadAnswer): Child {
  const { show } = lead;
  if ("series" in show) return sparkline(result, show.series, daysOf(result, lead));
  const story = result.hydraulics.stories.find((s) => s.id === show.story);
  return story ? levelBar(story) : null;
}

/** What the lead line of a job said before a change, with its word; absent where it said the same. */
export type Earlier = ReadonlyMap<LeadAnswer["job"], string>;

/** One line of the answer: its picture, verdict, job and sentence; `was` is what it said before a change. */
export const leadLine = (
  { level, job, word }: Pick<LeadAnswer, "level" | "job" | "word">,
  text: Child,
  picture: Child,
  was?: string,
): Markup =>
  h(
    "li",
    { class: `lead-answer ${level}${was ? " other" : ""}`, "data-job": job },
    h("div", { class: "lead-picture" }, picture),
    h("p", { class: "lead-head" }, symbol(level), h("span", { class: "word" }, word), h("span", { class: "job" }, JOB_NAME[job])),
    h("p", { class: "text" }, text, was && h("span", { class: "was" }, `Before: ${was}`)),
  );

const leadItem = (result: RunResult, lead: LeadAnswer, reader: Reader, marked: Marked, was: string | undefined): Markup =>
  leadLine(lead, marked(spokenWords(reader, result, lead)), pictureOf(result, lead), was);

function findingItem(f: Finding, result: RunResult, reader: Reader, marked: Marked): Markup {
  const { text, advice } = findingWords(reader, result, f);
  const remedy = f.remedy ? spokenWords(reader, result, f.remedy) : "";
  return h(
    "li",
    { class: f.level, "data-finding": f.id },
    symbol(f.level),
    h("span", { class: "word" }, f.word, " ", h("span", { class: "topic" }, f.topic)),
    h(
      "div",
      { class: "body" },
      h("p", { class: "text" }, marked(text)),
      advice !== "" && h("p", { class: "advice" }, marked(advice)),
      remedy !== "" && h("p", { class: "advice" }, h("strong", {}, "What would help: "), remedy),
    ),
  );
}

/** Number of findings whose words summarise a closed group. */
const GIST_WORDS = 4;
/** A finding's word in lower case, with pH and KH as chemists write them. */
const inLowerCase = (word: string): string =>
  word
    .toLowerCase()
    .replace(/\bph\b/g, "pH")
    .replace(/\bkh\b/g, "KH");
const gistOf = (findings: readonly Finding[]): string => {
  const words = [...new Set(findings.map((f) => inLowerCase(f.word)))];
  return `${words.slice(0, GIST_WORDS).join(", ")}${words.length > GIST_WORDS ? " …" : ""}`;
};

function groups(c: Context, result: RunResult, marked: Marked): Child {
  return GROUPS.map(({ key, title }) => {
    const list = findingsOf(result, key);
    if (list.length === 0) return null;
    return h(
      "details",
      { class: `group group-${key}`, "data-group": key },
      h(
        "summary",
        {},
        h("strong", {}, title),
        h("span", { class: "count" }, list.length),
        h("span", { class: "gist" }, gistOf(list)),
      ),
      h(
        "ol",
        { class: "verdicts" },
        list.map((f) => findingItem(f, result, c.reader, marked)),
      ),
    );
  });
}

/** The answers of one scenario: sentences, lead lines, groups. `earlier` appears below the changed lines. */
export function answerOf(c: Context, result: RunResult, earlier: Earlier = new Map()): Child {
  const marked = termMarker();
  const inGroups = termMarker(12);
  const sentences = answerWords(c.reader, result);
  return [
    sentences.length > 0 &&
      h(
        "div",
        { class: "answer-words" },
        sentences.map((words) => h("p", {}, marked(words))),
      ),
    h(
      "ul",
      { class: "leads" },
      result.answer.lead.map((lead) => leadItem(result, lead, c.reader, marked, earlier.get(lead.job))),
    ),
    h("div", { class: "groups" }, groups(c, result, inGroups)),
  ];
}

export function answerSection(c: Context): Markup {
  const result = focused(c);
  const several = c.results.length > 1;
  return h(
    "section",
    { id: "answer", "aria-labelledby": "answer-title" },
    h(
      "h2",
      { id: "answer-title", class: several || c.changed ? null : "visually-hidden" },
      c.changed ? "The answer with your changes" : several ? `The answer for: ${result.name}` : "The answer",
    ),
    answerOf(c, result),
  );
}
