// The answer beside the drawing: three lead lines first, the rest folded; what changed since the last save is marked.
import { type ComponentChildren, h } from "preact";
import type { Finding, Level, RunResult } from "../../scenarios/result/result.ts";
import { storyWords } from "../sections/picture.ts";
import { ANSWERS, byUrgency } from "../view/answer.ts";
import { findingWords, type Reader } from "../view/reader.ts";
import { levelOfVerdict, symbol } from "../view/symbols.ts";
import { partGroups, partHolding } from "./core/parts.ts";
import type { Store } from "./model/store.ts";
import { nodes } from "./view/nodes.ts";

interface Line {
  readonly id: string;
  readonly level: Level;
  readonly word: string;
  readonly text: string;
  readonly was: string | null;
}

const lineOf = (result: RunResult, reader: Reader, f: Finding, base: RunResult | null): Line => {
  const { text } = findingWords(reader, result, f);
  const before = base?.findings.find(({ id }) => id === f.id);
  const wasText = before && base ? findingWords(reader, base, before).text : null;
  return {
    id: f.id,
    level: f.level,
    word: f.word,
    text,
    was: wasText !== null && wasText !== text ? `${before!.word}. ${wasText}` : null,
  };
};

/** The three lines that people come for: whether the water stays in, when it is ready, how much it carries. */
function leadLines(store: Store): readonly Line[] {
  const { result, story, reader, rig, drag } = store.state;
  // Under a moving hand no line comes or goes.
  const base = drag ? null : store.state.base;
  const lines: Line[] = [];
  const at = (id: string): Finding | undefined => result?.findings.find((f) => f.id === id);
  if (story && rig) {
    const before = base?.hydraulics.stories[0];
    const words = storyWords(story, reader);
    const was = before ? storyWords(before, reader) : null;
    lines.push({
      id: "power-cut",
      level: levelOfVerdict(story.verdict),
      word: story.verdict,
      text: `Pump stops: ${words.charAt(0).toLowerCase()}${words.slice(1)}`,
      was: was !== null && was !== words ? `${before!.verdict}. ${was}` : null,
    });
  }
  for (const id of ANSWERS) {
    const f = at(id);
    if (f && result && id !== "power-cut") lines.push(lineOf(result, reader, f, base));
  }
  return lines.slice(0, 3);
}

const line = (l: Line): ComponentChildren =>
  h(
    "li",
    { key: l.id, class: `${l.level}${l.was ? " changed" : ""}`, "data-line": l.id },
    nodes(symbol(l.level)),
    h(
      "div",
      { class: "body" },
      h("span", { class: "word" }, l.word),
      h("p", { class: "text" }, l.text),
      l.was && h("p", { class: "was" }, `When last saved: ${l.was}`),
    ),
  );

const WORK: Readonly<Record<string, string>> = {
  running: "Working it out…",
  first: "First answer; bands and faults follow.",
  "bands and faults": "Bands and faults are being worked out…",
  done: "Bands and faults included.",
};

export function answer(store: Store): ComponentChildren {
  const { result, base, reader, errors, failed, work, story, history } = store.state;
  const lead = leadLines(store);
  const shown = new Set(lead.map(({ id }) => id));
  const rest = result ? byUrgency(result.findings).filter((f) => !shown.has(f.id)) : [];
  const count = (level: Level): number => rest.filter((f) => f.level === level).length;
  const first = errors[0];
  return h(
    "section",
    { class: "answer", "aria-labelledby": "answer-title", id: "answer", tabIndex: -1 },
    h(
      "div",
      { class: "answer-head" },
      h("h2", { id: "answer-title" }, "What it comes to"),
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
    h("ol", { class: "lead-lines" }, lead.map(line)),
    rest.length > 0 &&
      h(
        "details",
        {},
        h(
          "summary",
          {},
          `${rest.length} more: ${[`${count("alarm")} to act on`, `${count("watch")} to watch`, `${count("info")} to know`].filter((t) => !t.startsWith("0 ")).join(", ")}`,
        ),
        h(
          "ol",
          { class: "lead-lines rest" },
          rest.map((f) => line(lineOf(result!, reader, f, base))),
        ),
      ),
  );
}
