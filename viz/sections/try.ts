// "Try it": changes the scenario and runs the same model again in the page. The panel appears only when the page
// contains the model.
import { type Child, h, type Markup } from "../view/markup.ts";
import { type Context, focused } from "./context.ts";
import { type Difference, type Knob, knobs, restingValue } from "./knobs.ts";

/** @param moved value that the reader has set */
function control(k: Knob, moved: string | undefined): Markup {
  const id = `knob-${k.id}`;
  if (k.kind === "choice")
    return h(
      "div",
      { class: "knob" },
      h("label", { for: id }, k.label),
      h(
        "select",
        { id, "data-knob": k.id },
        k.options.map(([value, text]) => h("option", { value, selected: value === (moved ?? "") }, text)),
      ),
    );
  const known = moved ?? (k.start === null ? undefined : String(restingValue(k)));
  const limits = { min: String(k.min), max: String(k.max), step: String(k.step) };
  return h(
    "div",
    { class: "knob" },
    h("label", { for: id }, k.label),
    h(
      "span",
      { class: "knob-value" },
      // Values beyond the slider may be typed; the model checks its own range.
      h("input", {
        type: "number",
        id,
        step: "any",
        inputmode: "decimal",
        value: known ?? "",
        placeholder: "as in the file",
        "data-knob": k.id,
        "data-unit": k.unit,
        "data-min": limits.min,
        "data-max": limits.max,
        "data-step": limits.step,
      }),
      k.unit !== "" && h("span", { class: "unit" }, k.unit),
    ),
    // The slider is for the pointer; the field beside it serves the keyboard.
    h("input", {
      type: "range",
      "data-slide": k.id,
      "aria-label": `${k.label}, slider`,
      tabindex: -1,
      ...limits,
      value: known ?? String(restingValue(k)),
    }),
  );
}

/** The differences of a changed run, each with its earlier value. */
export const differenceList = (list: readonly Difference[]): Child =>
  list.length === 0
    ? h("p", { class: "note" }, "No sentence changes.")
    : h(
        "ul",
        { class: "differences" },
        list.map(({ what, now, before }) =>
          h(
            "li",
            {},
            h("strong", {}, what),
            now !== null && h("span", {}, ` ${now}`),
            before !== null && h("details", {}, h("summary", {}, "Before"), before),
          ),
        ),
      );

const button = (id: string, text: string, more: Readonly<Record<string, string | boolean>> = {}): Markup =>
  h("button", { type: "button", id, ...more }, text);

export function trySection(c: Context): Markup {
  const list = knobs(c.results[c.focus] ?? focused(c), c.reader);
  const controls = (some: readonly Knob[]): Child => some.map((k) => control(k, c.moved?.get(k.id)));
  const more = list.filter((k) => k.more);
  return h(
    "section",
    { id: "try", class: "try", "aria-labelledby": "try-title", hidden: true },
    h("h2", { id: "try-title" }, "Try it"),
    h(
      "p",
      { class: "lead" },
      "Change something: the same model runs again, here in the page. The first answer stays in the charts as a thin line.",
    ),
    h(
      "form",
      { id: "knobs" },
      h("div", { class: "knobs" }, controls(list.filter((k) => !k.more))),
      more.length > 0 &&
        h("details", { class: "more-knobs" }, h("summary", {}, "More controls"), h("div", { class: "knobs" }, controls(more))),
    ),
    h(
      "div",
      { class: "actions", role: "group", "aria-label": "What to do with the change", "data-roving": "" },
      button("try-undo", "Undo", { disabled: true }),
      button("try-redo", "Redo", { disabled: true }),
      button("try-reset", "Back to the file"),
      button("try-keep", "Keep this change", { disabled: true }),
      button("try-save", "Save as a scenario file"),
      button("try-choose", "Open another scenario file"),
    ),
    h("input", {
      type: "file",
      id: "try-open",
      class: "visually-hidden",
      tabindex: -1,
      "aria-label": "Open another scenario file",
      accept: ".yaml,.yml,text/yaml",
    }),
    h("p", { id: "try-state", role: "status" }, ""),
    h("div", { id: "try-kept" }),
    h("div", { id: "try-words", "aria-live": "polite" }),
  );
}
