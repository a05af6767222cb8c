// Outage: how long animals and filter survive, and what a battery can run meanwhile.
import type { BatteryPlan } from "../../scenarios/result/result.ts";
import { clockWords, drawClocks } from "../charts/clocks.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import { hours, number, type Reader, readerText } from "../view/reader.ts";
import { type Context, focused } from "./context.ts";
import { fold } from "./fold.ts";
import { table } from "./table.ts";

function battery(plan: BatteryPlan, reader: Reader): Child {
  return [
    table(
      "Battery",
      ["Load", "Draws", "Runs alone"],
      plan.alone.map(({ name, watts, hours: h }) => [name, `${number(reader, watts, watts < 10 ? 1 : 0)} W`, hours(reader, h)]),
      { caption: `A battery of ${number(reader, plan.capacityWh)} Wh`, numbers: [1, 2] },
    ),
    plan.order.length > 0 &&
      h("p", {}, `In this order: ${plan.order.map(({ name, hours: h }) => `${name} ${hours(reader, h)}`).join(", then ")}.`),
    plan.words.length > 0 && h("p", {}, plan.words.join(" ")),
  ];
}

export function outageSection(c: Context): Markup | null {
  const { outage, battery: plan } = focused(c);
  if (outage.length === 0) return null;
  return fold(c, {
    id: "outage",
    title: "How long animals and filter last without power",
    gist: outage.map((k) => k.name.toLowerCase()).join(", "),
    contents: () => [
      h(
        "p",
        { class: "lead" },
        "Each has its own time limit. The dotted line inside a block is the latest time at which the block may begin.",
      ),
      h("div", { "data-figure": "clocks" }, drawClocks(outage, c.width, c.reader)),
      table(
        "Time limits of a power cut",
        ["What", "When", "Why", "Source"],
        outage.map((k) => [k.name, clockWords(k, c.reader), readerText(c.reader, focused(c), k.said ?? k.why), k.source]),
        { sources: [3] },
      ),
      plan && battery(plan, c.reader),
    ],
  });
}
