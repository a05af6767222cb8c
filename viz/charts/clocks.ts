// The clocks of an outage on one time axis: the ranges in which each turns amber and red.
import type { OutageClock } from "../../scenarios/result/result.ts";
import { hourRange } from "../../scenarios/text/format.ts";
import { h, type Markup } from "../view/markup.ts";
import type { Reader } from "../view/reader.ts";
import { linear } from "./scale.ts";

/** Horizon of the clocks [h]; a range that ends here is open. */
const LONGEST_H = 120;

const hours = (reader: Reader, [from, to]: readonly [number, number]): string =>
  hourRange(from, to >= LONGEST_H ? null : to, reader.locale);

export const clockWords = (clock: OutageClock, reader: Reader): string => {
  if (!clock.amberH && !clock.redH) return "not reached";
  const parts: string[] = [];
  if (clock.amberH) parts.push(`look at it after ${hours(reader, clock.amberH)}`);
  if (clock.redH) parts.push(`act before ${hours(reader, clock.redH)}`);
  return parts.join(", ");
};

/** Length of the time axis [h]: beyond the last alarm, at least half a day. */
export const clockSpan = (clocks: readonly OutageClock[]): number =>
  Math.max(12, Math.min(LONGEST_H, 1.15 * Math.max(0, ...clocks.flatMap((c) => [c.amberH?.[1] ?? 0, c.redH?.[1] ?? 0]))));

export function drawClocks(clocks: readonly OutageClock[], width: number, reader: Reader): Markup {
  const span = clockSpan(clocks);
  const left = 1;
  const row = 52;
  const top = 8;
  const scale = linear([0, span], [left, width - 14]);
  const x = (h: number): number => scale(Math.min(span, h));
  const height = top + clocks.length * row + 26;
  const ticks = [0, 6, 12, 24, 36, 48, 72, 96, 120].filter((t) => t <= span && (span < 60 || t % 12 === 0));
  return h(
    "svg",
    {
      class: "chart clocks",
      viewBox: `0 0 ${width} ${height}`,
      role: "img",
      "aria-label": clocks.map((c) => `${c.name}: ${clockWords(c, reader)}`).join(". "),
    },
    h(
      "g",
      { class: "axis" },
      ticks.map((t) => [
        h("path", { class: "grid", d: `M${x(t).toFixed(1)},${top}V${height - 22}` }),
        (t === 0 || x(t) > left + 84) &&
          h("text", { x: x(t), y: height - 6, "text-anchor": t === 0 ? "start" : "middle" }, t === 0 ? "power goes" : `${t} h`),
      ]),
    ),
    clocks.map((c, i) => {
      const y = top + i * row + 20;
      const amber = c.amberH ? x(c.amberH[0]) : null;
      const red = c.redH ? x(c.redH[0]) : null;
      const end = width - 14;
      const calmEnd = amber ?? red ?? end;
      return h(
        "g",
        { class: "clock" },
        h("text", { class: "direct", x: 0, y: y - 6 }, c.name),
        h("rect", { class: "bar calm", x: left, y, width: Math.max(0, calmEnd - left), height: 20 }),
        amber !== null && h("rect", { class: "bar amber", x: amber, y, width: Math.max(0, (red ?? end) - amber), height: 20 }),
        red !== null && h("rect", { class: "bar red", x: red, y, width: Math.max(0, end - red), height: 20 }),
        c.amberH && h("path", { class: "band-edge", d: `M${x(c.amberH[1]).toFixed(1)},${y}v20` }),
        c.redH && h("path", { class: "band-edge", d: `M${x(c.redH[1]).toFixed(1)},${y}v20` }),
        calmEnd - left > 74 && h("text", { x: left + 6, y: y + 14 }, "no hurry"),
        amber !== null && (red ?? end) - amber > 66 && h("text", { x: amber + 6, y: y + 14 }, "look at it"),
        red !== null && end - red > 34 && h("text", { x: red + 6, y: y + 14 }, "act"),
      );
    }),
  );
}
