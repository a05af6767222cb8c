// The body of a study's page: the answer first, then the map, the parallel-coordinates plot, the indices, the best and
// worst points, all figures.
import type { PointSummary, StudySummary } from "../../scenarios/study/summary.ts";
import { capital } from "../../scenarios/text/message.ts";
import { cautionList, titledSection } from "../sections/page-parts.ts";
import { table } from "../sections/table.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { heatMap } from "./heat-map.ts";
import { indicesView } from "./indices.ts";
import { parallelView } from "./parallel.ts";
import { type Readings, readingsOf } from "./words.ts";

export interface StudyPage {
  readonly summary: StudySummary;
  /** Version of the program, and hash of the study's texts. */
  readonly program: string;
  readonly id: string;
  /** Addresses of the pages of single points, by point number; a point without a page has no link. */
  readonly pages: ReadonlyMap<number, string>;
  /** Names of the tables in the same folder. */
  readonly files: readonly string[];
}

const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** Columns by which people compare points: numbers and verdicts. Severities and curves are only in the files. */
const mainColumns = ({ columns }: StudySummary): readonly number[] =>
  columns
    .flatMap(({ column: { from } }, c) =>
      (from.is === "curve" && typeof from.at === "number") || (from.is === "finding" && from.part === "level") ? [] : [c],
    )
    .slice(0, 8);

function titleBlock({ summary }: StudyPage): Markup {
  return h(
    "header",
    { class: "title-block" },
    h(
      "div",
      { class: "words" },
      h("p", { class: "wordmark" }, "Sumpwright"),
      h("h1", {}, summary.name),
      summary.question !== "" && h("p", { class: "question" }, summary.question),
    ),
  );
}

/** Where the numbers come from, in one line at the end. */
function provenance({ summary, program }: StudyPage): Markup {
  const base = summary.scenarios.length === 1 ? summary.scenarios[0].name : count(summary.scenarios.length, "scenario");
  return h(
    "p",
    { class: "provenance" },
    `${summary.file}: ${base}, ${summary.design}, ${count(summary.points, "point")}, random seed ${summary.seed}, ${program}.`,
  );
}

function answer(summary: StudySummary, { outcomes }: Readings): Child {
  const { rank, columns, best, failed, points } = summary;
  const reading = outcomes[rank.column];
  const { quantiles, count: have } = columns[rank.column];
  const verdicts = columns.flatMap(({ column, words }) =>
    column.from.is === "fault" && column.from.part === "verdict" && words ? [{ column, words }] : [],
  );
  return [
    quantiles &&
      h(
        "p",
        {},
        `Over ${count(points, "point")}, ${reading.title} lies between ${reading.number(quantiles[0])} and ${reading.number(quantiles[4])}; nine points in ten lie between ${reading.number(quantiles[1])} and ${reading.number(quantiles[3])}, and the median is ${reading.number(quantiles[2])}.`,
        best[0] ? ` The ${rank.best} is at point ${best[0].point}.` : "",
      ),
    !quantiles && h("p", {}, `No point has a number for ${reading.title}.`),
    points - failed > have &&
      h(
        "p",
        {},
        `${count(points - failed - have, "point has", "points have")} no such number, and ${points - failed - have === 1 ? "counts" : "count"} as worse than all others.`,
      ),
    verdicts.map(({ column, words }) =>
      h(
        "p",
        {},
        `${capital(column.name.replace(/ verdict$/, ""))}: ${column
          .labels!.map((word, i) => `${words[i]} of ${points - failed} ${word}`)
          .filter((_, i) => words[i] > 0)
          .join(", ")}.`,
      ),
    ),
    failed > 0 && h("p", {}, `${count(failed, "point")} could not be run; the reasons are under “Figures”.`),
  ];
}

