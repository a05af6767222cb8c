// The body of the page: name and question, the answer, tools, the other sections in order, and the provenance.
import type { RunResult } from "../scenarios/result/result.ts";
import { answerSection } from "./sections/answer.ts";
import { compareSection } from "./sections/compare.ts";
import { type Context, focused } from "./sections/context.ts";
import { curvesSection, driversSection } from "./sections/curves.ts";
import { faultsSection } from "./sections/faults.ts";
import { figuresSection } from "./sections/figures.ts";
import { glossarySection } from "./sections/glossary.ts";
import { letterhead, wordmark } from "./sections/letterhead.ts";
import { cautionsSection, methodSection } from "./sections/method.ts";
import { outageSection } from "./sections/outage.ts";
import { pictureSection } from "./sections/picture.ts";
import { trySection } from "./sections/try.ts";
import { sheetsSection } from "./sheets/sheets.ts";
import { toolsSection } from "./tools.ts";
import { findingsOf } from "./view/answer.ts";
import { type Child, h, type Markup } from "./view/markup.ts";
import { symbol } from "./view/symbols.ts";

/** The questions of all scenarios of a page, without repeats. */
export const questionsOf = (results: readonly RunResult[]): string =>
  [...new Set(results.map((r) => r.answer.question))].join(" ");

function titleBlock(c: Context, title: string): Markup {
  return h(
    "header",
    { class: "title-block" },
    letterhead(focused(c)),
    h("h1", {}, title),
    h("p", { class: "question" }, questionsOf(c.results)),
  );
}

/** Provenance of the page, as in the title block of an engineering drawing. */
function colophon(c: Context): Markup {
  const r = focused(c);
  const rows: readonly (readonly [string, string])[] = [
    ["Drawn from", c.results.length === 1 ? r.file : `${c.results.length} scenario files`],
    ["Random seed", r.seed],
    ["Tower", r.rig.towers.map((t) => `${t.media.kind}, ${t.distribution}`).join("; ") || "none"],
    ["Status", "simulation, not certified"],
  ];
  return h(
    "footer",
    {},
    h(
      "dl",
      { class: "colophon" },
      rows.map(([k, v]) => [h("dt", {}, k), h("dd", {}, v)]),
    ),
    h(
      "p",
      {},
      "Sumpwright simulates both halves of a wet-dry filter from one scenario file: when it turns ammonia into nitrate, and whether it keeps its water off the floor. Every number here is computed from the file named above.",
    ),
  );
}

/** Sections in the order of the page; a section is null when the result has nothing for it. */
export const SECTIONS = {
  compare: compareSection,
  answer: answerSection,
  tools: toolsSection,
  drawing: pictureSection,
  try: trySection,
  curves: curvesSection,
  drivers: driversSection,
  faults: faultsSection,
  outage: outageSection,
  figures: figuresSection,
  sheets: sheetsSection,
  method: methodSection,
  glossary: glossarySection,
  cautions: cautionsSection,
} as const satisfies Readonly<Record<string, (c: Context) => Markup | null>>;

export type SectionId = keyof typeof SECTIONS;

export const sections = (c: Context): Child => Object.values(SECTIONS).map((section) => section(c));

export const body = (c: Context, title: string): Child => [
  h("a", { class: "skip", href: "#answer" }, "Skip to the answer"),
  titleBlock(c, title),
  h("main", { id: "main" }, sections(c)),
  colophon(c),
];

/** The page without elements for the screen only, for use inside another page. */
export const onPaper = (c: Context, title: string): Child => [
  titleBlock(c, title),
  h("div", { class: "sections" }, sections(c)),
  colophon(c),
];

const LEVELS = ["alarm", "watch", "info"] as const;

/** The most urgent item: the first finding to act on, otherwise the most severe lead answer. */
const mostUrgent = (result: RunResult) =>
  findingsOf(result, "doNow")[0] ?? LEVELS.flatMap((level) => result.answer.lead.filter((lead) => lead.level === level))[0];

/** Body of the page that lists several scenarios. */
export function indexBody(entries: readonly { readonly href: string; readonly result: RunResult }[]): Child {
  return [
    h(
      "header",
      { class: "title-block" },
      wordmark(),
      h("h1", {}, entries.length === 1 ? "One scenario" : `${entries.length} scenarios`),
    ),
    h(
      "main",
      {},
      h(
        "ol",
        { class: "verdicts frame" },
        entries.map(({ href, result }) => {
          const first = mostUrgent(result);
          const level = first?.level ?? "info";
          return h(
            "li",
            { class: level },
            symbol(level),
            h("span", { class: "word" }, first?.word ?? "NOTE"),
            h(
              "div",
              { class: "body" },
              h("p", { class: "text" }, h("a", { href }, result.name)),
              h("p", { class: "advice" }, first?.text ?? result.answer.question),
            ),
          );
        }),
      ),
    ),
  ];
}
