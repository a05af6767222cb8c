// Numbers of the two models: surfaces, nitrogen balance, running state, head, mass, fit, sizing rules, sensitivities.
import type { HydraulicResult, RunResult } from "../../scenarios/result/result.ts";
import { drawLedger, drawSurfaces } from "../charts/bars.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { figure, flow, length, mass, number, type Reader, volume } from "../view/reader.ts";
import { type Context, focused } from "./context.ts";
import { fold } from "./fold.ts";
import { type Row, table } from "./table.ts";

/** The closure error of a balance, in words. */
export const closeness = (share: number): string =>
  share < 1e-12
    ? "to one part in 10¹²"
    : share < 1e-9
      ? "to one part in 10⁹"
      : share < 1e-6
        ? "to one part in a million"
        : `only to ${share.toExponential(0)}`;

const yes = (ok: boolean): Child => h("span", { class: ok ? "v-HOLDS" : "v-TIGHT" }, h("strong", {}, ok ? "met" : "not met"));

/** Input, output and storage side by side; entries that round to zero are omitted. */
function ledgerTables({ in: into, out, stored }: RunResult["nitrogen"]["ledger"], reader: Reader): Markup {
  const side = (caption: string, list: typeof into): Child => {
    const rows = list.filter((r) => figure(reader, r.gN) !== "0").map((r): Row => [r.label, figure(reader, r.gN)]);
    const sum = list.reduce((total, r) => total + r.gN, 0);
    return table(`Nitrogen, ${caption.toLowerCase()}`, [], rows, {
      caption: `${caption}, g`,
      numbers: [1],
      sums: [["Sum", figure(reader, sum)]],
    });
  };
  return h("div", { class: "columns three" }, side("In", into), side("Out", out), side("Gained in store", stored));
}

/** The value to which a sizing rule applies, in the reader's units. */
function amount(reader: Reader, value: number, unit: string): string {
  switch (unit) {
    case "m":
      return length(reader, value, true);
    case "m3":
      return volume(reader, value, true);
    case "m3/s":
      return flow(reader, value, true);
    case "share":
      return `${number(reader, value * 100)} %`;
    case "share/day":
      return `${number(reader, value * 100, 1)} % a day`;
    case "1/h":
      return `${number(reader, value, 1)} times an hour`;
    default:
      return `${figure(reader, value)}${unit === "" ? "" : ` ${unit}`}`;
  }
}

function masses({ load }: HydraulicResult, reader: Reader): Markup {
  const pressure = (kPa: number, lbPerFt2: number | null): Row => [
    "Pressure under the stand",
    `${number(reader, kPa, 1)} kPa (${number(reader, lbPerFt2)} lb/ft²)`,
  ];
  return table(
    "Wet mass",
    [],
    load.parts.map((p) => [p.part, mass(reader, p.kg)]),
    {
      caption: "Mass on the floor, filled",
      numbers: [1],
      sums: [["Together", mass(reader, load.totalKg)], ...(load.kPa === null ? [] : [pressure(load.kPa, load.lbPerFt2)])],
    },
  );
}

const fits = (part: HydraulicResult["fit"][number], reader: Reader): Row => [
  `${part.part}: ${length(reader, Math.abs(part.spareM), true)} ${part.ok ? "to spare" : "too large"}${part.note ? `; ${part.note}` : ""}`,
  h("strong", { class: part.ok ? "v-HOLDS" : "v-TIGHT" }, part.ok ? "fits" : "does not fit"),
];

export function figuresSection(c: Context): Markup {
  const r = focused(c);
  const { hydraulics: h8, nitrogen } = r;
  const { reader } = c;
  const { running } = h8;
  return fold(c, {
    id: "figures",
    title: "Figures",
    gist: "working surface, nitrogen balance, head, mass, fit, rules of the trade",
    contents: () => [
      nitrogen.surfaces.length > 0 && [
        h("h3", {}, "Working surface: needed and available"),
        h("div", { "data-figure": "surfaces" }, drawSurfaces(nitrogen.surfaces, c.width, reader)),
      ],
      h("h3", {}, "Where the nitrogen went"),
      h("div", { "data-figure": "ledger" }, drawLedger(nitrogen.ledger, c.width, reader)),
      ledgerTables(nitrogen.ledger, reader),
      h(
        "p",
        { class: "note" },
        `The sums balance: nitrogen ${closeness(nitrogen.ledger.imbalance)} of what came in, the water of the power cut ${closeness(h8.waterImbalance)} of all the water.`,
      ),
      h(
        "div",
        { class: "columns" },
        table(
          "Running state",
          [],
          [
            ["Flow through the pump", flow(reader, running.pumpFlowM3PerS, true)],
            ["Whole system through the pump", `${number(reader, running.turnoverPerHour, 1)} times an hour`],
            ["Drain capacity in hand", `${number(reader, running.drainInHandShare * 100)} %`],
          ],
          { caption: "Running", numbers: [1] },
        ),
        table(
          "Head budget",
          [],
          running.headBudget.map((p) => [p.part, length(reader, p.headM)]),
          {
            caption: "What the pump works against",
            numbers: [1],
            sums: [
              [
                "Sum",
                length(
                  reader,
                  running.headBudget.reduce((sum, p) => sum + p.headM, 0),
                ),
              ],
            ],
          },
        ),
        masses(h8, reader),
        h8.fit.length > 0 &&
          table(
            "Fit",
            [],
            h8.fit.map((part) => fits(part, reader)),
            { caption: "Does it fit" },
          ),
      ),
      h(
        "p",
        { class: "note" },
        "We state the weight. Whether your floor can bear it, only a structural engineer can say; ask one for upper floors and old timber.",
      ),
      h8.checks.length > 0 &&
        table(
          "Rules of the trade",
          ["Check", "Rule", "Here", h("span", { class: "visually-hidden" }, "Met"), "Source"],
          h8.checks.map((k) => [k.name, k.rule, amount(reader, k.value, k.unit), yes(k.ok), k.source]),
          { caption: "Rules of the trade beside the physics", sources: [4] },
        ),
      r.sensitivities.length > 0 && [
        h("h3", {}, "What would change this answer most"),
        h(
          "ol",
          {},
          r.sensitivities.map((s) => h("li", {}, s.text)),
        ),
      ],
    ],
  });
}
