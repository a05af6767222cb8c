// Two pages for the classroom: empty axes with questions, and the answer key with the curves and answers of this run.
import { NITROGEN, type Panel, panels } from "../charts/panel.ts";
import { drawPanel, panelFrame } from "../charts/plot.ts";
import { shapeOf, summarise } from "../charts/words.ts";
import { type Context, focused, spanDays } from "../sections/context.ts";
import { spokenWords } from "../view/answer.ts";
import { type Child, h } from "../view/markup.ts";
import { figure, number, readerText } from "../view/reader.ts";

interface Question {
  readonly ask: string;
  /** The answer of this run; "" where the class must think or try. */
  readonly answer: (c: Context, nitrogen: readonly Panel[]) => string;
}

const QUESTIONS: readonly Question[] = [
  {
    ask: "Which of the three is highest first, and why?",
    answer(c, nitrogen) {
      const peaks = nitrogen.flatMap((panel) => {
        const shape = panel.lines[0] && shapeOf(panel.lines[0]);
        return shape ? [{ title: panel.title, unit: panel.unit, ...shape }] : [];
      });
      const order = [...peaks].sort((a, b) => a.highDay - b.highDay);
      const days = order.map(
        (p) =>
          `${p.title.toLowerCase()} on day ${number(c.reader, Math.floor(p.highDay))} (${figure(c.reader, p.high)} ${p.unit})`,
      );
      return `In this run the peaks are: ${days.join(", then ")}. Each is the food of the next: one group of bacteria turns ammonia into nitrite, another, which starts later, turns nitrite into nitrate.`;
    },
  },
  {
    ask: "On which day would you put in the first animals?",
    answer(c) {
      const r = focused(c);
      const lead = r.answer.lead.find((l) => l.job === "ready") ?? r.answer.lead.find((l) => l.job === "stocking");
      return lead ? spokenWords(c.reader, r, lead) : "In this scenario animals are in the tank from the first day.";
    },
  },
  {
    ask: "What would change if the water were 5 °C colder?",
    answer: () =>
      "Bacteria grow and work more slowly in cold water, so every peak comes later and lasts longer. Try it: set the water temperature on the page and compare.",
  },
  {
    ask: "Where has the nitrogen of the food gone at the end?",
    answer(c) {
      const { ledger } = focused(c).nitrogen;
      const parts = [...ledger.out, ...ledger.stored].filter((row) => row.gN > 0).sort((a, b) => b.gN - a.gN);
      const said = parts.slice(0, 4).map((row) => `${readerText(c.reader, focused(c), row.label)} ${figure(c.reader, row.gN)} g`);
      return `The largest parts are: ${said.join(", ")}.`;
    },
  },
];

const nitrogenPanels = (c: Context): readonly Panel[] =>
  panels(c.results, c.reader).filter((p) => NITROGEN.some((what) => what === p.id));

function axes(c: Context, blank: boolean): Child {
  const list = nitrogenPanels(c);
  const period = { from: 0, to: spanDays(c.results) };
  return list.map((p, i) => {
    const last = i === list.length - 1;
    return drawPanel(
      p,
      period,
      panelFrame(640, 150 + (last ? 16 : 0), last),
      c.reader,
      blank ? `Empty axes for ${p.title}` : summarise(p, c.reader),
      { withAxis: last, eventDays: [], prefix: blank ? "worksheet" : "key", blank },
    );
  });
}

export const worksheet = (c: Context): Child => [
  h("p", {}, "Draw what you expect before you look at the answer. The scales are those of the answer."),
  axes(c, true),
  h(
    "ol",
    { class: "questions" },
    QUESTIONS.map(({ ask }) => h("li", {}, ask, h("span", { class: "line" }))),
  ),
];

export const answerKey = (c: Context): Child => [
  axes(c, false),
  h(
    "ol",
    { class: "questions" },
    QUESTIONS.map(({ ask, answer }) => h("li", {}, ask, h("p", { class: "key-answer" }, answer(c, nitrogenPanels(c))))),
  ),
];
