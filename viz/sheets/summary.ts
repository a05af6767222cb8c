// The summary: one page for the builder to sign. Answer, drawing at rest, fill levels, three curves, cautions.
import { NITROGEN, panels } from "../charts/panel.ts";
import { drawPanel, panelFrame } from "../charts/plot.ts";
import { summarise } from "../charts/words.ts";
import { stageTimes } from "../cutaway/marks.ts";
import { type Context, focused, spanDays } from "../sections/context.ts";
import { letterhead } from "../sections/letterhead.ts";
import { cutawayAt, isWide, marksTable } from "../sections/picture.ts";
import { answerWords, JOB_NAME, spokenWords } from "../view/answer.ts";
import { type Child, h } from "../view/markup.ts";
import { length } from "../view/reader.ts";
import { symbol } from "../view/symbols.ts";
import { signature } from "./commissioning.ts";

/** Text width of A4 between margins of 13 mm, and half of it [CSS pixels]. */
const FULL_PX = 690;
const HALF_PX = 336;

/** Height of a curve, beside the drawing and below a drawing over the full width [CSS pixels]. */
const PANEL_PX = 115;
const WIDE_PANEL_PX = 74;

/** Number of cautions on every signed sheet; the others are on the page. */
const SHOWN_CAUTIONS = 4;

export function summarySheet(c: Context): Child {
  const r = focused(c);
  const { reader } = c;
  const story = r.hydraulics.stories[0];
  const { marks } = r.hydraulics;
  const list = panels([r], reader).filter((p) => NITROGEN.some((what) => what === p.id));
  const period = { from: 0, to: spanDays([r]) };
  const fill = marks.maxRunningUntrustedM;
  const wide = isWide(r);
  const drawing = (width: number): Child =>
    story &&
    h(
      "figure",
      { class: wide ? "summary-wide" : "" },
      cutawayAt(r, story, stageTimes(story).restartS ?? stageTimes(story).endS, reader, width, "summary", "Power off, at rest"),
      h("figcaption", {}, "Power off, at rest."),
    );
  return [
    letterhead(r),
    h("p", { class: "summary-title print-only" }, r.name),
    h("p", { class: "question" }, r.answer.question),
    answerWords(reader, r).map((words) => h("p", { class: "card-line" }, words)),
    h(
      "ul",
      { class: "summary-leads" },
      r.answer.lead.map((lead) =>
        h(
          "li",
          { class: lead.level },
          symbol(lead.level),
          h("span", {}, h("strong", {}, `${JOB_NAME[lead.job]}: ${lead.word}. `), spokenWords(reader, r, lead)),
        ),
      ),
    ),
    wide && drawing(FULL_PX),
    h(
      "div",
      { class: "summary-columns" },
      h(
        "div",
        {},
        !wide && drawing(HALF_PX),
        story && [
          marksTable(story, reader),
          h(
            "p",
            { class: "note" },
            fill === null
              ? "No level of the sump passes the power cut with its common faults: see the remedies on the page."
              : `MAX FILL: ${length(reader, marks.sumpRimM - fill, true)} below the rim of the sump.`,
          ),
        ],
      ),
      h(
        "div",
        {},
        list.map((panel, i) => {
          const last = i === list.length - 1;
          const frame = { ...panelFrame(HALF_PX, (wide ? WIDE_PANEL_PX : PANEL_PX) + (last ? 20 : 0), last), left: 40 };
          return drawPanel(panel, period, frame, reader, summarise(panel, reader), {
            withAxis: last,
            eventDays: [],
            prefix: "summary",
          });
        }),
      ),
    ),
    h(
      "p",
      { class: "summary-cautions" },
      h("strong", {}, "Cautions. "),
      r.cautions.slice(0, SHOWN_CAUTIONS).map((k) => `${k.title}: ${k.text} `),
    ),
    signature(),
    h("p", { class: "summary-from" }, `Simulated, not certified. Drawn from ${r.file}, random seed ${r.seed}.`),
  ];
}
