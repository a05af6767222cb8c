// Days and weeks: nitrogen on the reader's own kit scale, and beneath it, aligned, what drives it.
import type { RunResult } from "../../scenarios/result/result.ts";
import { type Panel, panels } from "../charts/panel.ts";
import { drawPanel, panelFrame } from "../charts/plot.ts";
import { drawRail } from "../charts/rail.ts";
import { panelTable, summarise } from "../charts/words.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { type Context, focused, type Reading, spanDays } from "./context.ts";

/** Kit of each nitrogen panel. */
const KIT = { tan: "ammonia", no2: "nitrite", no3: "nitrate" } as const;
const isKit = (panel: string): panel is keyof typeof KIT => panel in KIT;

/**
 * Half-width of a reading: the gap to the kit's next step below or above, whichever is wider (a reading is good to one step either way; common
 * practice, no published source). Without steps, 5 % of the value.
 */
export function kitStep(steps: readonly number[], value: number): number {
  if (steps.length === 0) return Math.abs(value) * 0.05;
  const above = steps.find((s) => s > value) ?? value * 2;
  const below = [...steps].reverse().find((s) => s < value) ?? 0;
  return Math.max(above - value, value - below);
}

/** Readings written in the scenario, as its kits print them; they stand on the kit's scale only. */
function ownReadings(c: Context): readonly Reading[] {
  if (c.reader.basis !== "kit") return [];
  return focused(c).readings.flatMap(({ day, ammonia, nitrite, nitrate, ph }) =>
    Object.entries({ tan: ammonia, no2: nitrite, no3: nitrate, ph }).flatMap(([what, value]) =>
      value === null ? [] : [{ what, day, value }],
    ),
  );
}

const heightOf = (panel: Panel, narrow: boolean): number =>
  ["tan", "no2", "no3"].includes(panel.id) ? (narrow ? 170 : 190) : narrow ? 116 : 124;

/** One panel with its events; the last on the page carries the day axis of all. */
export function panelAt(c: Context, panel: Panel, last: boolean): Markup {
  const shown = c.changed ? [c.changed] : c.results;
  const ghost = c.changed ? panels([c.results[c.focus]!], c.reader).find((p) => p.id === panel.id) : undefined;
  const frame = panelFrame(c.width, heightOf(panel, c.width < 620) + (last ? 18 : 0), last);
  const steps = isKit(panel.id) ? focused(c).kit.steps[KIT[panel.id]] : [];
  const readings = [...ownReadings(c), ...(c.readings ?? [])]
    .filter((r) => r.what === panel.id)
    .map((r) => ({ day: r.day, value: r.value, step: kitStep(steps, r.value) }));
  return drawPanel(panel, spanDays(c.results), frame, c.reader, summarise(panel, c.reader), {
    withAxis: last,
    eventDays: rare(shown),
    prefix: "curve",
    ...(ghost ? { ghost } : {}),
    ...(readings.length > 0 ? { readings } : {}),
  });
}

/** Days of events that happen seldom enough to be worth a line through every panel. */
const rare = (results: readonly RunResult[]): readonly number[] => {
  const all = results.flatMap((r) => r.nitrogen.marks.map((m) => m.day));
  return all.length <= 12 ? [...new Set(all)] : [];
};

export const curvePanels = (c: Context): readonly Panel[] => panels(c.changed ? [c.changed] : c.results, c.reader);

const exportButtons = (id: string): Markup =>
  h(
    "div",
    { class: "actions no-print", "data-export": id },
    h("button", { type: "button", "data-save": "svg" }, "Save SVG"),
    h("button", { type: "button", "data-save": "png" }, "Save PNG"),
  );

