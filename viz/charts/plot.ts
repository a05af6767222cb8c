// Draws one panel over days: band, lines with their names at the end, kit limit, limits and events.
import { ticks as roundDays } from "d3";
import { spread } from "../cutaway/dimensions.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { shortNames } from "../view/names.ts";
import { figure, type Reader } from "../view/reader.ts";
import { type Line, type Panel, range, within } from "./panel.ts";
import { linear, type Period, roundTicks } from "./scale.ts";
import { bandPath, curvePath } from "./thin.ts";

export interface Frame {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** All panels of a page have the same left and right edge, so that their days align. */
export const panelFrame = (width: number, height: number, withAxis: boolean): Frame => ({
  width,
  height,
  left: 46,
  right: width < 620 ? 12 : 158,
  top: 26,
  bottom: withAxis ? 24 : 8,
});

export const dayScale = (frame: Pick<Frame, "width" | "left" | "right">, { from, to }: Period): ((day: number) => number) =>
  linear([from, Math.max(to, from + 1e-6)], [frame.left, frame.width - frame.right]);

/** Whole days and weeks where they fit, otherwise round numbers. */
export function dayTicks({ from, to }: Period, room: number): readonly number[] {
  const wanted = Math.max(3, Math.floor(room / 64));
  const first = (step: number): number => Math.ceil(from / step - 1e-9) * step;
  for (const step of [1, 2, 7, 14, 28, 56, 84, 182, 364])
    if ((to - from) / step <= wanted)
      return Array.from(
        { length: Math.max(0, Math.floor((to - first(step)) / step + 1e-9) + 1) },
        (_, i) => first(step) + i * step,
      );
  return roundDays(from, to, wanted);
}

const num = (v: number): string => v.toFixed(1);

export interface PlotOptions {
  readonly withAxis: boolean;
  readonly eventDays: readonly number[];
  /** Lines of the first run, drawn thin behind those of the changed run. */
  readonly ghost?: Panel;
  /** Axes only, as a form to fill in by hand. */
  readonly blank?: boolean;
  readonly readings?: readonly { readonly day: number; readonly value: number; readonly step: number }[];
  readonly prefix: string;
}

function ceilingZone(panel: Panel, frame: Frame, y: (v: number) => number, high: number, prefix: string, reader: Reader): Child {
  if (panel.ceiling === null || panel.ceiling >= high) return null;
  const edge = y(panel.ceiling);
  const id = `${prefix}-off-${panel.id}`;
  return h(
    "g",
    {},
    h(
      "pattern",
      { id, width: 7, height: 7, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
      h("path", { class: "hatch", d: "M0,0V7" }),
    ),
    h("rect", {
      x: frame.left,
      y: frame.top,
      width: frame.width - frame.left - frame.right,
      height: edge - frame.top,
      fill: `url(#${id})`,
    }),
    h("path", { class: "ceiling-line", d: `M${frame.left},${num(edge)}H${frame.width - frame.right}` }),
    h(
      "text",
      {
        class: "ceiling-label halo",
        x: frame.width - frame.right - 6,
        y: Math.min(edge - 5, frame.top + 14),
        "text-anchor": "end",
      },
      `off your chart: the kit ends at ${figure(reader, panel.ceiling)}`,
    ),
  );
}

const LABEL_HIGH = 13;
/** Width of a letter of a label in a wide font [CSS pixels]. */
const LETTER_PX = 7.4;

/** Style index: one per scenario in a comparison, one per line otherwise. */
const lookOf = (panel: Panel, i: number): number => {
  const alone = panel.lines.every((l) => l.scenario === panel.lines[0]!.scenario);
  return Math.min(3, alone ? i : panel.lines[i]!.scenario);
};

/** Whole words, up to a number of characters. */
const clipped = (text: string, most: number): string =>
  text.length <= most ? text : `${text.slice(0, most).replace(/\s+\S*$/, "")} …`;

interface Named {
  readonly line: Line;
  readonly look: number;
}

/** Lines that are nowhere further apart than this share of the highest value are one line to the eye. */
const SAME_SHARE = 0.03;

/** One name for lines of a scenario that run together: "tank A, B, C". */
function asOne(named: readonly Named[]): readonly Named[] {
  const highest = Math.max(0, ...named.flatMap(({ line }) => line.values.map((v) => v ?? 0)));
  const together = (a: Line, b: Line): boolean =>
    a.scenario === b.scenario &&
    a.days === b.days &&
    a.values.every((v, i) => Math.abs((v ?? 0) - (b.values[i] ?? 0)) <= SAME_SHARE * highest);
  const groups: Named[][] = [];
  for (const one of named) {
    const group = groups.find(([first]) => together(first!.line, one.line));
    if (group) group.push(one);
    else groups.push([one]);
  }
  return groups.map(([first, ...others]) => {
    if (others.length === 0) return first!;
    const { shared, short } = shortNames([first!, ...others].map(({ line }) => line.short ?? line.label));
    return { ...first!, line: { ...first!.line, short: `${shared} ${short.join(", ")}`.trim() } };
  });
}

function lineLabels(panel: Panel, frame: Frame, x: (d: number) => number, y: (v: number) => number): Child {
  const named = asOne(
    panel.lines.map((line, look) => ({ line, look: lookOf(panel, look) })).filter(({ line }) => line.short !== ""),
  );
  const ends = named.map(({ line: l, look }) => {
    let i = l.values.length - 1;
    while (i > 0 && l.values[i] === null) i--;
    return { line: l, look, day: l.days[i] ?? 0, value: l.values[i] ?? 0 };
  });
  const narrow = frame.right < 40;
  // A single line has its name in the title of its panel; beside a band it is the likely course.
  const alone = panel.lines.length === 1;
  if (alone && (narrow || panel.bands.length === 0)) return null;
  const floor = frame.height - frame.bottom - 2;
  const wanted = spread(
    ends.map((e) => Math.max(frame.top + 6, Math.min(floor, y(e.value)))),
    LABEL_HIGH,
  );
  // When the labels extend below the panel, all of them move up.
  const sunk = Math.max(0, Math.max(...wanted) - floor);
  const at = spread(
    wanted.map((v) => v - (v > floor - sunk - LABEL_HIGH * ends.length ? sunk : 0)),
    LABEL_HIGH,
  );
  const limit = (day: number): number => (narrow ? 30 : Math.floor((frame.width - x(day) - 8) / LETTER_PX));
  return ends.map((e, i) =>
    h(
      "text",
      {
        class: `direct halo label-s${e.look}`,
        x: narrow ? x(e.day) - 4 : x(e.day) + 7,
        y: (at[i] ?? 0) + (narrow ? -4 : 4),
        "text-anchor": narrow ? "end" : "start",
      },
      alone ? "likely" : clipped(e.line.short ?? e.line.label, limit(e.day)),
    ),
  );
}

/** One panel as SVG. `period` is that of the whole page, so that panels of shorter runs stay aligned. */
export function drawPanel(
  whole: Panel,
  period: Period,
  frame: Frame,
  reader: Reader,
  summary: string,
  options: PlotOptions,
): Markup {
  const panel = within(whole, period);
  const ghost = options.ghost && within(options.ghost, period);
  const [low, high] = range(ghost ? { ...panel, lines: [...panel.lines, ...ghost.lines] } : panel);
  const shown = (day: number): boolean => day >= period.from && day <= period.to;
  const x = dayScale(frame, period);
  const y = linear([low, high], [frame.height - frame.bottom, frame.top]);
  const ticks = roundTicks(reader, low, high, Math.max(2, Math.floor((frame.height - frame.top - frame.bottom) / 34)));
  const path = (ds: readonly number[], vs: readonly (number | null)[]): string =>
    curvePath(
      ds.map(x),
      ds.map((_, i) => (vs[i] === null || vs[i] === undefined ? null : y(vs[i]))),
    );
  const baseline = frame.height - frame.bottom;
  return h(
    "svg",
    {
      class: "chart panel",
      viewBox: `0 0 ${frame.width} ${frame.height}`,
      role: "img",
      "aria-label": summary,
      "data-panel": panel.id,
    },
    !options.blank &&
      panel.bands.map((b) =>
        h("path", {
          class: "band",
          d: bandPath(
            b.days.map(x),
            b.low.map((v) => y(v)),
            b.high.map((v) => y(v)),
          ),
        }),
      ),
    ceilingZone(panel, frame, y, high, options.prefix, reader),
    h(
      "g",
      { class: "axis" },
      ticks.map(({ value, text }) => [
        h("path", { class: "grid", d: `M${frame.left},${num(y(value))}H${frame.width - frame.right}` }),
        h("text", { x: frame.left - 6, y: y(value) + 4, "text-anchor": "end" }, text),
      ]),
    ),
    panel.limits
      .filter((l) => l.value <= high)
      .map((l) => [
        h("path", { class: "limit", d: `M${frame.left},${num(y(l.value))}H${frame.width - frame.right}` }),
        h("text", { class: "limit-label halo", x: frame.left + 6, y: y(l.value) - 4 }, l.label),
      ]),
    options.eventDays
      .filter(shown)
      .map((d) => h("path", { class: "grid event-rule", d: `M${num(x(d))},${frame.top}V${baseline}` })),
    ghost?.lines.map((l) => h("path", { class: "ghost", d: path(l.days, l.values) })),
    !options.blank &&
      h(
        "g",
        { class: "answer" },
        panel.lines.map((l, i) => h("path", { class: `line s${lookOf(panel, i)}`, d: path(l.days, l.values) })),
        lineLabels(panel, frame, x, y),
      ),
    options.readings
      ?.filter((r) => shown(r.day))
      .map((r) =>
        h(
          "g",
          { class: "reading-mark" },
          h("path", {
            class: "reading",
            d: `M${num(x(r.day))},${num(y(Math.max(low, r.value - r.step)))}V${num(y(Math.min(high, r.value + r.step)))}`,
          }),
          h("rect", { class: "reading", x: x(r.day) - 4, y: y(Math.min(high, r.value)) - 4, width: 8, height: 8 }),
        ),
      ),
    h(
      "g",
      { class: "axis" },
      h("path", { d: `M${frame.left},${baseline}H${frame.width - frame.right}` }),
      options.withAxis &&
        dayTicks(period, frame.width - frame.left - frame.right).map((t, i) => [
          h("path", { d: `M${num(x(t))},${baseline}v5` }),
          h("text", { x: x(t), y: baseline + 17, "text-anchor": "middle" }, i === 0 ? `day ${t}` : String(t)),
        ]),
    ),
    h("text", { class: "panel-title", x: 0, y: 14 }, panel.title, h("tspan", { class: "panel-unit", dx: 8 }, panel.unit)),
    h("g", {
      class: "cursor-layer",
      "data-x0": frame.left,
      "data-x1": frame.width - frame.right,
      "data-y0": frame.top,
      "data-y1": baseline,
      // As strings, because numeric attributes are rounded to drawing accuracy.
      "data-low": String(low),
      "data-high": String(high),
    }),
  );
}
