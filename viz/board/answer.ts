// The answer above the drawing, as on the page. Changes since the last save appear below their line.
import { type ComponentChildren, h } from "preact";
import type { LeadAnswer, OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import { levelBar } from "../charts/small.ts";
import { answerOf, type Earlier, leadLine } from "../sections/answer.ts";
import { outageText } from "../sections/picture.ts";
import { spokenWords } from "../view/answer.ts";
import { type Markup, h as markup } from "../view/markup.ts";
import type { Reader } from "../view/reader.ts";
import { levelOfVerdict } from "../view/symbols.ts";
import { partGroups, partHolding } from "./core/parts.ts";
import type { State, Store } from "./model/store.ts";
import { nodes } from "./view/nodes.ts";

/** Preliminary answer about the outage from the levels, before the days and the faults are computed. */
function levelsLead(story: OutageTrace, reader: Reader): LeadAnswer {
  const words = outageText(story, reader);
  return {
    job: "power cut",
    level: levelOfVerdict(story.verdict),
    word: story.verdict,
    text: `Pump stops: ${words.charAt(0).toLowerCase()}${words.slice(1)}`,
    findings: [],
    show: { story: story.id },
  };
}

/** The single line shown while only the levels are known. */
function levelsLine(story: OutageTrace, reader: Reader): Markup {
  const lead = levelsLead(story, reader);
  return markup("ul", { class: "leads" }, leadLine(lead, lead.text, levelBar(story)));
}

/** The latest result, with newer levels and days if they arrived first; null without levels. */
function shownNow({ result, story, nitrogen, reader, drag }: State): RunResult | null {
  if (!result || !story || !nitrogen) return null;
  if (!drag && result.hydraulics.stories[0] === story) return result;
  const quick = levelsLead(story, reader);
  return {
    ...result,
    nitrogen,
    hydraulics: { ...result.hydraulics, stories: [story] },
    answer: { ...result.answer, sentences: [], lead: result.answer.lead.map((lead) => (lead.job === quick.job ? quick : lead)) },
  };
}

/** Lead lines of the last save that differ from the current ones. During a drag the set of lines stays constant. */
function earlierOf({ base, whole, reader, drag }: State, shown: RunResult): Earlier {
  if (!base || drag) return new Map();
  const say = (result: RunResult, lead: LeadAnswer): string => `${lead.word}. ${spokenWords(reader, result, lead)}`;
  return new Map(
    base.answer.lead.flatMap((before): (readonly [LeadAnswer["job"], string])[] => {
      // The line of the outage also covers faults; without them it would differ for no reason.
      if (before.job === "power cut" && shown !== whole) return [];
      const now = shown.answer.lead.find(({ job }) => job === before.job);
      const was = say(base, before);
      return now && say(shown, now) !== was ? [[before.job, was]] : [];
    }),
  );
}

const WORK: Readonly<Record<string, string>> = {
  running: "Working it out…",
  first: "First answer; bands and faults follow.",
  "bands and faults": "Bands and faults are being worked out…",
  done: "Bands and faults included.",
};

export function answer(store: Store): ComponentChildren {
  const { state } = store;
  const { reader, errors, failed, work, story, history } = state;
  const whole = shownNow(state);
  const first = errors[0];
  return h(
    "section",
    { class: "answer", "aria-labelledby": "answer-title", id: "answer", tabIndex: -1 },
    h(
      "div",
      { class: "answer-head" },
      h("h2", { id: "answer-title" }, "The answer"),
      h(
        "p",
        { class: "work", role: "status" },
        errors.length > 0 ? "" : (WORK[work] ?? work),
        history.text !== history.saved && h("span", { class: "unsaved" }, " Changed since it was saved."),
      ),
    ),
    first &&
      h(
        "div",
        { class: "mend", role: "alert" },
        h(
          "p",
          {},
          h("strong", {}, errors.length === 1 ? "One thing to mend. " : `${errors.length} things to mend. `),
          story ? "The drawing shows the last system that could be worked out." : "",
        ),
        h(
          "ol",
          {},
          errors.slice(0, 5).map((e) =>
            h(
              "li",
              {},
              h(
                "button",
                {
                  type: "button",
                  class: "link",
                  onClick: () =>
                    store.set({
                      chosen: partHolding(partGroups(store.state.data ?? {}, []), e.path),
                      pane: "part",
                      sheet: "part",
                    }),
                },
                e.path === "" ? `Line ${e.line}` : e.path,
              ),
              ` ${e.problem}`,
            ),
          ),
        ),
      ),
    failed !== "" && errors.length === 0 && h("p", { class: "mend", role: "alert" }, failed),
    whole
      ? nodes(answerOf({ results: [whole], focus: 0, reader, width: 0, changed: null }, whole, earlierOf(state, whole)))
      : story && nodes(levelsLine(story, reader)),
  );
}
