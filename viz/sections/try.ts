// "Try it": change the scenario and run the same model again, here in the page. The panel shows only when the page carries the model.

import { h, type Markup } from "../view/markup.ts";
import type { Reader } from "../view/reader.ts";
import { type Context, focused } from "./context.ts";
import { type Knob, knobs, knobText, restingValue } from "./knobs.ts";

/** @param moved where the reader has put a control whose place the result does not tell */
function control(k: Knob, reader: Reader, moved: string | undefined): Markup {
  const id = `knob-${k.id}`;
  if (k.kind === "choice")
    return h(
      "div",
      { class: "knob" },
      h("label", { for: id }, k.label),
      h(
        "select",
        { id, "data-knob": k.id },
        k.options.map(([value, text]) => h("option", { value, selected: value === moved }, text)),
      ),
    );
  const value = k.start === null && moved !== undefined ? Number(moved) : restingValue(k);
  return h(
    "div",
    { class: "knob" },
    h("label", { for: id }, k.label),
    h(
      "output",
      { for: id, "data-knob-value": k.id },
      k.start === null && moved === undefined ? "as in the file" : knobText(reader, k, value),
    ),
    h("input", {
      type: "range",
      id,
      "data-knob": k.id,
      min: String(k.min),
      max: String(k.max),
      step: String(k.step),
      value: String(value),
    }),
  );
}

export function trySection(c: Context): Markup {
  return h(
    "section",
    { id: "try", class: "try", "aria-labelledby": "try-title", hidden: true },
    h("h2", { id: "try-title" }, "Try it"),
    h(
      "p",
      { class: "lead" },
      "Change something: the same model runs again here, in the page, and the first answer stays as a thin line.",
    ),
    h(
      "form",
      { class: "knobs", id: "knobs" },
      knobs(focused(c), c.reader).map((k) => control(k, c.reader, c.moved?.get(k.id))),
    ),
    h(
      "div",
      { class: "actions" },
      h("button", { type: "button", id: "try-reset" }, "Back to the file"),
      h("button", { type: "button", id: "try-save" }, "Save as a scenario file"),
      h(
        "label",
        { class: "button file" },
        "Open another scenario file",
        h("input", { type: "file", id: "try-open", accept: ".yaml,.yml,text/yaml" }),
      ),
      h("span", { id: "try-state", role: "status" }, ""),
    ),
    h("div", { id: "try-words", "aria-live": "polite" }),
  );
}
