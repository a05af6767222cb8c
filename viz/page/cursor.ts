// One cursor for all charts: the same day in every panel, every value read out beneath. Pointer, touch and keyboard.
import { type Panel, valueAt } from "../charts/panel.ts";
import { dayScale, panelFrame } from "../charts/plot.ts";
import { h } from "../view/markup.ts";
import { figure, number, type Reader } from "../view/reader.ts";
import { find, replaceContents } from "./dom.ts";

export interface Cursor {
  show(panels: readonly Panel[], days: number, reader: Reader, width: number): void;
}

export function cursor(stack: HTMLElement): Cursor {
  const readout = find<HTMLElement>(stack, "[data-readout]");
  let day: number | null = null;
  let panels: readonly Panel[] = [];
  let days = 1;
  let width = 1000;
  let reader: Reader | null = null;

  function paint(): void {
    if (!reader) return;
    const frame = panelFrame(width, 100, false);
    const x = dayScale(frame, days);
    for (const svg of stack.querySelectorAll<SVGSVGElement>("svg.panel")) {
      const layer = find<SVGGElement>(svg, ".cursor-layer");
      const panel = panels.find((p) => p.id === svg.dataset.panel);
      if (day === null || !panel || svg.closest(".guessing")) {
        layer.replaceChildren();
        continue;
      }
      const { y0, y1, low, high } = layer.dataset;
      const top = Number(y0);
      const bottom = Number(y1);
      const y = (v: number): number => bottom - ((v - Number(low)) / (Number(high) - Number(low))) * (bottom - top);
      const at = day;
      replaceContents(layer, [
        h("line", { class: "cursor", x1: x(at), x2: x(at), y1: top, y2: bottom }),
        panel.lines.map((l) => {
          const v = valueAt(l, at);
          return v === null ? null : h("circle", { class: "cursor-dot", cx: x(at), cy: y(v), r: 3.4 });
        }),
      ]);
    }
    const r = reader;
    const at = day;
    replaceContents(
      readout,
      at === null || stack.classList.contains("guessing")
        ? h("span", { class: "note" }, "Point at a chart, or use the arrow keys, to read all values of a day.")
        : [
            h("strong", {}, `Day ${number(r, at, days < 20 ? 1 : 0)}`),
            panels.map((p) =>
              p.lines.map((l) =>
                h(
                  "span",
                  {},
                  `${p.lines.length > 1 ? `${p.title}, ${l.label}` : p.title} `,
                  h("b", {}, figure(r, valueAt(l, at))),
                  p.unit ? ` ${p.unit}` : "",
                ),
              ),
            ),
          ],
    );
  }

  function move(clientX: number): void {
    const svg = stack.querySelector<SVGSVGElement>("svg.panel");
    if (!svg) return;
    const box = svg.getBoundingClientRect();
    const frame = panelFrame(width, 100, false);
    const px = ((clientX - box.left) / box.width) * frame.width;
    const share = (px - frame.left) / (frame.width - frame.left - frame.right);
    if (share < -0.02 || share > 1.02) return;
    day = Math.min(days, Math.max(0, share * days));
    paint();
  }

  stack.addEventListener("pointermove", (e) => {
    if ((e.target as Element).closest("svg.panel")) move(e.clientX);
  });
  stack.addEventListener("pointerdown", (e) => {
    if ((e.target as Element).closest("svg.panel")) move(e.clientX);
  });
  stack.addEventListener("keydown", (e) => {
    if (e.target !== stack) return;
    const step = (e.shiftKey ? 7 : 1) * (days > 200 ? 2 : 1);
    if (e.key === "ArrowRight") day = Math.min(days, (day ?? -step) + step);
    else if (e.key === "ArrowLeft") day = Math.max(0, (day ?? days + step) - step);
    else if (e.key === "Home") day = 0;
    else if (e.key === "End") day = days;
    else if (e.key === "Escape") day = null;
    else return;
    e.preventDefault();
    paint();
  });

  return {
    show(list, span, forReader, wide) {
      panels = list;
      days = span;
      reader = forReader;
      width = wide;
      paint();
    },
  };
}
