// Contents of the presentation mode, one item per screen. No browser code.
import { drawPanel, panelFrame } from "../charts/plot.ts";
import { summarise } from "../charts/words.ts";
import { stageTimes } from "../cutaway/marks.ts";
import { answerOf } from "../sections/answer.ts";
import { comparedChart } from "../sections/compare.ts";
import { type Context, focused, periodOf } from "../sections/context.ts";
import { curvePanels } from "../sections/curves.ts";
import { cutawayAt, outageVerdict } from "../sections/picture.ts";
import { type Child, h } from "../view/markup.ts";

export interface Slide {
  readonly id: string;
  readonly title: string;
  readonly draw: (size: { readonly width: number; readonly height: number }) => Child;
}

/** Magnification of the drawings, so that their text is legible from the last row. */
const LARGER = 1.7;

/** The slides of a page: the answer, the comparison, the drawing before and after, then one chart each. */
export function slidesOf(c: Context): readonly Slide[] {
  const r = focused(c);
  const story = r.hydraulics.stories[0];
  const still = (
    id: string,
    title: string,
    s: (story: NonNullable<(typeof r.hydraulics.stories)[number]>) => number,
  ): readonly Slide[] =>
    story
      ? [
          {
            id,
            title,
            draw: ({ width }) => [
              cutawayAt(r, story, s(story), c.reader, width / LARGER, `present-${id}`, title),
              id === "rest" && outageVerdict(story, c.reader),
            ],
          },
        ]
      : [];
  return [
    { id: "answer", title: r.answer.question, draw: () => h("div", { class: "present-answer" }, answerOf(c, r)) },
    ...(c.results.length > 1
      ? [
          {
            id: "compared",
            title: "The comparison",
            draw: ({ width }: { width: number }) => comparedChart({ ...c, width: width / LARGER }),
          },
        ]
      : []),
    ...still("running", "The pump runs", () => 0),
    ...still("rest", "The power is off, the water at rest", (s) => stageTimes(s).restartS ?? stageTimes(s).endS),
    ...curvePanels(c).map(
      (panel): Slide => ({
        id: panel.id,
        title: panel.unit ? `${panel.title}, ${panel.unit}` : panel.title,
        draw: ({ width, height }) => {
          const frame = panelFrame(width / LARGER, Math.max(160, height / LARGER), true);
          return drawPanel(panel, periodOf(c), frame, c.reader, summarise(panel, c.reader), {
            withAxis: true,
            eventDays: [],
            prefix: "present",
          });
        },
      }),
    ),
  ];
}
