// Body of a forecast page: answer, curves, causes of the spread, readings, possible causes of a misfit, reliability.
import type { Explanation, ReadingEvidence } from "../../scenarios/forecast/diagnose.ts";
import type { ForecastResult } from "../../scenarios/forecast/forecast.ts";
import { kitWords, type Reading } from "../../scenarios/forecast/kit.ts";
import { HYDRAULIC_FACTORS } from "../../scenarios/schema/uncertain.ts";
import { cautionList, titledSection } from "../sections/page-parts.ts";
import { table } from "../sections/table.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { DKH_PER_MEQ } from "../view/reader.ts";
import { bandChart } from "./bands.ts";
import { milestones } from "./milestones.ts";
import { ranges } from "./ranges.ts";

export interface ForecastPage {
  readonly result: ForecastResult;
  /** Version of the program. */
  readonly program: string;
  /** File name of the updated scenario; null if there is none. */
  readonly updated: string | null;
}

const percent = (share: number): string => (share > 0 && share < 0.01 ? "under 1 %" : `${Math.round(100 * share)} %`);
/** Two significant figures; a value below every kit's first step is zero. */
const plain = (value: number): string => (Math.abs(value) < 0.01 ? "0" : String(Number(value.toPrecision(2))));

const KINDS: Readonly<Record<Reading["of"], string>> = {
  ammonia: "ammonia",
  nitrite: "nitrite",
  nitrate: "nitrate",
  ph: "pH",
  alkalinity: "KH",
};
const shownValue = (of: Reading["of"], value: number): string =>
  of === "alkalinity" ? `${plain(value * DKH_PER_MEQ)} dKH` : of === "ph" ? value.toFixed(1) : plain(value);

const titleBlock = ({ result }: ForecastPage): Markup =>
  h(
    "header",
    { class: "title-block" },
    h(
      "div",
      { class: "words" },
      h("p", { class: "wordmark" }, "Sumpwright"),
      h("h1", {}, `Forecast: ${result.name}`),
      result.question !== "" && h("p", { class: "question" }, result.question),
    ),
  );

/** The last line: version, random seed and number of members. */
const provenance = ({ result, program }: ForecastPage): Markup =>
  h(
    "p",
    { class: "provenance" },
    `${result.file}: ${result.summary.readings} readings, ${result.summary.members} runs, random seed ${result.seed}, ${program}.`,
  );

function answer({ result, updated }: ForecastPage): Child {
  const { summary, answers, trust } = result;
  const claimed = summary.trust === "claimed";
  const mark = claimed ? "ring" : summary.trust === "thin" ? "diamond" : "triangle";
  return [
    h("p", { class: `trust ${mark}` }, h("b", {}, claimed ? "Forecast. " : "No forecast. "), trust),
    claimed && milestones(result),
    claimed &&
      h(
        "ul",
        { class: "plain-list" },
        answers.map(({ text, why }) =>
          h("li", {}, h("strong", {}, text), h("div", { class: "note" }, `Why it is wide: ${why}.`)),
        ),
      ),
    result.contradictions.length > 0 &&
      h(
        "ul",
        {},
        result.contradictions.map((text) => h("li", {}, text)),
      ),
    updated && h("p", {}, "What was learned stands in ", h("code", {}, updated), "; go on from there with later readings."),
  ];
}

function whyWide({ answers, summary }: ForecastResult): Markup {
  const main = summary.answers.find(({ why }) => why.length > 0);
  const inputs = [...new Set(summary.answers.flatMap(({ why }) => why.map(({ input }) => input)))];
  const shown = summary.answers.filter(({ id }) => answers.some((one) => one.id === id));
  const names = new Map(answers.map(({ id, title }) => [id, title]));
  return h(
    "div",
    {},
    !main && h("p", {}, "No single input stands out."),
    table(
      "Share of the spread by input",
      ["Input", ...shown.map(({ id }) => names.get(id) ?? id)],
      inputs.map((input) => [
        input,
        ...shown.map(({ why }) => percent(why.find((one) => one.input === input)?.share ?? 0).replace(/^0 %$/, "–")),
      ]),
      {
        numbers: shown.map((_, i) => i + 1),
        caption: "Share of the spread that goes with each input alone; under 5 % is left out",
      },
    ),
    h(
      "p",
      { class: "note" },
      "To narrow the forecast, find out what stands highest: count the seed, measure the volume, weigh the food.",
    ),
  );
}

/** Most pairs that are listed; the file has all. */
const MOST_TIES = 6;

function ties({ summary, learned }: ForecastResult): Child {
  if (summary.ties.length === 0) return null;
  return h(
    "p",
    {},
    "The readings tie inputs together: ",
    summary.ties
      .slice(0, MOST_TIES)
      .map(
        ({ one, other, correlation }) =>
          `${one} with ${other} (${correlation > 0 ? "+" : "−"}${Math.abs(correlation).toFixed(2)})`,
      )
      .join(", "),
    summary.ties.length > MOST_TIES && `, and ${summary.ties.length - MOST_TIES} more`,
    ". Plus: where one is higher, the other is too; minus: the other is lower.",
    learned.length > 0 && " The updated scenario keeps these correlations under uncertain, together.",
  );
}

function inputsTable(result: ForecastResult): Child {
  const { inputs, summary } = result;
  const updated = summary.readings > 0;
  return [
    table(
      "The uncertain inputs",
      ["Input", "Assumed", ...(updated ? ["After the readings", "Spread left"] : []), "Why"],
      inputs.map(({ id, before, after, left, why }) => [id, before, ...(updated ? [after, percent(left)] : []), why]),
      {
        caption: "Early · likely · late, as a share of a mature colony (seed) or of what is written or usual",
        sources: [updated ? 4 : 2],
      },
    ),
    ties(result),
  ];
}

