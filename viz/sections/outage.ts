// The power is out: how long what lives, and what a battery does meanwhile.
import type { BatteryPlan } from "../../scenarios/result/result.ts";
import { clockWords, drawClocks } from "../charts/clocks.ts";
import { type Child, h } from "../view/markup.ts";
import { hours, number, type Reader } from "../view/reader.ts";
import { type Context, focused } from "./context.ts";
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

export function outageTables(c: Context): Child {
  const { outage, battery: plan } = focused(c);
  if (outage.length === 0) return null;
  return [
    h("h3", {}, "How long what lives"),
    h("p", { class: "lead" }, "Several clocks, not one. The dotted line inside a block is its latest time."),
    h("div", { "data-figure": "clocks" }, drawClocks(outage, c.width, c.reader)),
    table(
      "Clocks of a power cut",
      ["Clock", "When", "Why", "Source"],
      outage.map((k) => [k.name, clockWords(k, c.reader), k.why, k.source]),
      { sources: [3] },
    ),
    plan && battery(plan, c.reader),
  ];
}
