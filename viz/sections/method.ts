// How it is computed: what was assumed, the process matrix, the parameters, and where each comes from. Then the cautions.
import { type Child, h, type Markup } from "../markup.ts";
import { figure, number } from "../reader.ts";
import { type Context, focused } from "./context.ts";
import { scroll } from "./tables.ts";

/** A longer list of assumed values is folded. */
const MANY = 12;

export function methodSection(c: Context): Markup {
  const r = focused(c);
  const components = [...new Set(r.method.processes.flatMap((p) => p.stoichiometry.map((s) => s.component)))];
  const coefficient = (v: number | undefined): string =>
    v === undefined || v === 0 ? "" : (v < 0 ? "−" : "") + figure(c.reader, Math.abs(v));
  return h(
    "section",
    { id: "method", "aria-labelledby": "method-title" },
    h("h2", { id: "method-title" }, "Assumptions, equations and sources"),
    r.warnings.length > 0 && [
      h("h3", {}, "Unusual in this scenario"),
      h(
        "ul",
        {},
        r.warnings.map((w) => h("li", {}, w)),
      ),
    ],
    h("h3", {}, "What you did not say, and what was taken instead"),
    r.defaults.length > 0
      ? h(
          "details",
          { class: "method", open: r.defaults.length <= MANY },
          h("summary", {}, `${r.defaults.length} values`),
          scroll(
            "Assumed values",
            h(
              "table",
              {},
              h(
                "thead",
                {},
                h(
                  "tr",
                  {},
                  ["In the scenario", "Taken as", "Why"].map((t) => h("th", { scope: "col" }, t)),
                ),
              ),
              h(
                "tbody",
                {},
                r.defaults.map((d) => h("tr", {}, h("th", { scope: "row" }, d.key), h("td", {}, d.value), h("td", {}, d.why))),
              ),
            ),
          ),
        )
      : h("p", {}, "Nothing: the scenario says it all."),
    r.method.notes.length > 0 && [
      h("h3", {}, "The model in words"),
      h(
        "ul",
        {},
        r.method.notes.map((n) => h("li", {}, n)),
      ),
    ],
    r.method.processes.length > 0 &&
      h(
        "details",
        { class: "method" },
        h("summary", {}, `Process matrix: ${r.method.processes.length} processes`),
        scroll(
          "Process matrix",
          h(
            "table",
            { class: "gujer" },
            h(
              "thead",
              {},
              h(
                "tr",
                {},
                h("th", { scope: "col" }, "Process"),
                h("th", { scope: "col" }, "Rate"),
                components.map((k) => h("th", { scope: "col", class: "n" }, k)),
                h("th", { scope: "col" }, "Source"),
              ),
            ),
            h(
              "tbody",
              {},
              r.method.processes.map((p) =>
                h(
                  "tr",
                  {},
                  h("th", { scope: "row" }, p.name),
                  h("td", {}, p.rate),
                  components.map((k) =>
                    h("td", { class: "n" }, coefficient(p.stoichiometry.find((s) => s.component === k)?.coefficient)),
                  ),
                  h("td", { class: "sources" }, p.source),
                ),
              ),
            ),
          ),
        ),
      ),
    r.method.parameters.length > 0 &&
      h(
        "details",
        { class: "method" },
        h("summary", {}, `Parameters: ${r.method.parameters.length}`),
        scroll(
          "Parameters",
          h(
            "table",
            {},
            h(
              "thead",
              {},
              h(
                "tr",
                {},
                h("th", { scope: "col" }, "Symbol"),
                h("th", { scope: "col" }, "Meaning"),
                h("th", { scope: "col", class: "n" }, "Value"),
                h("th", { scope: "col" }, "Unit"),
                h("th", { scope: "col" }, "Source"),
              ),
            ),
            h(
              "tbody",
              {},
              r.method.parameters.map((p) =>
                h(
                  "tr",
                  {},
                  h("th", { scope: "row" }, p.symbol),
                  h("td", {}, p.meaning),
                  h("td", { class: "n" }, parameterValue(p.value, c)),
                  h("td", {}, p.unit),
                  h("td", { class: "sources" }, p.source),
                ),
              ),
            ),
          ),
        ),
      ),
    h(
      "details",
      { class: "method" },
      h("summary", {}, "The scenario file"),
      h("div", { class: "actions" }, h("button", { type: "button", "data-data": "scenario" }, "Save the scenario file")),
      h("pre", { tabindex: 0, role: "region", "aria-label": "Scenario file" }, h("code", {}, r.source)),
    ),
    h(
      "p",
      { class: "note" },
      `Computed in ${number(c.reader, r.statistics.steps)} steps (${number(c.reader, r.statistics.rejected)} repeated), ${number(c.reader, r.statistics.derivatives)} evaluations of the rates, ${number(c.reader, r.statistics.hydraulicRuns)} hydraulic runs. Seed ${r.seed}: the same file and seed give the same numbers.`,
    ),
  );
}

const parameterValue = (v: number, c: Context): string =>
  v !== 0 && (Math.abs(v) < 1e-3 || Math.abs(v) >= 1e6) ? v.toExponential(2) : figure(c.reader, v);

export function cautionsSection(c: Context): Markup {
  const r = focused(c);
  const list: Child = r.cautions.map((k) => h("li", {}, h("strong", {}, `${k.title}. `), k.text));
  return h(
    "section",
    { id: "cautions", "aria-labelledby": "cautions-title" },
    h("h2", { id: "cautions-title" }, "Cautions"),
    h(
      "p",
      { class: "lead" },
      "This is a simulation. It states what it assumed; it does not see leaks, structure, wiring or disease.",
    ),
    h("ul", { class: "cautions" }, list),
  );
}