function designs({ summary, pages }: StudyPage, { inputs, outcomes }: Readings): Markup | null {
  const { best, worst, rank } = summary;
  if (best.length === 0) return null;
  const shown = mainColumns(summary);
  const varied = inputs.flatMap((_, i) =>
    new Set([...best, ...worst, ...summary.lines].map((point) => point.inputs[i])).size > 1 ? [i] : [],
  );
  const row = (point: PointSummary): Child[] => {
    const page = pages.get(point.point);
    return [
      page ? h("a", { href: page }, `Point ${point.point}`) : `Point ${point.point}`,
      ...varied.map((i) => inputs[i].number(point.inputs[i], 4)),
      ...shown.map((c) => outcomes[c].number(point.outcomes[c])),
    ];
  };
  const heads = ["Point", ...varied.map((i) => inputs[i].title), ...shown.map((c) => outcomes[c].title)];
  const numbers = heads.map((_, i) => i).slice(1);
  const by = `${rank.best} ${outcomes[rank.column].title} first`;
  return h(
    "div",
    { class: "designs" },
    table("The best points", heads, best.map(row), { caption: `The best: ${by}`, numbers }),
    worst.length > 0 && table("The worst points", heads, worst.map(row), { caption: "The worst, worst first", numbers }),
    pages.size > 0 &&
      h(
        "p",
        { class: "note" },
        "A point with a link has a page of its own, with its drawing, curves and faults, and beside that its scenario file. These pages show the likely run; the command run adds the early and late bands.",
      ),
  );
}

function figures({ summary, files, id }: StudyPage, { inputs, outcomes }: Readings): Child {
  const numbers = summary.columns.flatMap(({ quantiles, count: have }, c) =>
    quantiles ? [[outcomes[c].title, ...quantiles.map((value) => outcomes[c].number(value)), String(have)]] : [],
  );
  const words = summary.columns.flatMap(({ column, words }) =>
    words ? [[column.name, column.labels!.map((word, i) => `${word} ${words[i]}`).join(", ")]] : [],
  );
  return [
    table("Recorded numbers", ["Recorded", "lowest", "5 %", "median", "95 %", "highest", "points"], numbers, {
      numbers: [1, 2, 3, 4, 5, 6],
    }),
    words.length > 0 && table("Recorded words", ["Recorded", "How often"], words),
    summary.reasons.length > 0 &&
      table(
        "Why points could not be run",
        ["Why a point could not be run", "points"],
        summary.reasons.map(({ reason, count: n }) => [reason, String(n)]),
        { numbers: [1] },
      ),
    table(
      "What was varied",
      ["Varied", "values"],
      inputs.map((reading) => [reading.title, reading.field.labels ? shortList(reading.field.labels) : "numbers"]),
    ),
    h(
      "p",
      {},
      "All points lie beside this page: ",
      files.map((file, i) => [i > 0 && ", ", h("code", {}, file)]),
      ". Their metadata carry the units and the hashes of the study and its scenarios.",
    ),
    h("p", { class: "sources" }, `Study ${id.slice(0, 12)}. Quantiles are known to 0.2 % of themselves.`),
  ];
}

const shortList = (labels: readonly string[]): string =>
  labels.length > 8 ? `${labels.slice(0, 7).join(", ")} and ${labels.length - 7} more` : labels.join(", ");

export function studyBody(page: StudyPage): Child {
  const { summary } = page;
  const readings = readingsOf(summary);
  const sections = [
    { id: "answer", word: "Answer", title: "The answer", content: answer(summary, readings) },
    { id: "map", word: "Map", title: "Outcome over two inputs", content: heatMap(summary, readings) },
    { id: "indices", word: "Inputs", title: "Which input decides", content: indicesView(summary, readings) as Child },
    { id: "points", word: "Points", title: "Many points at once", content: parallelView(summary, readings) },
    { id: "designs", word: "Best and worst", title: "The best and the worst", content: designs(page, readings) },
    { id: "figures", word: "Figures", title: "Figures", content: figures(page, readings) },
    {
      id: "cautions",
      word: "Cautions",
      title: "Cautions",
      content: cautionList() as Child,
    },
  ].filter(({ content }) => content !== null);
  return [
    h("a", { class: "skip", href: "#answer" }, "Skip to the answer"),
    titleBlock(page),
    h(
      "div",
      { class: "toolbar" },
      h(
        "nav",
        { "aria-label": "On this page" },
        sections.map(({ id, word }) => h("a", { href: `#${id}` }, word)),
      ),
    ),
    h(
      "main",
      { id: "main" },
      sections.map(({ id, title, content }) => titledSection(id, title, content)),
    ),
    h(
      "footer",
      {},
      h(
        "p",
        {},
        "Every number here is simulated from the study and scenario files named above. A study shows what the model answers to; it does not make the model truer.",
      ),
      provenance(page),
    ),
  ];
}
