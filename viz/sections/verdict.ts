// First on the page: what it comes to, in sentences with a number that a ruler or a kit can check. Alarms first.
import type { Finding, Level, RunResult } from "../../scenarios/result/result.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { findingWords, type Reader } from "../view/reader.ts";
import { symbol } from "../view/symbols.ts";
import type { Context } from "./context.ts";

const ORDER: Readonly<Record<Level, number>> = { alarm: 0, watch: 1, info: 2 };

/** The answers to the three questions that people come with: when is it ready, what does the stock do, does the sump hold. */
export const ANSWERS: readonly string[] = ["ready", "capacity", "step", "power-cut"];
const rank = (f: Finding): number => (ANSWERS.includes(f.id) ? -1 : ORDER[f.level]);

/** The answers, then alarm, watch and the rest; otherwise in the order in which they were found. */
export const byUrgency = (findings: readonly Finding[]): readonly Finding[] =>
  findings
    .map((f, i) => ({ f, i }))
    .sort((a, b) => rank(a.f) - rank(b.f) || a.i - b.i)
    .map(({ f }) => f);

/** The one that cannot wait. */
export const mostUrgent = (findings: readonly Finding[]): Finding | undefined =>
  [...findings].sort((a, b) => ORDER[a.level] - ORDER[b.level])[0];

function verdictItem(f: Finding, result: RunResult, reader: Reader): Markup {
  const { text, advice } = findingWords(reader, result, f);
  return h(
    "li",
    { class: f.level, "data-finding": f.id },
    symbol(f.level),
    h("span", { class: "word" }, f.word, " ", h("span", { class: "topic" }, f.topic)),
    h("div", { class: "body" }, h("p", { class: "text" }, text), advice !== "" && h("p", { class: "advice" }, advice)),
  );
}

/** How many of the milder sentences show before the rest are folded away. */
const SHOWN = 7;

export function verdictList(result: RunResult, reader: Reader): Child {
  const item = (f: Finding): Markup => verdictItem(f, result, reader);
  const list = byUrgency(result.findings);
  const urgent = list.filter((f) => f.level !== "info" || ANSWERS.includes(f.id)).length;
  const cut = Math.max(SHOWN, urgent);
  const rest = list.slice(cut);
  return [
    h("ol", { class: "verdicts frame" }, list.slice(0, cut).map(item)),
    rest.length > 0 &&
      h(
        "details",
        {},
        h("summary", {}, `${rest.length} more ${rest.length === 1 ? "finding" : "findings"}`),
        h("ol", { class: "verdicts" }, rest.map(item)),
      ),
  ];
}

export function verdictSection(c: Context): Markup {
  const many = c.results.length > 1;
  return h(
    "section",
    { id: "verdict", "aria-labelledby": "verdict-title" },
    h("h2", { id: "verdict-title" }, "What it comes to"),
    c.changed
      ? h(
          "div",
          {},
          h("p", { class: "lead" }, "With your changes. The first run is kept as a thin line in the charts."),
          verdictList(c.changed, c.reader),
        )
      : c.results.map((r) => h("div", { class: "verdict-of" }, many && h("h3", {}, r.name), verdictList(r, c.reader))),
  );
}
