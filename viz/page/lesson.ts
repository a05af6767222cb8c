// The lesson: hides the answer, lets the reader draw a guess with pointer or keys, then shows both.
import type { Panel } from "../charts/panel.ts";
import { NITROGEN, range } from "../charts/panel.ts";
import type { Period } from "../charts/scale.ts";
import { type Child, h } from "../view/markup.ts";
import { figure, number, type Reader } from "../view/reader.ts";
import { append, find, replaceContents } from "./dom.ts";
import { dayOfPoint, distanceFrom, type Guess, type Guesses, POINTS, pointAt, withPoint } from "./guess.ts";

export interface Lesson {
  /** Call after a redraw of the charts: hides or shows the answers, and draws the guesses. */
  refresh(panels: readonly Panel[], period: Period, reader: Reader): void;
}

interface Shown {
  readonly panels: readonly Panel[];
  readonly days: number;
  readonly reader: Reader;
}

const asked = ({ panels }: Shown): readonly Panel[] => panels.filter((p) => NITROGEN.some((what) => what === p.id));

/** Text about the distance of the guesses from each curve. */
function verdictWords(shown: Shown, guesses: Guesses): string {
  const { days, reader } = shown;
  return asked(shown)
    .map((panel) => {
      const guess = guesses.get(panel.id);
      const off = guess ? panel.lines.map((line) => ({ line, share: distanceFrom(guess, panel, line, days) })) : [];
      const drawn = off.filter((o) => o.share !== null);
      if (drawn.length === 0) return `${panel.title}: no guess drawn.`;
      const words = drawn.map(({ line, share }) => {
        const which = panel.lines.length > 1 ? ` from “${line.label}”` : "";
        return `on average ${number(reader, (share ?? 0) * 100)} % of the chart's height away${which}`;
      });
      return `${panel.title}: ${words.join(", ")}.`;
    })
    .join(" ");
}

/** Sliders for keyboard users, one for each point. */
function pointSliders(shown: Shown, guesses: Guesses): Child {
  const { days, reader } = shown;
  return asked(shown).map((panel) => {
    const [low, high] = range(panel);
    return h(
      "fieldset",
      { class: "guess-points" },
      h("legend", {}, `${panel.title}, ${panel.unit}`),
      Array.from({ length: POINTS }, (_, i) => {
        const day = number(reader, dayOfPoint(days, i));
        return h(
          "label",
          {},
          h("span", {}, `day ${day}`),
          h("input", {
            type: "range",
            min: String(low),
            max: String(high),
            step: String((high - low) / 40),
            value: String(guesses.get(panel.id)?.[i] ?? low),
            "data-guess": panel.id,
            "data-point": i,
            "aria-label": `${panel.title} on day ${day}`,
          }),
        );
      }),
    );
  });
}

function guessPath(svg: SVGSVGElement, guess: Guess): string {
  const { x0, x1, y0, y1, low, high } = find<SVGGElement>(svg, ".cursor-layer").dataset;
  const [left, right, top, bottom] = [Number(x0), Number(x1), Number(y0), Number(y1)];
  const points = guess.flatMap((v, i) => {
    if (v === null) return [];
    const x = left + ((right - left) * i) / (POINTS - 1);
    const y = bottom - ((v - Number(low)) / (Number(high) - Number(low))) * (bottom - top);
    return [`${x.toFixed(1)},${y.toFixed(1)}`];
  });
  return points.length > 1 ? `M${points.join("L")}` : points.length === 1 ? `M${points[0]}h1` : "";
}

