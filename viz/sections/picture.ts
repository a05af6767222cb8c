// The section drawing with the playback of an outage run, its fill levels, and the level chart, which is also its time line.
import type { OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import { drawLevels, levelSummary, vesselLabel } from "../charts/levels.ts";
import { drawCutaway } from "../cutaway/draw.ts";
import { layout } from "../cutaway/layout.ts";
import { levelMarks, ruledVessels, runningWord, stageTimes } from "../cutaway/marks.ts";
import { bind, traceSampleAt } from "../cutaway/state.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { belowRim, duration, length, type Reader, volume, withLengths } from "../view/reader.ts";
import { levelOfVerdict, symbol } from "../view/symbols.ts";
import { type Context, focused } from "./context.ts";

/** From this width on, the side column is beside the drawing [CSS pixels]. */
const BESIDE = 900;

/** A system with at least this ratio of width to height, such as four tanks in a row, takes the whole width. */
const WIDE = 1.5;

export function isWide(result: RunResult): boolean {
  const { bounds } = layout(result.rig);
  return (bounds.x1 - bounds.x0) / (bounds.z1 - bounds.z0) > WIDE;
}

/** Gap between drawing and side column, with the frame of the drawing [CSS pixels]. */
const GAP_PX = 34;
const FRAME_PX = 14;

/** Width of the drawing [CSS pixels]: two thirds of the column, or all of it. */
export const drawingWidth = (width: number, wide: boolean): number =>
  Math.floor((width >= BESIDE && !wide ? (width - GAP_PX) * 0.66 : width) - FRAME_PX);

export function cutawayCaption(rig: RunResult["rig"], story: OutageTrace, when: string, reader: Reader): string {
  const towers = rig.towers.length;
  return `Section through the system, to scale: ${rig.displays.length === 1 ? "one display" : `${rig.displays.length} displays`} above ${towers === 0 ? "a sump" : towers === 1 ? "a trickle tower in a sump" : `${towers} trickle towers in a sump`} of ${rig.sump.chambers.length} chambers. ${when}, ${withLengths(reader, story.title)}.`;
}

/** The drawing at a time of an outage run [s]. */
export function cutawayAt(
  result: RunResult,
  story: OutageTrace,
  s: number,
  reader: Reader,
  width: number,
  prefix: string,
  when: string,
): Markup {
  const plan = layout(result.rig);
  return drawCutaway({
    surfaces: result.nitrogen.surfaces,
    layout: plan,
    story,
    moment: traceSampleAt(bind(plan, story), s),
    reader,
    width,
    prefix,
    caption: cutawayCaption(result.rig, story, when, reader),
  });
}

/** Verdict of an outage run in one line. */
export const outageText = (story: OutageTrace, reader: Reader): string =>
  story.verdict === "FLOODS"
    ? `${volume(reader, story.floorM3, true)} on the floor.`
    : `The water stays in, with ${length(reader, story.marginM, true)} to spare${story.verdict === "TIGHT" ? ", which is not much" : ""}.`;

export const outageVerdict = (story: OutageTrace, reader: Reader): Markup =>
  h(
    "p",
    { class: `story-verdict ${levelOfVerdict(story.verdict)}` },
    symbol(levelOfVerdict(story.verdict)),
    h("span", {}, h("strong", { class: "word" }, story.verdict), " ", outageText(story, reader)),
  );

/**
 * RUNNING, OFF and RESTART as distances from the rim, in the reader's units and below them in the other system. At the
 * restart, the highest level matters for a display, and the lowest for a return chamber, where the pump may draw air.
 */
export function marksTable(story: OutageTrace, reader: Reader): Markup {
  const other: Reader = { ...reader, units: reader.units === "metric" ? "US" : "metric" };
  const cell = (rimZ: number | null, z: number | null, note = ""): Markup =>
    z === null || rimZ === null
      ? h("td", {}, "–")
      : h(
          "td",
          {},
          h("span", { class: "first" }, belowRim(reader, rimZ - z)),
          Math.abs(rimZ - z) >= 0.0005 && h("small", {}, belowRim(other, rimZ - z)),
          note && h("small", {}, note),
        );
  return h(
    "table",
    { class: "marks" },
    h("caption", {}, "Measure from the rim down"),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        ["In", "RUNNING", "OFF", "RESTART"].map((t) => h("th", { scope: "col" }, t)),
      ),
    ),
    h(
      "tbody",
      {},
      ruledVessels(story).map((v) => {
        const m = levelMarks(story, v);
        const chamber = v.kind === "chamber";
        return h(
          "tr",
          {},
          h("th", { scope: "row" }, vesselLabel(v.kind, v.name)),
          cell(v.rimZ, m.runningZ, runningWord(story, v) === "BLOCKED" ? "drain blocked" : ""),
          cell(v.rimZ, m.offZ),
          chamber ? cell(v.rimZ, m.lowZ, "lowest") : cell(v.rimZ, m.peakZ, "highest"),
        );
      }),
    ),
  );
}

