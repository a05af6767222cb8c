// The three verdict symbols as line drawings, so that they do not depend on a font. Their shapes alone distinguish them.
import type { Level } from "../../scenarios/result/result.ts";
import { h, type Markup } from "./markup.ts";

const shapes: Readonly<Record<Level, () => Markup[]>> = {
  alarm: () => [
    h("path", { class: "solid", d: "M12 2.2 22.6 21.4H1.4Z" }),
    h("path", { class: "knock", d: "M12 8.6v6M12 17.6v.6" }),
  ],
  watch: () => [h("path", { d: "M12 2.4 21.6 12 12 21.6 2.4 12Z" }), h("path", { d: "M12 7.6v5.2M12 16v.4" })],
  info: () => [h("circle", { cx: 12, cy: 12, r: 9.4 }), h("path", { d: "M7.6 12.4 10.8 15.4 16.6 8.8" })],
};

/** Triangle for alarm, diamond for watch, ticked circle for the rest. Decorative: a screen reader reads the word beside it. */
export const symbol = (level: Level): Markup =>
  h("svg", { class: "symbol", viewBox: "0 0 24 24", "aria-hidden": "true", width: 32, height: 32 }, shapes[level]());

export const levelOfVerdict = (verdict: "HOLDS" | "TIGHT" | "FLOODS"): Level =>
  verdict === "FLOODS" ? "alarm" : verdict === "TIGHT" ? "watch" : "info";
