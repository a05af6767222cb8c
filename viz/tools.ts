// The tools of the page: scenario in focus, units, basis, present, print. They come after the answer, so that every
// reader sees the answer first.
import type { Context } from "./sections/context.ts";
import { sheetsOf } from "./sheets/sheets.ts";
import { h, type Markup } from "./view/markup.ts";

const choice = (name: string, legend: string, options: readonly (readonly [string, string])[], chosen: string): Markup =>
  h(
    "fieldset",
    { class: "switch" },
    h("legend", {}, legend),
    options.map(([value, text]) =>
      h("label", {}, h("input", { type: "radio", name, value, checked: value === chosen }), h("span", {}, text)),
    ),
  );

/** Choice of what to print: the summary, selected sheets, or everything. */
const printDialog = (c: Context): Markup =>
  h(
    "dialog",
    { id: "print-dialog", "aria-labelledby": "print-title" },
    h(
      "form",
      { method: "dialog", id: "print-form" },
      h("h2", { id: "print-title" }, "Print"),
      h("p", {}, h("button", { value: "summary", class: "primary" }, "The summary, one page")),
      h(
        "fieldset",
        {},
        h("legend", {}, "Or choose sheets"),
        sheetsOf(c).map(({ id, title }) =>
          h("label", {}, h("input", { type: "checkbox", name: "sheet", value: id }), h("span", {}, title)),
        ),
        h("button", { value: "chosen" }, "Print the chosen sheets"),
      ),
      h("p", {}, h("button", { value: "everything" }, "Everything on this page, about 30 pages")),
      h("button", { value: "" }, "Cancel"),
    ),
  );

export function toolsSection(c: Context): Markup {
  return h(
    "div",
    { class: "toolbar no-print", id: "tools", role: "region", "aria-label": "Tools of this page" },
    c.results.length > 1 &&
      h(
        "label",
        { class: "focus-pick" },
        h("span", {}, "Drawing, tables and sheets for "),
        h(
          "select",
          { id: "focus" },
          c.results.map((r, i) => h("option", { value: i, selected: i === c.focus }, r.name)),
        ),
      ),
    choice(
      "units",
      "Units",
      [
        ["metric", "mm · L · °C"],
        ["US", "in · gal · °F"],
      ],
      c.reader.units,
    ),
    choice(
      "basis",
      "Readings",
      [
        ["kit", "as your kit"],
        ["N", "as N"],
        ["ion", "as ion"],
      ],
      c.reader.basis,
    ),
    h(
      "div",
      { class: "tool-buttons", role: "group", "aria-label": "Show and print", "data-roving": "" },
      h("button", { type: "button", id: "present" }, "Present"),
      h("button", { type: "button", id: "print", "aria-haspopup": "dialog" }, "Print …"),
    ),
    printDialog(c),
  );
}
