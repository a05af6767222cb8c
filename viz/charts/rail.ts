// The event rail above the panels: one row per kind of event, a tick on each day, the name at the end of the row.
import type { TimelineMark } from "../../scenarios/result/result.ts";
import { h, type Markup } from "../view/markup.ts";
import { dayScale, panelFrame } from "./plot.ts";
import type { Period } from "./scale.ts";

export interface RailRow {
  readonly kind: string;
  readonly days: readonly number[];
  readonly labels: readonly string[];
}

/** Events by kind, in the order of the first occurrence of each kind. */
export function railRows(marks: readonly TimelineMark[]): readonly RailRow[] {
  const rows = new Map<string, { days: number[]; labels: string[] }>();
  for (const mark of [...marks].sort((a, b) => a.day - b.day)) {
    const row = rows.get(mark.kind) ?? { days: [], labels: [] };
    row.days.push(mark.day);
    row.labels.push(mark.label);
    rows.set(mark.kind, row);
  }
  return [...rows].map(([kind, row]) => ({ kind, ...row }));
}

const ROW = 18;
/** Width of a character of the event labels [drawing units]. */
const LETTER = 6.6;

/** The rail as SVG. Single events have their own label where there is room before the next event. */
export function drawRail(marks: readonly TimelineMark[], period: Period, width: number): Markup | null {
  const rows = railRows(marks.filter(({ day }) => day >= period.from && day <= period.to));
  if (rows.length === 0) return null;
  const frame = panelFrame(width, rows.length * ROW + 8, false);
  const x = dayScale(frame, period);
  const narrow = frame.right < 40;
  const edge = frame.width - frame.right;
  return h(
    "svg",
    {
      class: "chart rail",
      viewBox: `0 0 ${width} ${frame.height}`,
      role: "img",
      "aria-label": `Events: ${rows.map((r) => (r.days.length === 1 ? `${r.labels[0]} on day ${Math.round(r.days[0]!)}` : `${r.kind}, ${r.days.length} times from day ${Math.round(r.days[0]!)} to day ${Math.round(r.days.at(-1)!)}`)).join("; ")}.`,
    },
    rows.map((row, i) => {
      const y = 8 + i * ROW;
      const few = row.days.length <= 4;
      return h(
        "g",
        { class: "event" },
        h("path", { class: "grid", d: `M${frame.left},${y + 0.5}H${edge}`, fill: "none" }),
        !narrow && h("text", { x: edge + 7, y: y + 4 }, row.kind),
        row.days.map((d, k) => {
          const px = x(d);
          const label = row.labels[k] ?? "";
          const next = row.days[k + 1] === undefined ? edge : x(row.days[k + 1]!);
          const room = next - px - 10;
          const fits = (few || narrow) && label.length * LETTER < room;
          return [
            h("path", { class: "tick", d: `M${px.toFixed(1)},${y + 4.5}l-3.6,-8h7.2z` }),
            fits && h("text", { class: "halo", x: px + 7, y: y + 4 }, label),
            narrow &&
              !fits &&
              k === 0 &&
              row.kind.length * LETTER < room &&
              h("text", { class: "halo", x: px + 7, y: y + 4 }, row.kind),
          ];
        }),
      );
    }),
  );
}
