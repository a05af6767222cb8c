// The start screen: starting points, and five questions that all accept "I don't know".
import { type ComponentChildren, h } from "preact";
import type { Edit } from "../../scenarios/load/edits.ts";
import { dataOf, valueAt } from "../../scenarios/load/edits.ts";
import { type Markup, h as markup } from "../view/markup.ts";
import { answered, type FirstQuestion, QUESTIONS, STARTS } from "./core/starts.ts";
import type { Store } from "./model/store.ts";
import { nodes } from "./view/nodes.ts";
import { thumbnail } from "./view/thumbnail.ts";

const pictures = new Map<string, Markup>();
const pictureOf = (text: string): Markup => {
  const known = pictures.get(text) ?? thumbnail(text);
  pictures.set(text, known);
  return known;
};

/** State of the questions; it does not belong to a system yet. */
export interface QuestionState {
  readonly at: number;
  readonly answers: readonly (readonly Edit[])[];
  readonly error: string;
}
export const NOT_ASKED: QuestionState = { at: 0, answers: [], error: "" };

export function startScreen(
  store: Store,
  begin: (asking: QuestionState) => void,
  onFile: (file: File) => void,
  onLink: (link: string) => void,
): ComponentChildren {
  const { kept, history } = store.state;
  const choose = (id: string, text: string): void => {
    store.set({ start: id });
    if (id === "empty") store.begin(text);
    else {
      store.set({ screen: "questions" });
      begin(NOT_ASKED);
    }
  };
  return h(
    "section",
    { class: "start", "aria-labelledby": "start-title" },
    h("h2", { id: "start-title", tabIndex: -1 }, "What do you want to put together?"),
    h(
      "p",
      { class: "lead" },
      "Take the one that comes nearest. Everything can be changed afterwards, and nothing you do here is sent anywhere.",
    ),
    h(
      "ul",
      { class: "cards" },
      STARTS.map(({ id, title, about, text }) =>
        h(
          "li",
          { key: id },
          h(
            "button",
            { type: "button", class: "card", "data-start": id, onClick: () => choose(id, text) },
            nodes(pictureOf(text)),
            h("span", { class: "card-title" }, title),
            h("span", { class: "card-about" }, about),
          ),
        ),
      ),
    ),
    h(
      "div",
      { class: "actions" },
      h(
        "label",
        { class: "button file" },
        "Open a file",
        h("input", {
          type: "file",
          accept: ".yaml,.yml,.json,text/yaml",
          onChange: (e: Event) => {
            const file = (e.currentTarget as HTMLInputElement).files?.[0];
            if (file) onFile(file);
          },
        }),
      ),
      kept.length > 0 &&
        h("button", { type: "button", onClick: () => store.set({ screen: "kept" }) }, `Kept systems (${kept.length})`),
      history.text !== "" && h("button", { type: "button", onClick: () => store.set({ screen: "board" }) }, "Back to the board"),
    ),
    h(
      "form",
      {
        class: "open-link",
        onSubmit: (e: Event) => {
          e.preventDefault();
          onLink(String(new FormData(e.currentTarget as HTMLFormElement).get("link") ?? ""));
        },
      },
      h("label", { for: "open-link" }, "Open a link"),
      h("input", {
        id: "open-link",
        name: "link",
        type: "text",
        autocomplete: "off",
        placeholder: "paste it, or the part from # on",
      }),
      h("button", { type: "submit" }, "Open"),
    ),
  );
}

const figure = (...children: readonly Markup[]): Markup =>
  markup("svg", { class: "thumb", viewBox: "0 0 132 96", "aria-hidden": "true" }, children);
const line = (d: string, name = "thumb-line"): Markup => markup("path", { class: name, d });
const box = (x: number, y: number, width: number, height: number, name: string): Markup =>
  markup("rect", { class: name, x, y, width, height });

/** A simple picture for each question. */
const PICTURES: Readonly<Record<FirstQuestion["id"], Markup>> = {
  tank: figure(
    box(20, 34, 92, 44, "thumb-water"),
    box(20, 24, 92, 54, "thumb-line"),
    line("M20 88h92M20 84v8M112 84v8M10 24v54M6 24h8M6 78h8", "thumb-soft"),
  ),
  sump: figure(
    box(16, 48, 100, 34, "thumb-water"),
    box(16, 24, 100, 58, "thumb-line"),
    line("M78 34v48", "thumb-line"),
    line("M104 48v34M100 48h8M100 82h8", "thumb-soft"),
    line("M92 48l-5-8h10z"),
  ),
  pump: figure(
    box(16, 40, 100, 42, "thumb-water"),
    box(16, 24, 100, 58, "thumb-line"),
    box(74, 62, 26, 20, "thumb-line"),
    line("M87 62V8M81 16l6-8 6 8", "thumb-line"),
    line("M78 72h18", "thumb-soft"),
  ),
  down: figure(
    box(14, 18, 70, 34, "thumb-water"),
    box(14, 12, 70, 40, "thumb-line"),
    line("M70 20v68M78 20v68", "thumb-line"),
    line("M74 60v22M70 76l4 6 4-6", "thumb-soft"),
  ),
  food: figure(
    box(16, 30, 100, 52, "thumb-water"),
    box(16, 20, 100, 62, "thumb-line"),
    line("M44 58q14-12 28 0l10-7v14l-10-7q-14 12-28 0z"),
    line("M56 12h.1M64 16h.1M72 11h.1M60 22h.1M70 24h.1", "thumb-dots"),
  ),
};