/** Explains why hours without power play in minutes: the water settles, and nothing changes until the power returns. */
function restNote(result: RunResult, story: OutageTrace, reader: Reader): Child {
  const { cutS, restartS } = stageTimes(story);
  if (cutS === null || restartS === null) return null;
  const played = restartS - cutS;
  const really = result.inputs.cutHours * 3600;
  if (really < 2 * played) return null;
  return h(
    "p",
    { class: "note" },
    `The water comes to rest within ${duration(reader, played)}. The rest of the ${duration(reader, really)} without power changes no level, so the film jumps to the return of the power.`,
  );
}

export const eventList = (story: OutageTrace, reader: Reader): Markup =>
  h(
    "ol",
    { class: "events", "data-roving": "" },
    story.events.map((e, i) =>
      h(
        "li",
        {},
        h(
          "button",
          { type: "button", class: "event-jump", "data-s": String(e.s), tabindex: i === 0 ? 0 : -1 },
          h("span", { class: "when" }, duration(reader, e.s)),
          h("span", {}, e.label),
        ),
      ),
    ),
  );

export function outageSide(result: RunResult, story: OutageTrace, reader: Reader): Child {
  return [
    h(
      "label",
      { class: "story-pick no-print" },
      h("span", {}, "Play"),
      h(
        "select",
        { id: "story" },
        result.hydraulics.stories.map((s) =>
          h("option", { value: s.id, selected: s.id === story.id }, withLengths(reader, s.title)),
        ),
      ),
    ),
    outageVerdict(story, reader),
    marksTable(story, reader),
    restNote(result, story, reader),
  ];
}

const icon = (d: string): Markup =>
  h("svg", { viewBox: "0 0 20 20", width: 18, height: 18, "aria-hidden": "true", class: "icon" }, h("path", { d }));

const controls = (): Markup =>
  h(
    "div",
    { class: "player-controls", role: "group", "aria-label": "Play the power cut", "data-roving": "" },
    h(
      "button",
      { type: "button", id: "play", class: "primary", "aria-pressed": "false" },
      icon("M5 3l12 7-12 7z"),
      h("span", {}, "Play"),
    ),
    h("button", { type: "button", id: "previous-event", "aria-label": "Previous event" }, icon("M6 4v12M16 4L8 10l8 6z")),
    h("button", { type: "button", id: "next-event", "aria-label": "Next event" }, icon("M14 4v12M4 4l8 6-8 6z")),
    h(
      "label",
      {},
      h("span", { class: "visually-hidden" }, "Speed"),
      h(
        "select",
        { id: "speed" },
        [
          ["1", "real time"],
          ["5", "5 × faster"],
          ["15", "15 × faster"],
          ["60", "60 × faster"],
          ["300", "300 × faster"],
        ].map(([value, text]) => h("option", { value: value!, selected: value === "15" }, text!)),
      ),
    ),
    h("output", { id: "clock", for: "scrub" }, ""),
  );

export function pictureSection(c: Context): Markup | null {
  const result = focused(c);
  const story = result.hydraulics.stories[0];
  if (!story) return null;
  const { cutS, endS } = stageTimes(story);
  const spread = isWide(result);
  const wide = drawingWidth(c.width, spread);
  return h(
    "section",
    { id: "drawing", "aria-labelledby": "drawing-title" },
    h("h2", { id: "drawing-title" }, "The system, cut open"),
    h(
      "p",
      { class: "lead" },
      "Drawn to scale from your measurements. Play the power cut: the water moves as the simulation computed it. Drag the water line, the nozzle or a baffle to try another one.",
    ),
    h(
      "div",
      { class: spread ? "player wide" : "player", "data-player": "" },
      h(
        "figure",
        { class: "sheet-drawing" },
        h(
          "div",
          { class: "frame", "data-figure": "cutaway" },
          !c.live && cutawayAt(result, story, 0, c.reader, wide, "run", "Running"),
        ),
        controls(),
      ),
      h("div", { class: "sheet-side", "data-side": "" }, !c.live && outageSide(result, story, c.reader)),
      h("div", { class: "event-list", "data-events": "" }, !c.live && eventList(story, c.reader)),
      h(
        "figure",
        { class: "time-line" },
        h("div", { "data-figure": "levels" }, !c.live && drawLevels(story, c.reader, c.width)),
        h(
          "div",
          { class: "scrub-track no-print" },
          h("input", {
            type: "range",
            id: "scrub",
            min: 0,
            max: endS,
            step: "any",
            value: String(Math.max(0, (cutS ?? 0) - 1)),
            "aria-label": "Time in the film",
          }),
        ),
        h("p", { class: "visually-hidden", "data-level-words": "" }, levelSummary(story, c.reader)),
      ),
    ),
    h("figure", { class: "still", "data-figure": "still" }, !c.live && stillFigure(c)),
  );
}

/** For paper, and for browsers without script: the water at rest after the stop. */
export function stillFigure(c: Context): Child {
  const result = focused(c);
  const story = result.hydraulics.stories[0];
  if (!story) return null;
  const { restartS, endS } = stageTimes(story);
  const width = Math.min(640, c.width);
  return [
    h("div", { class: "frame" }, cutawayAt(result, story, restartS ?? endS, c.reader, width, "off", "Power off, at rest")),
    h("figcaption", {}, "Power off, at rest. ", outageText(story, c.reader)),
  ];
}
