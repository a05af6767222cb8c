// The printable sheets. Each opens on demand, has its own address and prints on its own page.
import { type Context, focused } from "../sections/context.ts";
import { type Fold, fold } from "../sections/fold.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { calendarSheet } from "./calendar.ts";
import { oneLine, powerCard } from "./card.ts";
import { commissioning } from "./commissioning.ts";
import { strip } from "./strip.ts";
import { summarySheet } from "./summary.ts";
import { answerKey, worksheet } from "./worksheet.ts";

export interface Sheet {
  /** Address on the page. */
  readonly id: string;
  readonly title: string;
  readonly gist: string;
  readonly again?: true;
  readonly contents: (c: Context) => Child;
}

const region = (label: string, ...children: Child[]): Markup =>
  h("div", { class: "table-scroll", tabindex: 0, role: "region", "aria-label": label }, children);

const SHEETS: readonly Sheet[] = [
  {
    id: "sheet-summary",
    title: "Summary on one page",
    gist: "answer, drawing, marks, three curves, cautions, signatures",
    again: true,
    contents: summarySheet,
  },
  {
    id: "sheet-strip",
    title: "Strip for the glass, full size",
    gist: "cut it out and tape it to the sump",
    contents: (c) => [
      h(
        "p",
        {},
        "Print at 100 %. Check the bar with a ruler. Cut the strip out, join the pieces at the numbers, and put its top edge to the rim of the return chamber.",
      ),
      h(
        "div",
        { class: "strip-scroll", tabindex: 0, role: "region", "aria-label": "Strip at full size" },
        strip(focused(c), c.reader),
      ),
    ],
  },
  {
    id: "sheet-commissioning",
    title: "Commissioning: pull the plug",
    gist: "predicted, measured, signed",
    contents: (c) => region("Commissioning steps", commissioning(focused(c), c.reader)),
  },
  {
    id: "sheet-card",
    title: "Power cut: card for the cabinet door",
    gist: "what to do, in order",
    contents: (c) => powerCard(focused(c), c.reader),
  },
  {
    id: "sheet-calendar",
    title: "Calendar",
    gist: "doses, tests, water changes, animals, upkeep",
    contents: (c) => calendarSheet(focused(c), c.reader),
  },
  {
    id: "sheet-one-line",
    title: "In one line, for landlord or insurer",
    gist: "how much water, where, with which faults",
    contents: (c) => h("p", { class: "card-line" }, oneLine(focused(c), c.reader)),
  },
  {
    id: "sheet-worksheet",
    title: "Worksheet: guess the curves",
    gist: "empty axes and questions for a class",
    contents: worksheet,
  },
  {
    id: "sheet-key",
    title: "Answer key to the worksheet",
    gist: "the curves and the answers",
    again: true,
    contents: answerKey,
  },
];

/** The sheets for which this result has content. */
export const sheetsOf = (c: Context): readonly Sheet[] =>
  SHEETS.filter(({ id }) => id !== "sheet-calendar" || focused(c).calendar.length > 0);

function sheetFold(c: Context, { id, title, gist, again, contents }: Sheet): Markup {
  const looks: Fold["as"] = { tag: "article", className: "fold print-sheet", heading: "h3" };
  return fold(c, {
    id,
    title,
    gist,
    as: looks,
    ...(again ? { again } : {}),
    contents: () => [
      h("p", { class: "sheet-of" }, focused(c).name),
      contents(c),
      h("div", { class: "actions no-print" }, h("button", { type: "button", "data-print": id }, "Print this sheet")),
    ],
  });
}

export function sheetsSection(c: Context): Markup {
  return h(
    "section",
    { id: "sheets", "aria-labelledby": "sheets-title" },
    h("h2", { id: "sheets-title" }, "Sheets to print"),
    sheetsOf(c).map((sheet) => sheetFold(c, sheet)),
  );
}
