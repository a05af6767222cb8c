// The calendar sheet: what to do on which day. The day in the table, its date and the saved calendar derive from the same number.
import type { RunResult } from "../../scenarios/result/result.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { number, type Reader } from "../view/reader.ts";

type Entry = RunResult["calendar"][number];

/** The day of the run that contains a time: day 70.75 is in day 70. */
export const dayIn = (day: number): number => Math.floor(day + 1e-9);

const entryRow = (e: Entry, reader: Reader): Markup =>
  h(
    "tr",
    {},
    h("th", { scope: "row", class: "n" }, number(reader, dayIn(e.day))),
    h("td", { class: "date", "data-day": String(dayIn(e.day)) }),
    h("td", {}, h("strong", {}, e.title), e.detail && h("div", { class: "note" }, e.detail)),
    h("td", { class: "blank" }),
  );

export const calendarSheet = (r: RunResult, reader: Reader): Child => [
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
          h("th", { scope: "col" }, "What to do"),
          h("th", { scope: "col" }, "Measured"),
        ),
      ),
      h(
        "tbody",
        {},
        r.calendar.map((e) => entryRow(e, reader)),
      ),
    ),
  ),
];
