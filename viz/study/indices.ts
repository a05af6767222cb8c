// The share of an outcome's variance that each input explains, as a chart and as a table.
import { scaleLinear } from "d3";
import type { StudySummary } from "../../scenarios/study/summary.ts";
import { capital } from "../../scenarios/text/message.ts";
import type { IndexEstimate } from "../../sim/design/sobol-indices.ts";
import { table } from "../sections/table.ts";
import { h, type Markup } from "../view/markup.ts";
import type { Readings } from "./words.ts";

const WIDTH = 760;
const NAMES = 210;
const ROW = 46;
const TOP = 10;
const FOOT = 40;

type Indexed = StudySummary["indices"][number];

const percent = (share: number): string => `${Math.round(100 * share)} %`.replace("-", "−");
const range = ({ value, low, high }: IndexEstimate): string => `${percent(value)} (${percent(low)} to ${percent(high)})`;

const byTotal = ({ indices }: Indexed): Indexed["indices"] => [...indices].sort((a, b) => b.total.value - a.total.value);

function chart(indexed: Indexed, title: string): Markup {
  const rows = byTotal(indexed);
  const most = Math.max(1, ...rows.flatMap(({ total, first }) => [total.high, first.high]));
  const least = Math.min(0, ...rows.flatMap(({ total, first }) => [total.low, first.low]));
  const x = scaleLinear([least, most], [NAMES, WIDTH - 20]);
  const height = TOP + ROW * rows.length + FOOT;
  const ticks = x.ticks(5);
  return h(
    "svg",
    { viewBox: `0 0 ${WIDTH} ${height}`, role: "img", "aria-label": `Sobol’ indices of ${title}` },
    ticks.map((tick) => [
      h("line", { class: "grid", x1: x(tick), x2: x(tick), y1: TOP, y2: height - FOOT }),
      h("text", { class: "soft", x: x(tick), y: height - FOOT + 18, "text-anchor": "middle", "font-size": 13 }, percent(tick)),
    ]),
    h("line", { class: "axis", x1: x(0), x2: x(0), y1: TOP, y2: height - FOOT }),
    rows.map(({ input, first, total }, r) => {
      const y = TOP + ROW * r + ROW / 2;
      const whisker = (estimate: IndexEstimate, at: number, looks: string): Markup[] => [
        h("path", {
          class: looks,
          d: `M${x(estimate.low)} ${at}H${x(estimate.high)}M${x(estimate.low)} ${at - 4}v8M${x(estimate.high)} ${at - 4}v8`,
        }),
      ];
      const t = x(total.value);
      return [
        h("text", { x: NAMES - 12, y: y + 5, "text-anchor": "end", "font-size": 15 }, indexed.variables[input]),
        whisker(first, y - 9, "whisker"),
        h("circle", { class: "first", cx: x(first.value), cy: y - 9, r: 5 }),
        whisker(total, y + 9, "whisker t"),
        h("path", { class: "total", d: `M${t - 7} ${y + 9}L${t} ${y + 2}L${t + 7} ${y + 9}L${t} ${y + 16}Z` }),
      ];
    }),
    h(
      "text",
      { class: "soft", x: (NAMES + WIDTH - 20) / 2, y: height - 3, "text-anchor": "middle", "font-size": 13 },
      `share of the spread of ${title}`,
    ),
  );
}

function sentence(indexed: Indexed, title: string): string {
  const [first, second] = byTotal(indexed);
  const name = (one: (typeof indexed.indices)[number]): string => indexed.variables[one.input];
  const alone = indexed.indices.reduce((sum, { first: f }) => sum + Math.max(0, f.value), 0);
  return [
    `${capital(name(first))} explains ${percent(first.total.value)} of the spread of ${title}${second ? `, ${name(second)} ${percent(second.total.value)}` : ""}, interactions included.`,
    `One by one the inputs explain about ${percent(Math.min(1, alone))}; what is left is how they act together, and the uncertainty of ${indexed.groups} groups.`,
  ].join(" ");
}

/** A chart for the ranked outcome, tables for all outcomes. */
export function indicesView({ indices, rank }: StudySummary, { outcomes }: Readings): readonly Markup[] | null {
  const usable = indices.filter(
    (one) => one.groups > 1 && one.indices.every(({ first, total }) => Number.isFinite(first.value + total.value)),
  );
  if (usable.length === 0) return null;
  const main = usable.find(({ column }) => column === rank.column) ?? usable[0];
  const title = outcomes[main.column].title;
  return [
    h("p", {}, sentence(main, title)),
    h(
      "figure",
      {},
      h("div", { class: "study-chart rows", tabindex: 0, role: "region", "aria-label": "Sobol’ indices" }, chart(main, title)),
      h(
        "figcaption",
        {},
        `Filled circle: the input alone (first order). Open diamond: with all its interactions (total). Bars: 95 % confidence, by bootstrap over ${main.groups} groups of points.`,
      ),
    ),
    h(
      "details",
      {},
      h("summary", {}, "All indices in figures"),
      usable.map((one) =>
        table(
          `Sobol’ indices of ${outcomes[one.column].title}`,
          ["Input", "Alone, first order (95 %)", "With interactions, total (95 %)"],
          byTotal(one).map(({ input, first, total }) => [one.variables[input], range(first), range(total)]),
          {
            caption: `${outcomes[one.column].title}: ${one.groups} groups${one.leftOut > 0 ? `, ${one.leftOut} left out because a point of them has no such number` : ""}`,
            numbers: [1, 2],
          },
        ),
      ),
      h(
        "p",
        { class: "sources" },
        `Points in Saltelli’s arrangement of Sobol’ points (Saltelli et al. 2010; Joe and Kuo 2008); first order by Saltelli et al. 2010, total by Jansen 1999.`,
      ),
    ),
  ];
}
