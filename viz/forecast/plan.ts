// Body of a plan page: promise, calendar, results of the check.

import { ticks } from "d3";
import type { PlanRequest, StockingPlan } from "../../scenarios/forecast/plan.ts";
import type { PlanWords } from "../../scenarios/forecast/plan-words.ts";
import { linear } from "../charts/scale.ts";
import { bandPath, curvePath } from "../charts/thin.ts";
import { cautionList, filesAndOrigin, titledSection } from "../sections/page-parts.ts";
import { table } from "../sections/table.ts";
import { type Child, h, type Markup } from "../view/markup.ts";

export interface PlanPage {
  readonly name: string;
  readonly file: string;
  readonly seed: string;
  readonly program: string;
  readonly request: PlanRequest;
  readonly plan: StockingPlan;
  readonly words: PlanWords;
  /** Factor from g N/m³ to the scale of the nitrite kit, and the name of the scale. */
  readonly nitrite: { readonly perN: number; readonly name: string };
  readonly files: readonly string[];
}

const WIDTH = 900;
const HEIGHT = 190;
const LEFT = 52;
const RIGHT = 14;
const plain = (value: number): string => String(Number(value.toPrecision(2)));

function chart(
  title: string,
  unit: string,
  plan: StockingPlan,
  band: StockingPlan["bands"]["no2"],
  factor: number,
  limit: number,
): Markup {
  const { days } = plan.bands;
  const from = Math.max(0, (plan.lots[0]?.day ?? 0) - 7);
  const kept = days.flatMap((day, n) => (day >= from ? [n] : []));
  const part = (i: 0 | 1 | 2): number[] => kept.map((n) => band[n][i] * factor);
  const [early, likely, late] = [part(0), part(1), part(2)];
  const since = kept.findIndex((n) => days[n] >= (plan.lots[0]?.day ?? 0));
  const high = Math.max(limit * factor * 1.25, ...late.slice(Math.max(0, since)));
  const x = linear([from, days[days.length - 1]], [LEFT, WIDTH - RIGHT]);
  const scale = linear([0, high], [HEIGHT - 26, 30]);
  // Values before the arrival of the animals may exceed the chart.
  const y = (value: number): number => scale(Math.min(high, value));
  const xs = kept.map((n) => x(days[n]));
  return h(
    "figure",
    { class: "forecast-chart" },
    h(
      "svg",
      { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: "img", "aria-label": `${title} with the planned animals, and its limit` },
      h("text", { x: 0, y: 16, class: "panel-title" }, title, h("tspan", { class: "soft", dx: 8 }, unit)),
      ticks(0, high, 4).map((value) => [
        h("path", { class: "grid", d: `M${LEFT},${y(value)}H${WIDTH - RIGHT}` }),
        h("text", { class: "soft", x: LEFT - 7, y: y(value) + 4, "text-anchor": "end" }, String(Number(value.toPrecision(4)))),
      ]),
      h("path", { class: "after", d: bandPath(xs, early.map(y), late.map(y)) }),
      h("path", { class: "likely", d: curvePath(xs, likely.map(y)) }),
      h("path", { class: "limit", d: `M${LEFT},${y(limit * factor)}H${WIDTH - RIGHT}` }),
      h("text", { class: "soft", x: WIDTH - RIGHT, y: y(limit * factor) - 5, "text-anchor": "end" }, "limit"),
      plan.lots.map(({ day }) => h("path", { class: "grid", d: `M${x(day)},30V${HEIGHT - 26}` })),
      h("path", { class: "axis", d: `M${LEFT},${HEIGHT - 26}H${WIDTH - RIGHT}` }),
      ticks(from, days[days.length - 1], 8).map((day, i) =>
        h("text", { class: "soft", x: x(day), y: HEIGHT - 8, "text-anchor": "middle" }, i === 0 ? `day ${day}` : String(day)),
      ),
    ),
  );
}

export function planBody({ name, file, seed, program, request, plan, words, nitrite, files }: PlanPage): Child {
  const { limits, confidence } = request;
  return [
    h("a", { class: "skip", href: "#answer" }, "Skip to the answer"),
    h(
      "header",
      { class: "title-block" },
      h("div", { class: "words" }, h("p", { class: "wordmark" }, "Sumpwright"), h("h1", {}, `Stocking plan: ${name}`)),
    ),
    h(
      "main",
      { id: "main" },
      titledSection("answer", "The answer", [
        h(
          "p",
          { class: `trust ${words.holds ? "ring" : "triangle"}` },
          h("b", {}, words.holds ? "Plan. " : "No promise. "),
          words.sentences[0],
        ),
        words.sentences.slice(1).map((text) => h("p", {}, text)),
      ]),
      words.lots.length > 0 &&
        titledSection(
          "lots",
          "Who comes when",
          table(
            "Lots",
            ["Day", "Animals", "Their food, g a day", "All food, g a day"],
            words.lots.map(({ day, animals, foodGPerDay, allFoodGPerDay }) => [
              String(day),
              animals,
              plain(foodGPerDay),
              plain(allFoodGPerDay),
            ]),
            { numbers: [0, 2, 3] },
          ),
        ),
      words.calendar.length > 0 &&
        titledSection(
          "calendar",
          "What to do on which day",
          table(
            "Calendar",
            ["Day", "What to do", "How"],
            words.calendar.map(({ day, title, detail }) => [String(day), title, detail]),
            { numbers: [0] },
          ),
        ),
      plan.bands.days.length > 0 &&
        titledSection("check", "Tried again with fresh runs and meals", [
          h(
            "p",
            { class: "note" },
            "The band holds eight runs of ten, the line is the middle one. Upright lines: days on which animals come.",
          ),
          chart("Nitrite", `mg/L as ${nitrite.name}`, plan, plan.bands.no2, nitrite.perN, limits.no2GPerM3),
          chart("Un-ionised ammonia", "mg/L NH3", plan, plan.bands.nh3, 1, limits.nh3GPerM3),
        ]),
      titledSection(
        "limits",
        "How it is computed, and its limits",
        h(
          "p",
          {},
          "On each slot as many animals come as keep the limits for three weeks, in the order of the list. The search uses runs fed evenly, stricter limits (four fifths) and half the risk that was asked; then the calendar is run with other draws of the inputs and with meals, and put off by a slot until it holds. It knows only the inputs that are spread. A promise for tanks like this one is none for a tank whose readings say otherwise: test before every lot.",
        ),
      ),
      titledSection("cautions", "Cautions", cautionList()),
    ),
    filesAndOrigin(
      files,
      `${file}: limits to be kept in ${Math.round(100 * confidence)} tanks of 100, ${plan.runs} runs, random seed ${seed}, ${program}.`,
    ),
  ];
}
