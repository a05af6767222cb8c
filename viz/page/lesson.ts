// Lesson: the answer is hidden, the reader draws a guess with pointer or keys, then both are shown.
import type { Panel } from "../charts/panel.ts";
import { range } from "../charts/panel.ts";
import { h } from "../view/markup.ts";
import { figure, number, type Reader } from "../view/reader.ts";
import { append, find, replaceContents } from "./dom.ts";

const POINTS = 13;

export interface Guess {
  readonly panel: string;
  /** Values at evenly spread days, null where nothing was drawn. */
  readonly values: (number | null)[];
}

export interface Lesson {
  readonly active: () => boolean;
  /** After the charts were drawn anew: hide or show answers, draw the guesses. */
  refresh(panels: readonly Panel[], days: number, reader: Reader): void;
}

/** How far a guess is from the answer: mean distance over the drawn points, as a share of the chart's height. */
export function distance(guess: readonly (number | null)[], answer: readonly (number | null)[], span: number): number | null {
  let sum = 0;
  let n = 0;
  guess.forEach((g, i) => {
    const a = answer[i] ?? null;
    if (g === null || a === null) return;
    sum += Math.abs(g - a);
    n++;
  });
  return n === 0 ? null : sum / n / span;
}

export function lesson(section: HTMLElement, redraw: () => void): Lesson {
  const toggle = find<HTMLButtonElement>(section, "#lesson");
  const panelHost = find<HTMLElement>(section, "#lesson-panel");
  const stack = find<HTMLElement>(section, "[data-stack]");
  const guesses = new Map<string, (number | null)[]>();
  let on = false;
  let revealed = false;
  let panels: readonly Panel[] = [];
  let days = 1;
  let reader: Reader | null = null;

  const asked = (): readonly Panel[] => panels.filter((p) => ["tan", "no2", "no3"].includes(p.id));
  const dayOf = (i: number): number => (days * i) / (POINTS - 1);

  function paint(): void {
    stack.classList.toggle("guessing", on && !revealed);
    section.classList.toggle("lesson-on", on);
    for (const panel of asked()) {
      const svg = section.querySelector<SVGSVGElement>(`svg.panel[data-panel="${panel.id}"]`);
      if (!svg) continue;
      for (const part of svg.querySelectorAll(".answer,.band,.band-edge")) part.classList.toggle("hidden", on && !revealed);
      svg.querySelector(".guess")?.remove();
      const values = guesses.get(panel.id);
      if (!on || !values) continue;
      const layer = find<SVGGElement>(svg, ".cursor-layer");
      const { x0, x1, y0, y1, low, high } = layer.dataset;
      const points = values.flatMap((v, i) =>
        v === null
          ? []
          : [
              `${(Number(x0) + ((Number(x1) - Number(x0)) * i) / (POINTS - 1)).toFixed(1)},${(Number(y1) - ((v - Number(low)) / (Number(high) - Number(low))) * (Number(y1) - Number(y0))).toFixed(1)}`,
            ],
      );
      append(
        svg,
        h("path", {
          class: "guess",
          d: points.length > 1 ? `M${points.join("L")}` : points.length === 1 ? `M${points[0]}h1` : "",
        }),
        true,
      );
    }
  }

  function set(panelId: string, index: number, value: number): void {
    const values = guesses.get(panelId) ?? Array.from({ length: POINTS }, () => null);
    values[index] = value;
    guesses.set(panelId, values);
    paint();
  }

  function draw(e: PointerEvent): void {
    if (!on || revealed || e.buttons === 0) return;
    const svg = (e.target as Element).closest<SVGSVGElement>("svg.panel");
    const panel = svg && asked().find((p) => p.id === svg.dataset.panel);
    if (!svg || !panel) return;
    const layer = find<SVGGElement>(svg, ".cursor-layer");
    const box = svg.getBoundingClientRect();
    const px = ((e.clientX - box.left) / box.width) * svg.viewBox.baseVal.width;
    const py = ((e.clientY - box.top) / box.height) * svg.viewBox.baseVal.height;
    const { x0, x1, y0, y1, low, high } = layer.dataset;
    const i = Math.round(((px - Number(x0)) / (Number(x1) - Number(x0))) * (POINTS - 1));
    if (i < 0 || i >= POINTS) return;
    const share = Math.min(1, Math.max(0, (Number(y1) - py) / (Number(y1) - Number(y0))));
    set(panel.id, i, Number(low) + share * (Number(high) - Number(low)));
    e.preventDefault();
  }
  stack.addEventListener("pointerdown", draw);
  stack.addEventListener("pointermove", draw);

  /** Sliders for those who draw with keys: one for each point. */
  function controls(): void {
    const r = reader;
    if (!r) return;
    if (!on) {
      panelHost.hidden = true;
      return;
    }
    panelHost.hidden = false;
    if (revealed) {
      const lines = asked().map((p) => {
        const line = p.lines[0];
        const values = guesses.get(p.id);
        if (!line || !values) return `${p.title}: no guess drawn.`;
        const [low, high] = range(p);
        const answer = values.map((_, i) => interpolate(line.days, line.values, dayOf(i)));
        const off = distance(values, answer, high - low);
        return off === null
          ? `${p.title}: no guess drawn.`
          : `${p.title}: on average ${number(r, off * 100)} % of the chart's height away.`;
      });
      replaceContents(panelHost, [
        h("p", {}, lines.join(" ")),
        h("button", { type: "button", id: "lesson-again" }, "Guess again"),
      ]);
    } else {
      replaceContents(panelHost, [
        h("p", {}, "Draw in the three upper charts with the pointer, or set points with the sliders. Which is highest first?"),
        h(
          "details",
          {},
          h("summary", {}, "Set points with the keyboard"),
          asked().map((p) => {
            const [low, high] = range(p);
            return h(
              "fieldset",
              { class: "guess-points" },
              h("legend", {}, `${p.title}, ${p.unit}`),
              Array.from({ length: POINTS }, (_, i) =>
                h(
                  "label",
                  {},
                  h("span", {}, `day ${number(r, dayOf(i))}`),
                  h("input", {
                    type: "range",
                    min: String(low),
                    max: String(high),
                    step: String((high - low) / 40),
                    value: String(guesses.get(p.id)?.[i] ?? low),
                    "data-guess": p.id,
                    "data-point": i,
                    "aria-label": `${p.title} on day ${number(r, dayOf(i))}`,
                  }),
                ),
              ),
            );
          }),
        ),
        h("button", { type: "button", id: "lesson-reveal", class: "primary" }, "Show the answer"),
      ]);
    }
  }

  panelHost.addEventListener("input", (e) => {
    const input = e.target as HTMLInputElement;
    if (!input.dataset.guess) return;
    set(input.dataset.guess, Number(input.dataset.point), Number(input.value));
    if (reader) input.setAttribute("aria-valuetext", figure(reader, Number(input.value)));
  });
  panelHost.addEventListener("click", (e) => {
    const id = (e.target as Element).id;
    if (id !== "lesson-reveal" && id !== "lesson-again") return;
    revealed = id === "lesson-reveal";
    if (!revealed) guesses.clear();
    controls();
    redraw();
  });
  toggle.addEventListener("click", () => {
    on = !on;
    revealed = false;
    guesses.clear();
    toggle.setAttribute("aria-pressed", String(on));
    controls();
    redraw();
  });

  return {
    active: () => on && !revealed,
    refresh(list, span, forReader) {
      panels = list;
      days = span;
      reader = forReader;
      paint();
    },
  };
}

function interpolate(days: readonly number[], values: readonly (number | null)[], day: number): number | null {
  let i = 0;
  while (i < days.length - 2 && days[i + 1]! < day) i++;
  const a = values[i] ?? null;
  const b = values[i + 1] ?? null;
  if (a === null || b === null) return a;
  const span = days[i + 1]! - days[i]!;
  return span > 0 ? a + ((b - a) * (day - days[i]!)) / span : a;
}