export function curvesSection(c: Context): Markup | null {
  const list = curvePanels(c);
  if (list.length === 0) return null;
  const bands = [...new Set(list.flatMap((p) => p.bands.map((b) => b.meaning)))];
  const notes = [...new Set(list.map((p) => p.note).filter((n) => n !== ""))];
  const days = spanDays(c.results);
  const fed = c.results.some((r) => r.nitrogen.ledger.in.some(({ label, gN }) => label === "food" && gN > 0));
  const marks = (c.changed ? [c.changed] : c.results).flatMap((r) => r.nitrogen.marks);
  const nitrogen = list.filter((p) => ["tan", "no2", "no3"].includes(p.id));
  const under = list.filter((p) => !nitrogen.includes(p));
  const figure = (panel: Panel, last: boolean): Child =>
    h(
      "div",
      { class: "panel-block", "data-panel-block": panel.id },
      h("div", { "data-figure": `panel:${panel.id}`, "data-last": last ? "yes" : "no" }, panelAt(c, panel, last)),
    );
  return h(
    "section",
    { id: "curves", "aria-labelledby": "curves-title" },
    h("h2", { id: "curves-title" }, "Water over the days"),
    h(
      "p",
      { class: "lead" },
      bands.length > 0
        ? `The tinted band is what we do not know: ${bands.join("; ")}. The line is the likely course${fed ? "; it shows every meal, the band goes without them" : ""}.`
        : "The likely course, day by day.",
    ),
    h(
      "div",
      { class: "lesson no-print" },
      h("button", { type: "button", id: "lesson", "aria-pressed": "false" }, "Guess first"),
      h("span", { class: "note" }, "Hide the answer, draw your own curve, then look."),
      h("div", { id: "lesson-panel", hidden: true }),
    ),
    h(
      "div",
      {
        class: "stack",
        "data-stack": "",
        tabindex: 0,
        role: "group",
        "aria-label": "Charts over days. Left and right arrow keys move the day; the values are read out below.",
      },
      h("div", { "data-figure": "rail" }, drawRail(marks, days, c.width)),
      nitrogen.map((p, i) => figure(p, i === nitrogen.length - 1 && under.length === 0)),
      under.map((p, i) => figure(p, i === under.length - 1)),
      h("div", { class: "readout", "data-readout": "", "aria-live": "polite" }),
    ),
    notes.map((n) => h("p", { class: "note" }, n)),
    h(
      "p",
      { class: "note print-only" },
      "Triangles on the rail mark events; the hatched zone lies above what the test kit can show.",
    ),
    h(
      "form",
      { class: "readings no-print", id: "readings" },
      h("strong", {}, "Your own readings"),
      h("label", {}, "Day ", h("input", { type: "number", name: "day", min: 0, step: "any", value: "7", required: true })),
      h(
        "label",
        {},
        "of ",
        h(
          "select",
          { name: "what" },
          nitrogen.map((p) => h("option", { value: p.id }, `${p.title}, ${p.unit}`)),
        ),
      ),
      h("label", {}, "reads ", h("input", { type: "number", name: "value", min: 0, step: "any", value: "0", required: true })),
      h("button", { type: "submit" }, "Put it on the chart"),
      h("button", { type: "reset" }, "Clear"),
    ),
    h(
      "details",
      { class: "behind" },
      h("summary", {}, "Numbers, images and data files"),
      h(
        "div",
        { class: "actions" },
        h("button", { type: "button", "data-data": "csv-days" }, "Curves as CSV"),
        h("button", { type: "button", "data-data": "csv-levels" }, "Levels as CSV"),
        h("button", { type: "button", "data-data": "csv-flows" }, "Flows as CSV"),
        h("button", { type: "button", "data-data": "csv-findings" }, "Findings as CSV"),
        h("button", { type: "button", "data-data": "json" }, "Whole result as JSON"),
      ),
      h("div", { "data-figure": "tables" }, !c.live && curveTables(c)),
    ),
  );
}

/** Every panel as a table, with its images to save. */
export const curveTables = (c: Context): Child =>
  curvePanels(c).map((p) => h("div", {}, exportButtons(p.id), panelTable(p, spanDays(c.results), c.reader)));
