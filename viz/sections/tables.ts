// Tables of the two models: faults and pairs, fill marks, remedies, checks, head budget; surfaces, balance, what moves the answer.
import type { HydraulicResult, RunResult } from "../../scenarios/result.ts";
import { drawLedger, drawSurfaces } from "../charts/bars.ts";
import { clockWords, drawClocks } from "../charts/clocks.ts";
import { type Child, h, type Markup } from "../markup.ts";
import { duration, figure, flow, length, mass, number, type Reader, volume } from "../reader.ts";
import { levelOfVerdict, symbol } from "../symbols.ts";
import { type Context, focused } from "./context.ts";

export const scroll = (label: string, table: Markup): Markup =>
  h("div", { class: "table-scroll", tabindex: 0, role: "region", "aria-label": label }, table);

type Cell = HydraulicResult["matrix"][number];

const cellOf = (matrix: readonly Cell[], a: string, b: string): Cell | undefined =>
  matrix.find((m) => (m.a === a && m.b === b) || (m.a === b && m.b === a));

function matrixCell(cell: Cell, names: string, reader: Reader): Markup {
  const floods = cell.verdict === "FLOODS";
  const number = floods ? volume(reader, cell.floorM3) : length(reader, cell.marginM);
  const detail = floods
    ? `${number} on the floor${cell.floorAfterS === null ? "" : `, first drop after ${duration(reader, cell.floorAfterS)}`}`
    : `${number} to spare`;
  return h(
    "td",
    { class: cell.verdict },
    h(
      "button",
      {
        type: "button",
        "data-faults": cell.a === cell.b ? cell.a : `${cell.a}|${cell.b}`,
        "aria-label": `${names}: ${cell.verdict}, ${detail}. Play it`,
        title: detail,
      },
      h("span", { class: `verdict-word v-${cell.verdict}` }, cell.verdict),
      h("small", {}, number),
    ),
  );
}

const ORDINARY: Readonly<Record<number, string>> = { 3: "expect it", 2: "happens", 1: "rare" };

/** Half a square: each fault alone in the first column, each pair once; the columns are headed by the numbers of the rows. */
export function faultMatrix(h8: HydraulicResult, reader: Reader): Markup {
  const { faults, matrix } = h8;
  const partners = faults.slice(0, -1);
  return h(
    "table",
    { class: "matrix" },
    h("caption", {}, "Each fault alone, and with each other: what is to spare, or what lands on the floor"),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        h("th", { scope: "col" }, "Fault"),
        h("th", { scope: "col" }, "alone"),
        partners.map((f, i) => h("th", { scope: "col", title: f.name }, `and ${i + 1}`)),
      ),
    ),
    h(
      "tbody",
      {},
      faults.map((f, i) => {
        const alone = cellOf(matrix, f.id, f.id);
        return h(
          "tr",
          {},
          h(
            "th",
            { scope: "row" },
            h(
              "span",
              { class: "fault" },
              h("span", { class: "fault-number" }, i + 1),
              h("span", {}, f.name, h("small", {}, ORDINARY[f.ordinary])),
            ),
          ),
          alone ? matrixCell(alone, f.name, reader) : h("td", {}, "–"),
          partners.map((g, k) => {
            if (k >= i) return h("td", { class: "empty" });
            const cell = cellOf(matrix, f.id, g.id);
            return cell ? matrixCell(cell, `${f.name} and ${g.name}`, reader) : h("td", {}, "–");
          }),
        );
      }),
    ),
  );
}

export const markLength = (reader: Reader, m: number | null): string =>
  m === null ? "no level passes" : length(reader, m, true);

export function fillMarks(r: RunResult, reader: Reader): Markup {
  const m = r.hydraulics.marks;
  const fromRim = (level: number | null): string => (level === null ? "–" : length(reader, m.sumpRimM - level, true));
  const row = (word: string, level: number | null, why: string): Markup =>
    h(
      "tr",
      {},
      h("th", { scope: "row" }, word),
      h("td", {}, markLength(reader, level)),
      h("td", {}, fromRim(level)),
      h("td", {}, why),
    );
  return h(
    "table",
    {},
    h("caption", {}, "Marks for the glass of the return chamber"),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        ["Mark", "Above the sump bottom", "Below the rim", "What it means"].map((t) => h("th", { scope: "col" }, t)),
      ),
    ),
    h(
      "tbody",
      {},
      row("MAX FILL", m.maxRunningUntrustedM, "highest running level that stays in with the break hole blocked"),
      row("MAX FILL, hole trusted", m.maxRunningTrustedM, "only if you clean and test the hole"),
      row("RUNNING now", m.runningM, "as in the scenario"),
      row("OFF", m.offLevelM, "where it should stop when the power goes"),
      row("MIN", m.minRunningM, "below this the pump draws air"),
    ),
  );
}

