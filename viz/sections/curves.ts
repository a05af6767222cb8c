// The curves over days: nitrogen on the scale of the reader's kit, and the quantities that influence it.
import type { RunResult } from "../../scenarios/result/result.ts";
import { type Panel, panels } from "../charts/panel.ts";
import { drawPanel, panelFrame } from "../charts/plot.ts";
import { drawRail } from "../charts/rail.ts";
import { panelTable, summarise } from "../charts/words.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { type Context, focused, periodOf, type Reading, spanDays } from "./context.ts";
import { fold } from "./fold.ts";

/** Test kit of each nitrogen panel. */
const KIT = { tan: "ammonia", no2: "nitrite", no3: "nitrate" } as const;
const isKit = (panel: string): panel is keyof typeof KIT => panel in KIT;

/**
 * Half-width of a reading: the distance to the kit's next step below or above, whichever is larger (a reading is
 * accurate to one step either way; common practice, no published source). Without steps, 5 % of the value.
 */
export function kitStep(steps: readonly number[], value: number): number {
  if (steps.length === 0) return Math.abs(value) * 0.05;
  const above = steps.find((s) => s > value) ?? value * 2;
  const below = [...steps].reverse().find((s) => s < value) ?? 0;
  return Math.max(above - value, value - below);
}

/** Readings in the scenario file, as its kits print them; they are drawn only on the kit's scale. */
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

/** The nitrogen panels come first; the panels of what influences nitrogen follow and open on demand. */
const isNitrogen = (panel: Panel): boolean => isKit(panel.id);

/** One panel with its events; the last panel of a stack has the common day axis. */
export function panelAt(c: Context, panel: Panel, last: boolean): Markup {
  const shown = c.changed ? [c.changed] : c.results;
  const ghost = c.changed ? panels([c.results[c.focus]!], c.reader).find((p) => p.id === panel.id) : undefined;
  const frame = panelFrame(c.width, heightOf(panel, c.width < 620) + (last ? 18 : 0), last);
  const steps = isKit(panel.id) ? focused(c).kit.steps[KIT[panel.id]] : [];
  const readings = [...ownReadings(c), ...(c.readings ?? [])]
    .filter((r) => r.what === panel.id)
    .map((r) => ({ day: r.day, value: r.value, step: kitStep(steps, r.value) }));
  return drawPanel(panel, periodOf(c), frame, c.reader, summarise(panel, c.reader), {
    withAxis: last,
    eventDays: rare(shown),
    prefix: "curve",
    ...(ghost ? { ghost } : {}),
    ...(readings.length > 0 ? { readings } : {}),
  });
}

/** Days of events that are rare enough for a line through every panel. */
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

const panelPlace = (c: Context, panel: Panel, last: boolean): Child =>
  h(
    "div",
    { class: "panel-block", "data-panel-block": panel.id },
    h("div", { "data-figure": `panel:${panel.id}`, "data-last": last ? "yes" : "no" }, panelAt(c, panel, last)),
  );

/** A stack of charts with a common cursor. */
const stack = (c: Context, label: string, list: readonly Panel[], rail: Child): Markup =>
  h(
    "div",
    {
      class: "stack",
      "data-stack": "",
      tabindex: 0,
      role: "group",
      "aria-label": `${label} over days. The left and right arrow keys move the day and read out its values; plus and minus zoom, 0 shows all days.`,
    },
    rail,
    list.map((p, i) => panelPlace(c, p, i === list.length - 1)),
  );

function readingsForm(nitrogen: readonly Panel[]): Markup {
  return h(
    "details",
    { class: "behind own-readings no-print" },
    h("summary", {}, "Your own readings"),
    h(
      "form",
      { class: "readings", id: "readings" },
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
      h("button", { type: "button", id: "readings-learn" }, "What do they say?"),
      h("button", { type: "button", id: "readings-save" }, "Save them in the scenario file"),
    ),
    h(
      "p",
      { class: "note" },
      "A reading is drawn as wide as one step of your kit, up and down. This browser keeps your readings for this scenario.",
    ),
    h("div", { id: "readings-learned", "aria-live": "polite" }),
  );
}

const zoomControls = (): Markup =>
  h(
    "div",
    { class: "zoom no-print", role: "group", "aria-label": "Days shown", "data-roving": "" },
    h("button", { type: "button", "data-zoom": "in" }, "Zoom in"),
    h("button", { type: "button", "data-zoom": "out" }, "Zoom out"),
    h("button", { type: "button", "data-zoom": "all" }, "All days"),
    h("button", { type: "button", id: "lesson", "aria-pressed": "false" }, "Guess first"),
  );

const dataFold = (c: Context): Markup =>
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
  );

export function curvesSection(c: Context): Markup | null {
  const list = curvePanels(c);
  if (list.length === 0) return null;
  const bands = [...new Set(list.flatMap((p) => p.bands.map((b) => b.meaning)))];
  const notes = [...new Set(list.map((p) => p.note).filter((n) => n !== ""))];
  const fed = c.results.some((r) => r.nitrogen.ledger.in.some(({ label, gN }) => label === "food" && gN > 0));
  const marks = (c.changed ? [c.changed] : c.results).flatMap((r) => r.nitrogen.marks);
  const nitrogen = list.filter(isNitrogen);
  return h(
    "section",
    { id: "curves", "aria-labelledby": "curves-title" },
    h("h2", { id: "curves-title" }, "Ammonia, nitrite and nitrate"),
    h(
      "p",
      { class: "lead" },
      bands.length > 0
        ? `The line is the likely course${fed ? " and shows every meal" : ""}. Shaded: ${bands.join("; ")}.`
        : "The likely course, day by day.",
    ),
    zoomControls(),
    h("div", { id: "lesson-panel", hidden: true }),
    stack(
      c,
      "Charts of ammonia, nitrite and nitrate",
      nitrogen,
      h("div", { "data-figure": "rail" }, drawRail(marks, periodOf(c), c.width)),
    ),
    notes.map((n) => h("p", { class: "note" }, n)),
    h(
      "p",
      { class: "note print-only" },
      "Triangles on the rail mark events; the hatched zone is above what the test kit can show.",
    ),
    readingsForm(nitrogen),
    dataFold(c),
  );
}

/** Oxygen, pH and the other quantities that influence nitrogen, aligned with its days. */
export function driversSection(c: Context): Markup | null {
  const under = curvePanels(c).filter((p) => !isNitrogen(p));
  if (under.length === 0) return null;
  return fold(c, {
    id: "drivers",
    title: "What drives them",
    gist: under.map((p) => p.title.toLowerCase()).join(", "),
    // Omitted from a static comparison, whose page would become too large to send.
    again: c.results.length > 1,
    contents: () => stack(c, "Charts of oxygen, pH and other drivers", under, null),
  });
}

/** Every panel as a table, with buttons to save its image. */
export const curveTables = (c: Context): Child =>
  // A static comparison has only the nitrogen tables, because the page would become too large to send.
  (c.live || c.results.length === 1 ? curvePanels(c) : curvePanels(c).filter(isNitrogen)).map((p) =>
    h("div", {}, exportButtons(p.id), panelTable(p, spanDays(c.results), c.reader)),
  );
