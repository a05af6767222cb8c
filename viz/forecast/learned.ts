// What typed readings say, inside the page of a scenario: whether the forecast is to be believed, then the days and the table before and after the readings.
import type { Posterior } from "../../scenarios/forecast/posterior.ts";
import { type Child, h } from "../view/markup.ts";
import { bandChart } from "./bands.ts";
import { milestones } from "./milestones.ts";
import { ranges } from "./ranges.ts";

/** Curves on which keepers read something. */
const SHOWN = ["tan", "no2"] as const;

export function learned(result: Posterior): Child {
  const { summary, trust, answers, contradictions } = result;
  const claimed = summary.trust === "claimed";
  return [
    h(
      "p",
      { class: `trust ${claimed ? "ring" : summary.trust === "thin" ? "diamond" : "triangle"}` },
      h("b", {}, claimed ? "Forecast. " : "No forecast. "),
      trust,
    ),
    claimed && [
      h("p", {}, h("strong", {}, answers[0]?.text)),
      milestones(result),
      ranges(result),
      summary.bands
        .filter(({ curve }) => SHOWN.some((shown) => shown === curve))
        .map((band) => h("figure", { class: "forecast-chart" }, bandChart(result, band))),
      h("p", { class: "note" }, "Solid: after the readings. Dotted: before them. The band holds eight runs of ten."),
    ],
    contradictions.length > 0 &&
      h(
        "ul",
        {},
        contradictions.map((text) => h("li", {}, text)),
      ),
    h(
      "p",
      { class: "note" },
      claimed
        ? "The page tries few runs, so that it takes seconds. Save the readings in the scenario file; the command fit tries more, and writes the scenario with what was learned."
        : "Save the readings in the scenario file: the command fit tries more runs, and looks for what may be wrong.",
    ),
  ];
}
