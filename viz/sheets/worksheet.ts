// A page for the classroom: empty axes to draw a guess on, and questions with room for an answer.
import { panels } from "../charts/panel.ts";
import { drawPanel, panelFrame } from "../charts/plot.ts";
import { type Context, spanDays } from "../sections/context.ts";
import { type Child, h } from "../view/markup.ts";

const QUESTIONS = [
  "Which of the three is highest first, and why?",
  "On which day would you put in the first animals?",
  "What would change if the water were 5 °C colder?",
  "Where has the nitrogen of the food gone at the end?",
];

export function worksheet(c: Context): Child {
  const blank = panels(c.results, c.reader).filter((p) => ["tan", "no2", "no3"].includes(p.id));
  return [
    h("p", {}, "Draw what you expect before you look at the answer. The scale is that of the answer."),
    blank.map((p, i) =>
      drawPanel(
        p,
        spanDays(c.results),
        panelFrame(640, 150 + (i === blank.length - 1 ? 16 : 0), i === blank.length - 1),
        c.reader,
        `Empty axes for ${p.title}`,
        {
          withAxis: i === blank.length - 1,
          eventDays: [],
          prefix: "worksheet",
          blank: true,
        },
      ),
    ),
    h(
      "ol",
      { class: "questions" },
      QUESTIONS.map((q) => h("li", {}, q, h("span", { class: "line" }))),
    ),
  ];
}