/** How well a balance closes, in words. */
export const closeness = (share: number): string =>
  share < 1e-12
    ? "to a millionth of a millionth"
    : share < 1e-9
      ? "to better than a thousand-millionth"
      : share < 1e-6
        ? "to better than a millionth"
        : `only to ${share.toExponential(0)}`;

const yes = (ok: boolean | null): Child =>
  ok === null
    ? h("span", {}, "not known")
    : h("span", { class: ok ? "v-HOLDS" : "v-TIGHT" }, h("strong", {}, ok ? "met" : "not met"));

function fuseSentence(r: RunResult, reader: Reader): string {
  const { fuseM3, displayHeadroomM3 } = r.hydraulics.marks;
  return `If the drain blocks while running, the pump can lift ${volume(reader, fuseM3, true)} before it draws air; the displays have room for ${volume(reader, displayHeadroomM3, true)}. ${fuseM3 <= displayHeadroomM3 ? "The pump runs dry first, and the floor stays dry." : "The display spills first."}`;
}

export function powerSection(c: Context): Markup {
  const r = focused(c);
  const h8 = r.hydraulics;
  return h(
    "section",
    { id: "faults", "aria-labelledby": "faults-title" },
    h("h2", { id: "faults-title" }, "What can go wrong with the water"),
    h("p", { class: "lead" }, "Real floods are mostly two ordinary faults at once. Choose a cell to play it in the drawing."),
    h8.faults.length > 0 && scroll("Verdict of each fault and each pair", faultMatrix(h8, c.reader)),
    scroll("Fill marks", fillMarks(r, c.reader)),
    h("p", {}, fuseSentence(r, c.reader)),
    h8.remedies.length > 0 && [
      h("h3", {}, "What would make it hold, easiest first"),
      h(
        "ol",
        { class: "remedies" },
        [...h8.remedies]
          .sort((a, b) => a.ease - b.ease)
          .map((m) => h("li", {}, h("strong", {}, m.text), m.result ? `: ${m.result}` : "")),
      ),
    ],
    r.outage.length > 0 && [
      h("h3", {}, "How long what lives"),
      h("p", { class: "lead" }, "Three clocks, not one. The dotted line inside a block is its latest time."),
      h("div", { "data-figure": "clocks" }, drawClocks(r.outage, c.width, c.reader)),
      scroll(
        "Clocks of a power cut",
        h(
          "table",
          {},
          h(
            "thead",
            {},
            h(
              "tr",
              {},
              ["Clock", "When", "Why", "Source"].map((t) => h("th", { scope: "col" }, t)),
            ),
          ),
          h(
            "tbody",
            {},
            r.outage.map((k) =>
              h(
                "tr",
                {},
                h("th", { scope: "row" }, k.name),
                h("td", {}, clockWords(k, c.reader)),
                h("td", {}, k.why),
                h("td", { class: "sources" }, k.source),
              ),
            ),
          ),
        ),
      ),
    ],
  );
}

function ledgerTable(ledger: RunResult["nitrogen"]["ledger"], reader: Reader): Markup {
  const group = (name: string, list: typeof ledger.in): Child => {
    const rows = list.filter((r) => r.gN !== 0);
    return rows.map((r, i) =>
      h(
        "tr",
        {},
        i === 0 && h("th", { scope: "rowgroup", rowspan: rows.length }, name),
        h("td", {}, r.label),
        h("td", { class: "n" }, figure(reader, r.gN)),
      ),
    );
  };
  return h(
    "table",
    {},
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        h("th", { scope: "col" }, "Side"),
        h("th", { scope: "col" }, "Nitrogen"),
        h("th", { scope: "col", class: "n" }, "g"),
      ),
    ),
    [group("In", ledger.in), group("Out", ledger.out), group("Gained in store", ledger.stored)].map((rows) =>
      h("tbody", {}, rows),
    ),
  );
}

