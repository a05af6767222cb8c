// One cursor for a stack of charts: the same day in every panel, its values on a card beside the cursor. Pointer, touch
// and keyboard.
import type { Panel } from "../charts/panel.ts";
import { valueAt } from "../charts/panel.ts";
import type { Period } from "../charts/scale.ts";
import { h } from "../view/markup.ts";
import type { Reader } from "../view/reader.ts";
import { find, replaceContents } from "./dom.ts";
import { cardPlace, dayWords, readOut } from "./read-out.ts";

export interface Shown {
  readonly panels: readonly Panel[];
  readonly period: Period;
  readonly reader: Reader;
}

export interface Cursor {
  show(shown: Shown): void;
  /** Current day; null when the cursor is off. */
  readonly day: () => number | null;
}

/** The single value card of the page, outside the document flow. */
function card(): HTMLElement {
  const known = document.getElementById("read-out");
  if (known) return known;
  const made = document.createElement("div");
  made.id = "read-out";
  made.hidden = true;
  document.body.append(made);
  return made;
}

/** Live region with the same text for screen readers, used only when the keyboard moves the cursor. */
function spoken(stack: HTMLElement): HTMLElement {
  const made = document.createElement("p");
  made.className = "visually-hidden";
  made.setAttribute("aria-live", "polite");
  made.dataset.readout = "";
  stack.append(made);
  return made;
}

/** Position of the plot inside its SVG in drawing units, and its scale. */
function plotOf(svg: SVGSVGElement): {
  layer: SVGGElement;
  x0: number;
  x1: number;
  y0: number;
  y1: number;
  low: number;
  high: number;
} {
  const layer = find<SVGGElement>(svg, ".cursor-layer");
  const read = (name: string): number => Number(layer.dataset[name]);
  return { layer, x0: read("x0"), x1: read("x1"), y0: read("y0"), y1: read("y1"), low: read("low"), high: read("high") };
}

/** @param zoom called to zoom by a factor around a day; factor 0 shows all days */
export function cursor(stack: HTMLElement, zoom: (factor: number, day: number | null) => void): Cursor {
  const live = spoken(stack);
  let day: number | null = null;
  let shown: Shown | null = null;

  const hidden = (svg: Element): boolean => svg.closest(".guessing") !== null;

  function paintLines(): void {
    for (const svg of stack.querySelectorAll<SVGSVGElement>("svg.panel")) {
      const { layer, x0, x1, y0, y1, low, high } = plotOf(svg);
      const panel = shown?.panels.find((p) => p.id === svg.dataset.panel);
      if (day === null || !shown || !panel || hidden(svg)) {
        layer.replaceChildren();
        continue;
      }
      const at = day;
      const { from, to } = shown.period;
      const x = x0 + ((at - from) / (to - from)) * (x1 - x0);
      replaceContents(layer, [
        h("line", { class: "cursor", x1: x, x2: x, y1: y0, y2: y1 }),
        panel.lines.map((line) => {
          const v = valueAt(line, at);
          if (v === null || high <= low) return null;
          return h("circle", { class: "cursor-dot", cx: x, cy: y1 - ((v - low) / (high - low)) * (y1 - y0), r: 3.4 });
        }),
      ]);
    }
  }

  function paintCard(point: { x: number; y: number } | null, panelId: string | undefined): void {
    const host = card();
    if (day === null || !shown || point === null || hidden(stack.querySelector("svg.panel") ?? stack)) {
      host.hidden = true;
      return;
    }
    const lines = readOut(shown.panels, day, shown.reader);
    replaceContents(host, [
      h("strong", {}, dayWords(shown.reader, day, shown.period.to - shown.period.from)),
      h(
        "dl",
        {},
        lines.map(({ panel, label, value }) =>
          h("div", { class: panel === panelId ? "here" : null }, h("dt", {}, label), h("dd", {}, value)),
        ),
      ),
    ]);
    host.hidden = false;
    const { width, height } = host.getBoundingClientRect();
    const place = cardPlace(
      point,
      { width, height },
      { width: document.documentElement.clientWidth, height: window.innerHeight },
    );
    host.style.setProperty("left", `${place.left}px`);
    host.style.setProperty("top", `${place.top}px`);
  }

  /** Position of the cursor in the window, on the panel closest to its centre. */
  function pointInSight(): { point: { x: number; y: number }; panel: string | undefined } | null {
    const boxes = [...stack.querySelectorAll<SVGSVGElement>("svg.panel")].map((svg) => ({
      svg,
      box: svg.getBoundingClientRect(),
    }));
    const middle = window.innerHeight / 2;
    const distance = (box: DOMRect): number => Math.abs((box.top + box.bottom) / 2 - middle);
    const nearest = boxes.sort((a, b) => distance(a.box) - distance(b.box))[0];
    if (!nearest || day === null || !shown) return null;
    const { x0, x1 } = plotOf(nearest.svg);
    const share = (day - shown.period.from) / (shown.period.to - shown.period.from);
    const x = nearest.box.left + ((x0 + share * (x1 - x0)) / nearest.svg.viewBox.baseVal.width) * nearest.box.width;
    return { point: { x, y: (nearest.box.top + nearest.box.bottom) / 2 }, panel: nearest.svg.dataset.panel };
  }

  function moveTo(e: PointerEvent): void {
    const svg = (e.target as Element).closest<SVGSVGElement>("svg.panel");
    if (!svg || !shown) return;
    const box = svg.getBoundingClientRect();
    const { x0, x1 } = plotOf(svg);
    const px = ((e.clientX - box.left) / box.width) * svg.viewBox.baseVal.width;
    const share = (px - x0) / (x1 - x0);
    if (share < -0.02 || share > 1.02) return;
    const { from, to } = shown.period;
    day = Math.min(to, Math.max(from, from + share * (to - from)));
    paintLines();
    paintCard({ x: e.clientX, y: e.clientY }, svg.dataset.panel);
  }

  function leave(): void {
    card().hidden = true;
  }

  stack.addEventListener("pointermove", moveTo);
  stack.addEventListener("pointerdown", moveTo);
  stack.addEventListener("pointerleave", leave);
  stack.addEventListener("blur", leave);
  stack.addEventListener("dblclick", () => zoom(0.5, day));
  stack.addEventListener("keydown", (e) => {
    if (e.target !== stack || !shown) return;
    const { from, to } = shown.period;
    const step = (e.shiftKey ? 7 : 1) * (to - from > 200 ? 2 : 1);
    if (e.key === "ArrowRight") day = Math.min(to, (day ?? from - step) + step);
    else if (e.key === "ArrowLeft") day = Math.max(from, (day ?? to + step) - step);
    else if (e.key === "Home") day = from;
    else if (e.key === "End") day = to;
    else if (e.key === "Escape") day = null;
    else if (e.key === "+" || e.key === "=") zoom(0.5, day);
    else if (e.key === "-") zoom(2, day);
    else if (e.key === "0") zoom(0, null);
    else return;
    e.preventDefault();
    paintLines();
    const place = pointInSight();
    paintCard(place?.point ?? null, place?.panel);
    live.textContent =
      day === null || !shown
        ? ""
        : [
            dayWords(shown.reader, day, to - from),
            ...readOut(shown.panels, day, shown.reader).map((l) => `${l.label} ${l.value}`),
          ].join(", ");
  });

  return {
    show(next) {
      shown = next;
      if (day !== null && (day < next.period.from || day > next.period.to)) day = null;
      paintLines();
    },
    day: () => day,
  };
}
