// The outcome over two variables, as a table with numbers that can be read, copied and printed, shaded by their size.
import type { OutcomeMap, Side, StudySummary } from "../../scenarios/study/summary.ts";
import { scroll } from "../sections/table.ts";
import { h, type Markup } from "../view/markup.ts";
import type { Reading, Readings } from "./words.ts";

const SHADES = 5;

/** Headings of the cells of a side. */
function heads({ edges, labels }: Side, reading: Reading): readonly string[] {
  if (!labels) return edges!.slice(1).map((to, i) => reading.number((edges![i] + to) / 2));
  return edges ? edges.map((value) => reading.number(value)) : labels;
}

export function heatMap({ map }: StudySummary, { inputs, outcomes }: Readings): Markup | null {
  if (!map) return null;
  const [across, up, outcome] = [inputs[map.across.input], inputs[map.up.input], outcomes[map.column]];
  const means = map.cells.flat().flatMap(({ mean }) => (mean === null ? [] : [mean]));
  const [low, high] = [Math.min(...means), Math.max(...means)];
  const shade = (mean: number): number =>
    high > low ? Math.min(SHADES - 1, Math.floor(((mean - low) / (high - low)) * SHADES)) : 0;
  const rows = [...map.cells.entries()].toReversed();
  const names = { across: heads(map.across, across), up: heads(map.up, up) };
  return h(
    "figure",
    {},
    scroll(
      `${outcome.title} by ${across.title} and ${up.title}`,
      h(
        "table",
        { class: "heat" },
        h("caption", {}, `${across.title} across, ${up.title} up`),
        h(
          "thead",
          {},
          h(
            "tr",
            {},
            h("td", {}),
            names.across.map((name) => h("th", { scope: "col" }, name)),
          ),
        ),
        h(
          "tbody",
          {},
          rows.map(([y, line]) =>
            h(
              "tr",
              {},
              h("th", { scope: "row" }, names.up[y]),
              line.map((cell) => cellOf(cell, outcome, shade)),
            ),
          ),
        ),
      ),
    ),
    h(
      "figcaption",
      {},
      `Mean of ${outcome.title} over the points of each cell; the stronger the tint, the higher. ${explain(map)}`,
    ),
  );
}

function cellOf(
  { points, mean }: OutcomeMap["cells"][number][number],
  outcome: Reading,
  shade: (mean: number) => number,
): Markup {
  if (mean !== null) return h("td", { class: `h${shade(mean)}` }, outcome.number(mean));
  return h("td", { class: "none" }, points > 0 ? "none" : "");
}

const explain = ({ cells, across, up }: OutcomeMap): string => {
  const all = cells.flat();
  const parts = [
    !across.labels || !up.labels ? "Figures along the edges are the middles of the cells." : "",
    all.some(({ points, mean }) => points > 0 && mean === null) ? "“none”: no point of the cell has this number." : "",
    all.some(({ points }) => points === 0) ? "A hatched cell has no points." : "",
  ];
  return parts.filter((part) => part !== "").join(" ");
};