export function figuresSection(c: Context): Markup {
  const r = focused(c);
  const { hydraulics: h8, nitrogen } = r;
  const { reader } = c;
  const half = c.width >= 900 ? Math.floor((c.width - 51) / 2) : c.width;
  return h(
    "section",
    { id: "figures", "aria-labelledby": "figures-title" },
    h("h2", { id: "figures-title" }, "Figures"),
    nitrogen.surfaces.length > 0 && [
      h("h3", {}, "Working surface: needed and available"),
      h("div", { "data-figure": "surfaces" }, drawSurfaces(nitrogen.surfaces, c.width, reader)),
    ],
    h("h3", {}, "Where the nitrogen went"),
    h("div", { "data-figure": "ledger" }, drawLedger(nitrogen.ledger, c.width, reader)),
    scroll("Nitrogen balance", ledgerTable(nitrogen.ledger, reader)),
    h(
      "p",
      { class: "note" },
      `In and out agree ${closeness(nitrogen.ledger.imbalance)} of what came in; the water of the power cut ${closeness(h8.waterImbalance)} of what is there.`,
    ),
    h(
      "div",
      { class: "columns", "data-half": half },
      scroll(
        "Running state",
        h(
          "table",
          {},
          h("caption", {}, "Running"),
          h(
            "tbody",
            {},
            h(
              "tr",
              {},
              h("th", { scope: "row" }, "Flow through the pump"),
              h("td", { class: "n" }, flow(reader, h8.running.pumpFlowM3PerS, true)),
            ),
            h(
              "tr",
              {},
              h("th", { scope: "row" }, "Whole system through the pump"),
              h("td", { class: "n" }, `${number(reader, h8.running.turnoverPerHour, 1)} times an hour`),
            ),
            h(
              "tr",
              {},
              h("th", { scope: "row" }, "Drain capacity in hand"),
              h("td", { class: "n" }, `${number(reader, h8.running.drainInHandShare * 100)} %`),
            ),
          ),
        ),
      ),
      scroll(
        "Head budget",
        h(
          "table",
          {},
          h("caption", {}, "What the pump works against"),
          h(
            "tbody",
            {},
            h8.running.headBudget.map((p) =>
              h("tr", {}, h("th", { scope: "row" }, p.part), h("td", { class: "n" }, length(reader, p.headM))),
            ),
          ),
          h(
            "tfoot",
            {},
            h(
              "tr",
              {},
              h("th", { scope: "row" }, "Sum"),
              h(
                "td",
                { class: "n" },
                length(
                  reader,
                  h8.running.headBudget.reduce((s, p) => s + p.headM, 0),
                ),
              ),
            ),
          ),
        ),
      ),
      scroll(
        "Wet mass",
        h(
          "table",
          {},
          h("caption", {}, "Mass on the floor, filled"),
          h(
            "tbody",
            {},
            h8.load.parts.map((p) => h("tr", {}, h("th", { scope: "row" }, p.part), h("td", { class: "n" }, mass(reader, p.kg)))),
          ),
          h(
            "tfoot",
            {},
            h("tr", {}, h("th", { scope: "row" }, "Together"), h("td", { class: "n" }, mass(reader, h8.load.totalKg))),
            h8.load.kPa !== null &&
              h(
                "tr",
                {},
                h("th", { scope: "row" }, "Pressure under the stand"),
                h(
                  "td",
                  { class: "n" },
                  `${number(reader, h8.load.kPa, 1)} kPa (${number(reader, h8.load.lbPerFt2 ?? 0)} lb/ft²)`,
                ),
              ),
          ),
        ),
      ),
      h8.fit.length > 0 &&
        scroll(
          "Fit",
          h(
            "table",
            {},
            h("caption", {}, "Does it fit"),
            h(
              "tbody",
              {},
              h8.fit.map((f) => h("tr", {}, h("th", { scope: "row" }, f.text), h("td", {}, yes(f.ok)))),
            ),
          ),
        ),
    ),
    h8.checks.length > 0 &&
      scroll(
        "Rules of the trade",
        h(
          "table",
          {},
          h("caption", {}, "Rules of the trade beside the physics"),
          h(
            "thead",
            {},
            h(
              "tr",
              {},
              ["Check", "Rule", "Here", "", "Source"].map((t) =>
                h("th", { scope: "col" }, t === "" ? h("span", { class: "visually-hidden" }, "Met") : t),
              ),
            ),
          ),
          h(
            "tbody",
            {},
            h8.checks.map((k) =>
              h(
                "tr",
                {},
                h("th", { scope: "row" }, k.name),
                h("td", {}, k.rule),
                h("td", {}, k.value),
                h("td", {}, yes(k.ok)),
                h("td", { class: "sources" }, k.source),
              ),
            ),
          ),
        ),
      ),
    h(
      "p",
      { class: "note" },
      "Mass and pressure are reported, never passed: ask a structural engineer for upper floors and old timber.",
    ),
    r.sensitivities.length > 0 && [
      h("h3", {}, "What would change this answer most"),
      h(
        "ol",
        {},
        r.sensitivities.map((s) => h("li", {}, s.text)),
      ),
    ],
  );
}

/** Verdict with its symbol, for lists outside the matrix. */
export const verdictBadge = (verdict: "HOLDS" | "TIGHT" | "FLOODS"): Markup =>
  h(
    "span",
    { class: `badge ${levelOfVerdict(verdict)}` },
    symbol(levelOfVerdict(verdict)),
    h("span", { class: "word" }, verdict),
  );
