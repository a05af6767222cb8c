// The body of the page: title block, tools, sections in order, footer.
import type { RunResult } from "../scenarios/result/result.ts";
import { compareSection } from "./sections/compare.ts";
import { type Context, focused } from "./sections/context.ts";
import { curvesSection } from "./sections/curves.ts";
import { faultsSection } from "./sections/faults.ts";
import { figuresSection } from "./sections/figures.ts";
import { cautionsSection, methodSection } from "./sections/method.ts";
import { pictureSection } from "./sections/picture.ts";
import { trySection } from "./sections/try.ts";
import { mostUrgent, verdictSection } from "./sections/verdict.ts";
import { sheetsSection } from "./sheets/sheets.ts";
import { type Child, h, type Markup } from "./view/markup.ts";
import { symbol } from "./view/symbols.ts";

const PLACES = [
  ["verdict", "Verdict"],
  ["drawing", "Drawing"],
  ["curves", "Curves"],
  ["faults", "Faults"],
  ["figures", "Figures"],
  ["sheets", "Sheets"],
  ["method", "Method"],
  ["cautions", "Cautions"],
] as const;

function titleBlock(c: Context, title: string): Markup {
  const r = focused(c);
  const one = c.results.length === 1;
  const rows: readonly (readonly [string, string])[] = [
    ["Drawn from", one ? r.file : `${c.results.length} scenario files`],
    ["Seed", r.seed],
    ["Tower", r.rig.towers.map((t) => `${t.media.kind}, ${t.distribution}`).join("; ") || "none"],
    ["Status", "simulation, not certified"],
  ];
  return h(
    "header",
    { class: "title-block" },
    h(
      "div",
      { class: "words" },
      h("p", { class: "wordmark" }, "Sumpwright"),
      h("h1", {}, title),
      h(
        "p",
        { class: "question" },
        one
          ? r.question
          : c.results
              .map((x) => x.question)
              .filter((q, i, all) => all.indexOf(q) === i)
              .join(" "),
      ),
    ),
    h(
      "dl",
      {},
      rows.map(([k, v]) => [h("dt", {}, k), h("dd", {}, v)]),
    ),
  );
}

const choice = (name: string, legend: string, options: readonly (readonly [string, string])[], chosen: string): Markup =>
  h(
    "fieldset",
    { class: "switch" },
    h("legend", {}, legend),
    options.map(([value, text]) =>
      h("label", {}, h("input", { type: "radio", name, value, checked: value === chosen }), h("span", {}, text)),
    ),
  );

function toolbar(c: Context): Markup {
  return h(
    "div",
    { class: "toolbar", role: "region", "aria-label": "Page and units" },
    h(
      "nav",
      { "aria-label": "On this page" },
      PLACES.map(([id, text]) => h("a", { href: `#${id}` }, text)),
    ),
    c.results.length > 1 &&
      h(
        "label",
        { class: "focus-pick" },
        h("span", {}, "Drawing and tables for "),
        h(
          "select",
          { id: "focus" },
          c.results.map((r, i) => h("option", { value: i, selected: i === c.focus }, r.name)),
        ),
      ),
    choice(
      "units",
      "Units",
      [
        ["metric", "mm · L · °C"],
        ["US", "in · gal · °F"],
      ],
      c.reader.units,
    ),
    choice(
      "basis",
      "Nitrogen",
      [
        ["kit", "as your kit"],
        ["N", "as N"],
        ["ion", "as ion"],
      ],
      c.reader.basis,
    ),
  );
}

/** Sections in the order of the page; each gives null when the result has nothing for it. */
export const SECTIONS = {
  verdict: verdictSection,
  drawing: pictureSection,
  try: trySection,
  curves: curvesSection,
  compare: compareSection,
  faults: faultsSection,
  figures: figuresSection,
  sheets: sheetsSection,
  method: methodSection,
  cautions: cautionsSection,
} as const satisfies Readonly<Record<string, (c: Context) => Markup | null>>;

export type SectionId = keyof typeof SECTIONS;

export const sections = (c: Context): Child => Object.values(SECTIONS).map((section) => section(c));

export const body = (c: Context, title: string): Child => [
  h("a", { class: "skip", href: "#verdict" }, "Skip to the verdict"),
  titleBlock(c, title),
  toolbar(c),
  h("main", { id: "main" }, sections(c)),
  h(
    "footer",
    {},
    h(
      "p",
      {},
      "Sumpwright computes both halves of a wet-dry filter from one scenario file: when it turns ammonia into nitrate, and whether it keeps its water off the floor. Every number here is simulated from the file named above.",
    ),
  ),
];

/** Body of the page that lists many scenarios. */
export function indexBody(entries: readonly { readonly href: string; readonly result: RunResult }[]): Child {
  return [
    h(
      "header",
      { class: "title-block" },
      h(
        "div",
        { class: "words" },
        h("p", { class: "wordmark" }, "Sumpwright"),
        h("h1", {}, entries.length === 1 ? "One scenario" : `${entries.length} scenarios`),
      ),
    ),
    h(
      "main",
      {},
      h(
        "ol",
        { class: "verdicts frame" },
        entries.map(({ href, result }) => {
          const first = mostUrgent(result.findings);
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
              h("p", { class: "advice" }, first?.text ?? result.question),
            ),
          );
        }),
      ),
    ),
  ];
}
