// Figure of the milestones of a forecast: a bar from early to late for each, with a mark at the median.
import { ticks } from "d3";
import type { AnswerId } from "../../scenarios/forecast/course.ts";
import type { Posterior } from "../../scenarios/forecast/posterior.ts";
import { linear } from "../charts/scale.ts";
import { h, type Markup } from "../view/markup.ts";

/** Answers that are days, in their usual order. */
const DAYS: readonly AnswerId[] = [
  "nitrite seen",
  "ammonia gone",
  "nitrite peak day",
  "nitrite gone",
  "ready day",
  "alkalinity gone",
];

const WIDTH = 420;
const LEFT = 8;
const RIGHT = 16;
/** Height of a row: the label above its bar. */
const ROW = 40;
const TOP = 4;

/** Null where no answer is a day. A bar that runs off the right edge ends in an arrow: the late runs do not get there within the run. */
export function milestones({ summary, answers }: Posterior): Markup | null {
  const rows = DAYS.flatMap((id) => {
    const range = summary.answers.find((one) => one.id === id);
    const words = answers.find((one) => one.id === id);
    return range && words ? [{ ...range, title: words.title, words: words.after }] : [];
  });
  if (rows.length === 0) return null;
  const x = linear([0, summary.days], [LEFT, WIDTH - RIGHT]);
  const within = (day: number): number => x(Math.min(day, summary.days));
  const bottom = TOP + rows.length * ROW;
  return h(
    "figure",
    { class: "forecast-chart milestones" },
    h(
      "svg",
      {
        viewBox: `0 0 ${WIDTH} ${bottom + 28}`,
        role: "img",
        "aria-label": `When: ${rows.map(({ title, words }) => `${title} ${words}`).join("; ")}`,
      },
      ticks(0, summary.days, 7).map((day) => [
        h("path", { class: "grid", d: `M${x(day)},${TOP}V${bottom}` }),
        h(
          "text",
          { class: "soft", x: x(day), y: bottom + 18, "text-anchor": day === 0 ? "start" : "middle" },
          day === 0 ? "day 0" : String(day),
        ),
      ]),
      rows.map(({ title, before, after, id }, n) => {
        const y = TOP + (n + 0.68) * ROW;
        const [from, to] = [within(after.early), within(after.late)];
        return h(
          "g",
          { class: id === "ready day" ? "ready" : null },
          h("text", { x: LEFT + 4, y: y - 11 }, title),
          summary.readings > 0 && h("path", { class: "before", d: `M${within(before.early)},${y + 9}H${within(before.late)}` }),
          h("rect", { class: "after", x: from, y: y - 6, width: Math.max(2, to - from), height: 12 }),
          after.late > summary.days && h("path", { class: "axis", d: `M${to - 5},${y - 6}l7,6l-7,6` }),
          after.likely <= summary.days && h("path", { class: "likely", d: `M${within(after.likely)},${y - 6}V${y + 9}` }),
        );
      }),
      h("path", { class: "axis", d: `M${LEFT},${bottom}H${WIDTH - RIGHT}` }),
    ),
  );
}