/** @param redraw redraws the charts; for a guess they show all days */
export function lesson(section: HTMLElement, redraw: () => void): Lesson {
  const toggle = find<HTMLButtonElement>(section, "#lesson");
  const panelHost = find<HTMLElement>(section, "#lesson-panel");
  const stack = find<HTMLElement>(section, "[data-stack]");
  let guesses: Guesses = new Map();
  let on = false;
  let revealed = false;
  let shown: Shown | null = null;
  const guessing = (): boolean => on && !revealed;

  function paint(): void {
    stack.classList.toggle("guessing", guessing());
    section.classList.toggle("lesson-on", on);
    // Hides the answer elsewhere on the page too.
    document.documentElement.classList.toggle("lesson-hides", guessing());
    if (!shown) return;
    for (const panel of asked(shown)) {
      const svg = section.querySelector<SVGSVGElement>(`svg.panel[data-panel="${panel.id}"]`);
      if (!svg) continue;
      for (const part of svg.querySelectorAll(".answer,.band")) part.classList.toggle("hidden", guessing());
      svg.querySelector(".guess")?.remove();
      const guess = guesses.get(panel.id);
      if (on && guess) append(svg, h("path", { class: "guess", d: guessPath(svg, guess) }), true);
    }
  }

  function draw(e: PointerEvent): void {
    if (!guessing() || e.buttons === 0 || !shown) return;
    const svg = (e.target as Element).closest<SVGSVGElement>("svg.panel");
    const panel = svg && asked(shown).find((p) => p.id === svg.dataset.panel);
    if (!svg || !panel) return;
    const { x0, x1, y0, y1, low, high } = find<SVGGElement>(svg, ".cursor-layer").dataset;
    const box = svg.getBoundingClientRect();
    const px = ((e.clientX - box.left) / box.width) * svg.viewBox.baseVal.width;
    const py = ((e.clientY - box.top) / box.height) * svg.viewBox.baseVal.height;
    const shareX = (px - Number(x0)) / (Number(x1) - Number(x0));
    const shareY = (Number(y1) - py) / (Number(y1) - Number(y0));
    const point = pointAt(shareX, shareY, [Number(low), Number(high)]);
    if (!point) return;
    guesses = withPoint(guesses, panel.id, point.index, point.value);
    paint();
    e.preventDefault();
  }

  function controls(): void {
    panelHost.hidden = !on;
    if (!on || !shown) return;
    if (revealed)
      replaceContents(panelHost, [
        h("p", {}, verdictWords(shown, guesses)),
        h("button", { type: "button", id: "lesson-again" }, "Guess again"),
      ]);
    else
      replaceContents(panelHost, [
        h(
          "p",
          {},
          shown.panels.some((p) => p.lines.length > 1)
            ? "Draw the curve that you expect in each chart. Which scenario will it be nearest to?"
            : "Draw the curve that you expect in each chart, with the pointer or with the sliders. Which is highest first?",
        ),
        h("details", {}, h("summary", {}, "Set points with the keyboard"), pointSliders(shown, guesses)),
        h("button", { type: "button", id: "lesson-reveal", class: "primary" }, "Show the answer"),
      ]);
  }

  function begin(next: { on: boolean; revealed: boolean }): void {
    if (!next.revealed) guesses = new Map();
    on = next.on;
    revealed = next.revealed;
    toggle.setAttribute("aria-pressed", String(on));
    controls();
    redraw();
  }

  stack.addEventListener("pointerdown", draw);
  stack.addEventListener("pointermove", draw);
  panelHost.addEventListener("input", (e) => {
    const input = e.target as HTMLInputElement;
    if (!input.dataset.guess || !shown) return;
    guesses = withPoint(guesses, input.dataset.guess, Number(input.dataset.point), Number(input.value));
    input.setAttribute("aria-valuetext", figure(shown.reader, Number(input.value)));
    paint();
  });
  panelHost.addEventListener("click", (e) => {
    const { id } = e.target as Element;
    if (id === "lesson-reveal") begin({ on: true, revealed: true });
    else if (id === "lesson-again") begin({ on: true, revealed: false });
  });
  toggle.addEventListener("click", () => begin({ on: !on, revealed: false }));

  return {
    refresh(panels, period, reader) {
      shown = { panels, days: period.to, reader };
      paint();
    },
  };
}
