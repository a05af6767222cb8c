// Level against time in one outage run: distance of the water from the rim, for each vessel that a ruler can measure.
import type { OutageTrace } from "../../scenarios/result/result.ts";
import { spread } from "../cutaway/dimensions.ts";
import { levelMarks, ruledVessels } from "../cutaway/marks.ts";
import { h, type Markup } from "../view/markup.ts";
import { bareLength, duration, type Reader, withLengths } from "../view/reader.ts";
import type { Frame } from "./plot.ts";
import { linear } from "./scale.ts";
import { curvePath } from "./thin.ts";

export const levelFrame = (width: number): Frame => ({
  width,
  height: width < 620 ? 190 : 210,
  left: 50,
  right: width < 620 ? 14 : 158,
  top: 30,
  bottom: 58,
});

const num = (v: number): string => v.toFixed(1);
const MM_PER_STEP = [0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5];

/** Names of vessels in the chart: the display's own name, and "sump, return chamber". */
export const vesselLabel = (kind: string, name: string): string => (kind === "chamber" ? "sump, return chamber" : name);

export function levelSummary(story: OutageTrace, reader: Reader): string {
  const parts = ruledVessels(story).map((v) => {
    const m = levelMarks(story, v);
    const down = (z: number | null): string => (z === null ? "–" : bareLength(reader, (v.rimZ ?? 0) - z));
    return `${vesselLabel(v.kind, v.name)}: running ${down(m.runningZ)}, off ${down(m.offZ)}, highest after restart ${down(m.peakZ)} below the rim`;
  });
  return `${withLengths(reader, story.title)}. In ${reader.units === "metric" ? "millimetres" : "inches"}. ${parts.join("; ")}. ${story.events.map((e) => `${e.label} at ${duration(reader, e.s)}`).join(", ")}.`;
}

/** Width of a character of the event labels [SVG units]. */
const LETTER = 6.6;

/** Shortens text that is wider than the chart with an ellipsis. */
const clipped = (text: string, width: number): string => {
  const most = Math.floor((width - 10) / LETTER);
  return text.length <= most ? text : `${text.slice(0, most - 1)}…`;
};

/** Levels below the rim over the seconds of the run; the scrubber below the chart has the same time axis. */
export function drawLevels(story: OutageTrace, reader: Reader, width: number): Markup {
  const frame = levelFrame(width);
  const end = story.timeS.at(-1) ?? 1;
  const ruled = ruledVessels(story);
  const lines = ruled.map((v) => ({ vessel: v, down: v.levelZ.map((z) => (v.rimZ ?? 0) - z) }));
  const deepest = Math.max(0.02, ...lines.flatMap((l) => l.down));
  const highest = Math.min(0, ...lines.flatMap((l) => l.down));
  const x = linear([0, end], [frame.left, frame.width - frame.right]);
  const y = linear([highest - deepest * 0.04, deepest * 1.1], [frame.top, frame.height - frame.bottom]);
  const unitM = reader.units === "metric" ? 1 : 2.54;
  const step = (MM_PER_STEP.find((s) => deepest / (s * unitM) <= 6) ?? 0.5) * unitM;
  const ticks = Array.from({ length: Math.floor(deepest / step) + 1 }, (_, i) => i * step);
  const baseline = frame.height - frame.bottom;
  const ends = spread(
    lines.map((l) => y(l.down.at(-1) ?? 0)),
    14,
  );
  const eventX = story.events.map((e) => x(e.s));
  const narrow = frame.right < 40;
  // Event labels use two or three rows under the axis, so that neighbours do not overlap.
  const rowEnds = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const rows = story.events.map((e, i) => {
    const px = eventX[i]!;
    const wide = Math.min(frame.width, e.label.length * LETTER + 10);
    const start = Math.min(px, frame.width - wide);
    const row = rowEnds.findIndex((edge) => edge < start);
    if (row < 0) return { row: -1, start };
    rowEnds[row] = start + wide;
    return { row, start };
  });
  return h(
    "svg",
    {
      class: "chart levels",
      viewBox: `0 0 ${frame.width} ${frame.height}`,
      role: "img",
      "aria-label": levelSummary(story, reader),
    },
    story.floorM3 > 0 &&
      h("rect", {
        class: "flood",
        x: frame.left,
        y: frame.top,
        width: frame.width - frame.left - frame.right,
        height: Math.max(3, y(0) - frame.top),
      }),
    h(
      "g",
      { class: "axis" },
      ticks.map((t) => [
        h("path", { class: t === 0 ? "" : "grid", d: `M${frame.left},${num(y(t))}H${frame.width - frame.right}` }),
        h("text", { x: frame.left - 6, y: y(t) + 4, "text-anchor": "end" }, t === 0 ? "rim" : bareLength(reader, t)),
      ]),
    ),
    story.events.map((e, i) => {
      const place = rows[i]!;
      return h(
        "g",
        { class: "event" },
        h("line", { x1: eventX[i]!, x2: eventX[i]!, y1: frame.top, y2: baseline + 4 + Math.max(0, place.row) * 14 }),
        place.row >= 0 && h("text", { x: place.start + 3, y: baseline + 15 + place.row * 14 }, clipped(e.label, frame.width)),
      );
    }),
    lines.map((l, i) => [
      h("path", {
        class: `line s${Math.min(3, i)}`,
        d: curvePath(
          story.timeS.map((s) => x(s)),
          l.down.map((v) => y(v)),
        ),
      }),
      h(
        "text",
        {
          class: `direct halo label-s${Math.min(3, i)}`,
          x: narrow ? frame.width - frame.right - 4 : frame.width - frame.right + 7,
          y: (ends[i] ?? 0) + (narrow ? -5 : 4),
          "text-anchor": narrow ? "end" : "start",
        },
        vesselLabel(l.vessel.kind, l.vessel.name),
      ),
    ]),
    h(
      "text",
      { class: "panel-title", x: 0, y: 14 },
      "Below the rim",
      h("tspan", { class: "panel-unit", dx: 8 }, `${reader.units === "metric" ? "mm" : "inches"}, over ${duration(reader, end)}`),
    ),
    h("line", { class: "cursor", "data-scrub": "", x1: frame.left, x2: frame.left, y1: frame.top, y2: baseline }),
  );
}
