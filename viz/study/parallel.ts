// Parallel-coordinates plot: one vertical axis per input and main outcome, one line per point.
import { scaleLinear, scalePoint } from "d3";
import type { PointSummary, StudySummary } from "../../scenarios/study/summary.ts";
import { h, type Markup } from "../view/markup.ts";
import type { Reading, Readings } from "./words.ts";

const MOST_INPUTS = 7;
const MOST_OUTCOMES = 3;
const MOST_WORDS = 8;
const WIDTH = 1100;
const HEIGHT = 420;
const TOP = 58;
const BOTTOM = 24;
const SIDE = 70;

interface Axis {
  readonly reading: Reading;
  readonly of: (point: PointSummary) => number;
  readonly place: (value: number) => number;
  readonly ticks: readonly { readonly at: number; readonly text: string }[];
}

function axisOf(reading: Reading, of: (point: PointSummary) => number, points: readonly PointSummary[]): Axis | null {
  const values = points.map(of).filter(Number.isFinite);
  const { labels } = reading.field;
  const [low, high] = [Math.min(...values), Math.max(...values)];
  if (values.length === 0 || low === high) return null;
  if (labels && labels.length > MOST_WORDS) return null;
  const scale = scaleLinear([low, high], [HEIGHT - BOTTOM, TOP]);
  const ticks = labels
    ? labels.map((text, value) => ({ at: scale(value), text }))
    : [low, high].map((value) => ({ at: scale(value), text: reading.number(value) }));
  return { reading, of, place: scale, ticks: ticks.filter(({ at }) => at >= TOP - 1 && at <= HEIGHT - BOTTOM + 1) };
}

/** A long name in two lines, split at the blank nearest to its middle. */
function twoLines(text: string): readonly string[] {
  if (text.length < 16) return [text];
  const blanks = [...text.matchAll(/ /g)].map(({ index }) => index);
  const best = blanks.sort((a, b) => Math.abs(a - text.length / 2) - Math.abs(b - text.length / 2))[0];
  return best === undefined ? [text] : [text.slice(0, best), text.slice(best + 1)];
}

export function parallelView(summary: StudySummary, { inputs, outcomes }: Readings): Markup | null {
  const { lines, best, worst, rank } = summary;
  const points = [...lines, ...best, ...worst];
  const others = outcomes.flatMap((_, c) =>
    c !== rank.column && outcomes[c].field.labels === null && !/ day [\d.]+$/.test(outcomes[c].field.name) ? [c] : [],
  );
  const axes = [
    ...inputs
      .map((reading, i) => axisOf(reading, (point) => point.inputs[i], points))
      .filter((axis) => axis !== null)
      .slice(0, MOST_INPUTS),
    ...[rank.column, ...others]
      .slice(0, MOST_OUTCOMES)
      .map((c) => axisOf(outcomes[c], (point) => point.outcomes[c], points))
      .filter((axis) => axis !== null),
  ];
  if (axes.length < 2) return null;
  const x = scalePoint(
    axes.map((_, i) => i),
    [SIDE, WIDTH - SIDE],
  );
  // A missing number interrupts the line of its point.
  const path = (point: PointSummary): string => {
    let d = "";
    let pen = "M";
    for (const [i, { of, place }] of axes.entries()) {
      const value = of(point);
      if (!Number.isFinite(value)) {
        pen = "M";
        continue;
      }
      d += `${pen}${x(i)!.toFixed(1)} ${place(value).toFixed(1)}`;
      pen = "L";
    }
    return d;
  };
  const draw = (list: readonly PointSummary[], looks: string): Markup =>
    h(
      "g",
      { class: looks },
      list.map((point) => h("path", { class: looks, d: path(point) })),
    );
  return h(
    "figure",
    {},
    h(
      "div",
      { class: "study-chart wide", tabindex: 0, role: "region", "aria-label": "Parallel view of the points" },
      h(
        "svg",
        {
          viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
          role: "img",
          "aria-label": `Each line is one point; axes: ${axes.map(({ reading }) => reading.title).join(", ")}`,
        },
        draw(lines, "line"),
        draw(worst, "worst"),
        draw(best, "best"),
        axes.map(({ reading, ticks }, i) => [
          h("line", { class: "axis", x1: x(i)!, x2: x(i)!, y1: TOP, y2: HEIGHT - BOTTOM }),
          twoLines(reading.title).map((text, n, all) =>
            h("text", { x: x(i)!, y: TOP - 24 - 15 * (all.length - 1 - n), "text-anchor": "middle", "font-size": 13 }, text),
          ),
          ticks.map(({ at, text }, n) =>
            h(
              "text",
              reading.field.labels
                ? { class: "soft", x: x(i)! + 5, y: at + 4, "font-size": 12 }
                : { class: "soft", x: x(i)!, y: n === 0 ? HEIGHT - 6 : TOP - 6, "text-anchor": "middle", "font-size": 12 },
              text,
            ),
          ),
        ]),
      ),
    ),
    h(
      "figcaption",
      {},
      `Each thin line is one point (${lines.length} of ${summary.points}). The ${best.length} best are drawn thick, the ${worst.length} worst dashed: an axis on which the two lie apart matters.`,
    ),
  );
}
