// The sheets to print, each on its own page.

import { type Context, focused } from "../sections/context.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { number } from "../view/reader.ts";
import { oneLine, powerCard } from "./card.ts";
import { commissioning } from "./commissioning.ts";
import { strip } from "./strip.ts";
import { worksheet } from "./worksheet.ts";

const sheet = (id: string, title: string, of: string, ...children: Child[]): Markup =>
  h(
    "article",
    { class: "print-sheet", id: `sheet-${id}`, "aria-labelledby": `sheet-${id}-title` },
    h("h3", { id: `sheet-${id}-title` }, title),
    h("p", { class: "sheet-of" }, of),
    children,
    h("div", { class: "actions no-print" }, h("button", { type: "button", "data-print": `sheet-${id}` }, "Print this sheet")),
  );

export function sheetsSection(c: Context): Markup {
  const r = focused(c);
  const { reader } = c;
  return h(
    "section",
    { id: "sheets", "aria-labelledby": "sheets-title" },
    h("h2", { id: "sheets-title" }, "Sheets to print"),
    h("p", { class: "lead" }, "One page each, black on white."),
    sheet(
      "strip",
      "Strip for the glass, full size",
      r.name,
      h(
        "p",
        {},
        "Print at 100 %. Check the bar with a ruler. Cut out, join at the numbers, top edge to the rim of the return chamber.",
      ),
      h("div", { class: "strip-scroll", tabindex: 0, role: "region", "aria-label": "Strip at full size" }, strip(r, reader)),
    ),
    sheet(
      "commissioning",
      "Commissioning: pull the plug",
      r.name,
      h(
        "div",
        { class: "table-scroll", tabindex: 0, role: "region", "aria-label": "Commissioning steps" },
        commissioning(r, reader),
      ),
    ),
    sheet("card", "Power cut: card for the cabinet door", r.name, powerCard(r, reader)),
    r.calendar.length > 0 &&
      sheet(
        "calendar",
        "Calendar",
        r.name,
        h(
          "p",
          { class: "no-print calendar-start" },
          h("label", {}, "Day 0 is ", h("input", { type: "date", id: "day-zero" })),
          " ",
          h("button", { type: "button", "data-data": "ics" }, "Save for your calendar (.ics)"),
        ),
        h(
          "div",
          { class: "table-scroll", tabindex: 0, role: "region", "aria-label": "Calendar" },
          h(
            "table",
            { class: "sheet-table" },
            h(
              "thead",
              {},
              h(
                "tr",
                {},
                h("th", { scope: "col", class: "n" }, "Day"),
                h("th", { scope: "col" }, "Date"),
                h("th", { scope: "col" }, "What"),
                h("th", { scope: "col" }, "Measured"),
              ),
            ),
            h(
              "tbody",
              {},
              r.calendar.map((e) =>
                h(
                  "tr",
                  {},
                  h("th", { scope: "row", class: "n" }, number(reader, e.day)),
                  h("td", { class: "date", "data-day": e.day }),
                  h("td", {}, h("strong", {}, e.title), e.detail && h("div", { class: "note" }, e.detail)),
                  h("td", { class: "blank" }),
                ),
              ),
            ),
          ),
        ),
      ),
    sheet("summary", "In one line, for landlord or insurer", r.name, h("p", { class: "card-line" }, oneLine(r, reader))),
    sheet("worksheet", "Worksheet: guess the curves", r.name, worksheet(c)),
  );
}