/** Pictures of the overflow types. */
const WAYS: Readonly<Record<string, Markup>> = {
  open: figure(box(20, 24, 60, 40, "thumb-water"), box(20, 18, 60, 46, "thumb-line"), line("M66 30v60M74 30v60")),
  two: figure(
    box(14, 24, 60, 40, "thumb-water"),
    box(14, 18, 60, 46, "thumb-line"),
    line("M52 34v56M59 34v56M64 26v64M71 26v64"),
    line("M48 76h15", "thumb-line"),
  ),
  hung: figure(
    box(14, 24, 60, 44, "thumb-water"),
    box(14, 18, 60, 50, "thumb-line"),
    line("M62 40V12h22v26M68 40V18h10v20"),
    box(78, 26, 26, 30, "thumb-line"),
    line("M88 56v34M96 56v34"),
  ),
};

export function questionScreen(store: Store, asking: QuestionState, set: (asking: QuestionState) => void): ComponentChildren {
  const start = STARTS.find(({ id }) => id === store.state.start) ?? STARTS[0]!;
  const question = QUESTIONS[asking.at]!;
  const data = dataOf(answered(start.text, asking.answers));
  const finish = (answers: readonly (readonly Edit[])[]): void => {
    store.begin(answered(start.text, answers));
    requestAnimationFrame(() => document.getElementById("answer")?.focus());
  };
  const next = (edits: readonly Edit[]): void => {
    const answers = [...asking.answers.slice(0, asking.at), edits];
    if (asking.at + 1 < QUESTIONS.length) set({ at: asking.at + 1, answers, error: "" });
    else finish(answers);
  };
  const submit = (e: Event): void => {
    e.preventDefault();
    const form = new FormData(e.currentTarget as HTMLFormElement);
    const edits = question.entries.flatMap(({ id, path }): Edit[] => {
      const text = String(form.get(id) ?? "").trim();
      return text === "" ? [] : [{ do: "set", path, value: text }];
    });
    const picked = question.choices.find(({ id }) => id === form.get("choice"));
    next([...(picked?.edits ?? []), ...edits]);
  };
  return h(
    "section",
    { class: "questions", "aria-labelledby": "question-title" },
    h("p", { class: "step" }, `${start.title}: question ${asking.at + 1} of ${QUESTIONS.length}`),
    h(
      "form",
      { key: question.id, onSubmit: submit },
      h(
        "div",
        { class: "question-head" },
        nodes(PICTURES[question.id]),
        h("div", {}, h("h2", { id: "question-title" }, question.title), h("p", { class: "lead" }, question.help)),
      ),
      question.choices.length > 0 &&
        h(
          "div",
          { class: "choices", role: "radiogroup", "aria-labelledby": "question-title" },
          question.choices.map(({ id, title, about }, i) =>
            h(
              "label",
              { class: "choice", key: id },
              h("input", { type: "radio", name: "choice", value: id, "data-focus": i === 0 ? "" : undefined }),
              question.id === "down" && nodes(WAYS[id] ?? null),
              h("span", { class: "card-title" }, title),
              h("span", { class: "card-about" }, about),
            ),
          ),
        ),
      question.entries.map(({ id, label, example, path }, i) =>
        h(
          "p",
          { class: "entry", key: id },
          h("label", { for: id }, label),
          h("input", {
            id,
            name: id,
            type: "text",
            autocomplete: "off",
            placeholder: `for example ${example}`,
            "data-focus": question.choices.length === 0 && i === 0 ? "" : undefined,
          }),
          typeof valueAt(data, path) === "string" && h("span", { class: "note" }, ` Now: ${String(valueAt(data, path))}`),
        ),
      ),
      h(
        "div",
        { class: "actions" },
        h("button", { type: "submit", class: "primary" }, asking.at + 1 < QUESTIONS.length ? "Next" : "Show the answer"),
        h("button", { type: "button", onClick: () => next([]) }, "I don't know"),
        asking.at > 0 && h("button", { type: "button", onClick: () => set({ ...asking, at: asking.at - 1 }) }, "Back"),
        h("button", { type: "button", onClick: () => finish(asking.answers.slice(0, asking.at)) }, "Skip the questions"),
      ),
      h("p", { class: "note" }, `If you don't know: ${question.unknown}.`),
    ),
  );
}
