// "Try it": change the scenario and run the same model again, here in the page. The panel shows only when the page carries the model.

import { type Knob, knobs, restingValue } from "../knobs.ts";
import { h, type Markup } from "../markup.ts";
import { number, type Reader } from "../reader.ts";
import type { Context } from "./context.ts";

function control(k: Knob, reader: Reader): Markup {
  const id = `knob-${k.id}`;
  if (k.kind === "choice")
    return h(
      "div",
      { class: "knob" },
      h("label", { for: id }, k.label),
      h(
        "select",
        { id, "data-knob": k.id },
        k.options.map(([value, text]) => h("option", { value }, text)),
      ),
    );
  const value = restingValue(k);
  const decimals = k.step < 1 ? (k.step < 0.2 && k.step !== 0.1 ? 3 : 1) : 0;
  return h(
    "div",
    { class: "knob" },
    h("label", { for: id }, k.label),
    h(
      "output",
      { for: id, "data-knob-value": k.id },
      k.start === null ? "as in the file" : `${number(reader, value, decimals)}${k.unit ? ` ${k.unit}` : ""}`,
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
  const base = c.results[c.focus] ?? c.results[0]!;
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
      knobs(base, c.reader).map((k) => control(k, c.reader)),
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