function residuals({ summary }: ForecastResult): Child {
  if (summary.readings === 0) return null;
  return [
    h(
      "p",
      {},
      `${kitWords}${summary.scale ? ` Your kit's scale is not written: the readings give the ion ${percent(summary.scale.ion)}, nitrogen ${percent(summary.scale.nitrogen)}.` : ""}`,
    ),
    table(
      "Each reading against the forecast",
      ["Day", "Kit", "Read", "Expected: early · likely · late", "Chance of such a reading"],
      summary.residuals.map(({ day, of, read, expected: { early, likely, late }, chance, odd }) => [
        plain(day),
        KINDS[of],
        shownValue(of, read),
        [early, likely, late].map((value) => shownValue(of, value)).join(" · "),
        of === "ph" || of === "alkalinity" ? (odd ? "odd" : "as expected") : `${percent(chance)}${odd ? ", odd" : ""}`,
      ]),
      { numbers: [0, 2, 4] },
    ),
  ];
}

const witnessText = ({ reading: { of, day, value }, times }: ReadingEvidence): string =>
  `${KINDS[of]} ${shownValue(of, value)} on day ${plain(day)} (${times >= 1 ? `${plain(Math.min(times, 999))} times likelier` : `${plain(Math.min(1 / times, 999))} times less likely`})`;

function explanationRow({ title, share, forIt, against, test }: Explanation): Child[] {
  return [
    percent(share),
    `${title.charAt(0).toUpperCase()}${title.slice(1)}.`,
    forIt.map(witnessText).join("; ") || "–",
    against.map(witnessText).join("; ") || "–",
    test ?? "Only time shows it.",
  ];
}

function causes({ diagnosis }: ForecastResult): Child {
  if (!diagnosis) return null;
  return [
    h("p", { class: "lead" }, h("b", {}, "The one test: "), diagnosis.test),
    table(
      "What may be wrong",
      ["Weight", "Explanation", "For it", "Against it", "Test"],
      diagnosis.explanations.slice(0, 6).map(explanationRow),
      { numbers: [0], caption: "Weights of the evidence among the causes that are tried, best first" },
    ),
    h(
      "p",
      { class: "note" },
      `Each cause is run with inputs of its own and judged by all readings together${diagnosis.power < 0.99 ? `; so that one lucky run does not decide, the evidence counts to the power ${diagnosis.power.toFixed(2)}` : ""}. How common each is is a guess. Two causes at once are not tried.`,
    ),
  ];
}

function powerCut({ hydraulics }: ForecastResult): Child {
  if (!hydraulics) return null;
  const { sentences, range } = hydraulics;
  const isFactor = (id: string): boolean => id in HYDRAULIC_FACTORS;
  const shown = (id: string, value: number): string =>
    isFactor(id) ? percent(value) : `${value < 0 ? "−" : "+"}${Math.abs(1000 * value).toFixed(0)} mm`;
  return [
    sentences.map((text) => h("p", {}, text)),
    table(
      "The uncertain hydraulics",
      ["Input", "Assumed", "Why"],
      range.inputs.map(({ id, range: { early, likely, late }, why }) => [
        id,
        [early, likely, late].map((value) => shown(id, value)).join(" · "),
        why,
      ]),
      {
        caption: `Early · likely · late of ${range.members} runs: as a share of what is written or usual, or added to it. Without faults; the page of the scenario has those`,
        sources: [2],
      },
    ),
  ];
}

export function forecastBody(page: ForecastPage): Child {
  const { result } = page;
  const updated = result.summary.readings > 0;
  const sections: readonly { readonly id: string; readonly title: string; readonly content: Child }[] = [
    { id: "answer", title: "The answer", content: answer(page) },
    { id: "causes", title: "What may be wrong", content: causes(result) },
    {
      id: "curves",

      title: "Curves",
      content: [
        h(
          "p",
          { class: "note" },
          `The band holds eight runs of ten, the line is the middle one.${updated ? " Dotted: the band before the readings. Upright strokes: your readings, as wide as their steps." : ""}`,
        ),
        result.summary.bands
          .filter(({ curve }) => ["tan", "no2", "no3"].includes(curve) || updated)
          .map((band) => h("figure", { class: "forecast-chart" }, bandChart(result, band))),
      ],
    },
    { id: "ranges", title: "Early, likely, late", content: ranges(result) },
    { id: "wide", title: "Why it is wide", content: whyWide(result) },
    { id: "readings", title: "Your readings", content: residuals(result) },
    { id: "inputs", title: "What is uncertain, and how much", content: inputsTable(result) },
    { id: "power-cut", title: "When the power fails", content: powerCut(result) },
    {
      id: "limits",

      title: "How it is computed, and its limits",
      content: h(
        "p",
        {},
        "Runs are weighted by how likely they make the readings, and where few count, further runs are drawn near those that do (adaptive importance sampling). It knows only causes that are among its inputs; a model that is wrong for your tank can still fit a few readings. Weights that rest on few runs are not claimed. Meals are spread over the day.",
      ),
    },
    {
      id: "cautions",

      title: "Cautions",
      content: cautionList(),
    },
  ].filter(({ content }) => content !== null);
  return [
    h("a", { class: "skip", href: "#answer" }, "Skip to the answer"),
    titleBlock(page),
    h(
      "main",
      { id: "main" },
      sections.map(({ id, title, content }) => titledSection(id, title, content)),
    ),
    h(
      "footer",
      {},
      h("p", {}, "Every number here is simulated from the scenario named below and its readings."),
      provenance(page),
    ),
  ];
}
