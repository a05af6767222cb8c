// Method: assumptions, process matrix and parameters with their sources; then the cautions.
import type { RunResult } from "../../scenarios/result/result.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { figure, number, type Reader } from "../view/reader.ts";
import { type Context, focused } from "./context.ts";
import { fold } from "./fold.ts";
import { table } from "./table.ts";

/** A list of assumed values longer than this is folded. */
const MANY = 12;

type Processes = RunResult["method"]["processes"];

const folded = (summary: string, open: boolean, ...children: Child[]): Markup =>
  h("details", { class: "method", open }, h("summary", {}, summary), children);

const signed = (reader: Reader, v: number): string => (v < 0 ? "−" : "") + figure(reader, Math.abs(v));

/** Rows are processes, columns are components, as in the activated sludge models (Henze et al. 2000). */
function processMatrix(processes: Processes, reader: Reader): Markup {
  const components = [...new Set(processes.flatMap((p) => p.stoichiometry.map((s) => s.component)))];
  return table(
    "Process matrix",
    ["Process", "Rate", ...components, "Source"],
    processes.map((p) => [
      p.name,
      p.rate,
      ...components.map((k) => {
        const v = p.stoichiometry.find((s) => s.component === k)?.coefficient ?? 0;
        return v === 0 ? "" : signed(reader, v);
      }),
      p.source,
    ]),
    { looks: "gujer", numbers: components.map((_, i) => i + 2), sources: [components.length + 2] },
  );
}

/** The same for paper, which is too narrow for the matrix: one paragraph per process. */
const processList = (processes: Processes, reader: Reader): Markup =>
  h(
    "ol",
    { class: "processes print-only" },
    processes.map((p) =>
      h(
        "li",
        {},
        h("strong", {}, p.name),
        h("div", {}, `Rate: ${p.rate}`),
        h("div", {}, `Moves: ${p.stoichiometry.map((s) => `${signed(reader, s.coefficient)} ${s.component}`).join(", ")}`),
        h("div", { class: "sources" }, p.source),
      ),
    ),
  );

const list = (items: readonly string[]): Markup =>
  h(
    "ul",
    {},
    items.map((item) => h("li", {}, item)),
  );

export function methodSection(c: Context): Markup {
  const r = focused(c);
  const { reader } = c;
  const { processes, parameters, notes } = r.method;
  return fold(c, {
    id: "method",
    title: "Assumptions, equations and sources",
    gist: `${r.defaults.length} assumed values, ${processes.length} processes, ${parameters.length} parameters`,
    // Without scripts a comparison omits it: the page would become too large to send, and each scenario has a page of its own.
    again: c.results.length > 1,
    contents: () => [
      r.warnings.length > 0 && [h("h3", {}, "Unusual in this scenario"), list(r.warnings)],
      h("h3", { id: "assumptions" }, "Values that the file does not give, and what was used instead"),
      r.defaults.length > 0
        ? folded(
            `${r.defaults.length} values`,
            r.defaults.length <= MANY,
            table(
              "Assumed values",
              ["In the scenario", "Value used", "Why"],
              r.defaults.map((d) => [d.key, d.value, d.why]),
              { looks: "keys" },
            ),
          )
        : h("p", {}, "None: the scenario gives every value."),
      notes.length > 0 && [h("h3", {}, "The model in words"), list(notes)],
      h("h3", { id: "equations" }, "Equations and their sources"),
      processes.length > 0 &&
        folded(
          `Process matrix: ${processes.length} processes`,
          false,
          processMatrix(processes, reader),
          processList(processes, reader),
        ),
      parameters.length > 0 &&
        folded(
          `Parameters: ${parameters.length}`,
          false,
          table(
            "Parameters",
            ["Symbol", "Meaning", "Value", "Unit", "Source"],
            parameters.map((p) => [p.symbol, p.meaning, parameterValue(p.value, reader), p.unit, p.source]),
            { numbers: [2], sources: [4] },
          ),
        ),
      h("h3", { id: "scenario-file" }, "The scenario file"),
      h("div", { class: "actions" }, h("button", { type: "button", "data-data": "scenario" }, "Save the scenario file")),
      h("pre", { tabindex: 0, role: "region", "aria-label": "Scenario file" }, h("code", {}, r.source)),
      h(
        "p",
        { class: "note" },
        `Computed in ${number(reader, r.statistics.steps)} steps (${number(reader, r.statistics.rejected)} of them repeated) with ${number(reader, r.statistics.derivatives)} evaluations of the rates and ${number(reader, r.statistics.hydraulicRuns)} hydraulic runs. Random seed ${r.seed}: the same file and the same random seed give the same numbers.`,
      ),
    ],
  });
}

const parameterValue = (v: number, reader: Reader): string =>
  v !== 0 && (Math.abs(v) < 1e-3 || Math.abs(v) >= 1e6) ? v.toExponential(2) : figure(reader, v);

export function cautionsSection(c: Context): Markup {
  const r = focused(c);
  return fold(c, {
    id: "cautions",
    title: "Cautions",
    gist: r.cautions.map((k) => k.title.toLowerCase()).join(", "),
    contents: () => [
      h(
        "p",
        { class: "lead" },
        "This is a simulation. It states what it assumed. It does not know about leaks, structure, wiring or disease.",
      ),
      h(
        "ul",
        { class: "cautions" },
        r.cautions.map((k) => h("li", {}, h("strong", {}, `${k.title}. `), k.text)),
      ),
    ],
  });
}
