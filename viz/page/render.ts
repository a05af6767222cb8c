// Renders the state of the page into the document: whole sections, or only their figures.
import { SECTIONS, type SectionId } from "../body.ts";
import { drawLedger, drawSurfaces } from "../charts/bars.ts";
import { drawClocks } from "../charts/clocks.ts";
import { drawRail } from "../charts/rail.ts";
import { comparedChart } from "../sections/compare.ts";
import { type Context, focused, periodOf } from "../sections/context.ts";
import { curvePanels, curveTables, panelAt } from "../sections/curves.ts";
import { stillFigure } from "../sections/picture.ts";
import type { Child } from "../view/markup.ts";
import { append, replaceContents } from "./dom.ts";
import { settleStops } from "./roving.ts";
import type { Step } from "./scheduler.ts";

/** Callbacks of the interactive parts after a redraw of their section or a change of its data. */
export interface LiveParts {
  /** Called after a redraw of a section. */
  mounted(id: SectionId, section: HTMLElement, c: Context): void;
  /** Called after a change of the outage run in the drawing. */
  film(c: Context): void;
  /** Called after a redraw of the charts. */
  charts(c: Context): void;
}

export interface Renderer {
  /** Redraws every section at once. */
  page(c: Context): void;
  /** Steps that redraw the sections, one step for each. */
  sections(c: Context, ids?: readonly SectionId[]): readonly Step[];
  charts(c: Context): readonly Step[];
  /** Steps that redraw every figure, including the charts. */
  figures(c: Context): readonly Step[];
  film(c: Context): Step;
  tables(c: Context): void;
  /** Draws the contents of one fold. */
  fold(c: Context, id: string): void;
}

const sectionOf = (id: string): HTMLElement | null => document.getElementById(id);

const fresh = (child: Child): HTMLElement | null => {
  const made = document.createDocumentFragment();
  append(made, child);
  return made.firstElementChild instanceof HTMLElement ? made.firstElementChild : null;
};

/** Makes a change and preserves the scroll position of the visible part if the change is entirely above the window. */
function holding(host: HTMLElement, change: () => HTMLElement): void {
  const before = host.getBoundingClientRect();
  const after = change();
  if (before.bottom <= 0) window.scrollBy(0, after.offsetHeight - before.height);
}

/** Keeps elements open that were open in the old section; the state controls the folds. */
function keepOpen(old: HTMLElement, section: HTMLElement): void {
  const plain = "details:not([data-fold]>details)";
  const open = new Set([...old.querySelectorAll(`${plain}[open]>summary`)].map((s) => s.textContent));
  for (const summary of section.querySelectorAll(`${plain}>summary`))
    if (open.has(summary.textContent)) summary.parentElement!.setAttribute("open", "");
}

/** Keeps the focus on the same control. */
function keepFocus(change: () => void): void {
  const { id } = document.activeElement ?? {};
  change();
  if (id && document.activeElement?.id !== id) document.getElementById(id)?.focus({ preventScroll: true });
}

/** Draws into a host element. A closed fold is emptied instead and drawn when it opens. */
function drawInto(host: HTMLElement, draw: () => Child): void {
  const closed = host.closest("[data-fold]>details:not([open])");
  if (closed) closed.querySelector(".fold-contents")?.replaceChildren();
  else replaceContents(host, draw());
}

export function renderer(main: HTMLElement, live: LiveParts): Renderer {
  const into =
    (name: string, draw: () => Child): Step =>
    () => {
      for (const host of main.querySelectorAll<HTMLElement>(`[data-figure="${name}"]`)) drawInto(host, draw);
    };

  /** Steps that redraw one section. */
  const put =
    (c: Context, id: SectionId): Step =>
    () => {
      const old = sectionOf(id);
      if (!old) return;
      // A fold may have opened since this step was planned.
      const open = new Set(
        [...document.querySelectorAll<HTMLElement>("[data-fold]:has(>details[open])")].map((e) => e.dataset.fold ?? ""),
      );
      const section = fresh(SECTIONS[id]({ ...c, open }));
      if (!section) return;
      keepOpen(old, section);
      section.classList.toggle("waiting", old.classList.contains("waiting"));
      keepFocus(() =>
        holding(old, () => {
          old.replaceWith(section);
          settleStops(section);
          live.mounted(id, section, c);
          return section;
        }),
      );
    };

  const there = (): readonly SectionId[] => (Object.keys(SECTIONS) as SectionId[]).filter((id) => sectionOf(id));

  /** Charts over days, each drawn at the available width into the placeholder of its section. */
  function charts(c: Context): readonly Step[] {
    const shown = c.changed ? [c.changed] : c.results;
    const panels = curvePanels(c).map((panel) => () => {
      const host = main.querySelector<HTMLElement>(`[data-figure="panel:${panel.id}"]`);
      if (host) drawInto(host, () => panelAt(c, panel, host.dataset.last === "yes"));
    });
    const marks = shown.flatMap((r) => r.nitrogen.marks);
    return [into("rail", () => drawRail(marks, periodOf(c), c.width)), ...panels, () => live.charts(c)];
  }

  const film =
    (c: Context): Step =>
    () =>
      live.film(c);

  /** Tables of the charts; they are long, so they are created only when opened. */
  function tables(c: Context): void {
    const host = main.querySelector<HTMLElement>("[data-figure=tables]");
    if (host?.closest("details")?.open) replaceContents(host, curveTables(c));
    else host?.replaceChildren();
  }

  return {
    page(c) {
      replaceContents(
        main,
        Object.values(SECTIONS).map((section) => section(c)),
      );
      settleStops(main);
      for (const id of there()) live.mounted(id, sectionOf(id)!, c);
    },
    sections: (c, ids = there()) => ids.map((id) => put(c, id)),
    charts,
    film,
    figures(c) {
      const r = focused(c);
      return [
        film(c),
        ...charts(c),
        into("compared", () => comparedChart(c)),
        into("clocks", () => drawClocks(r.outage, c.width, c.reader)),
        into("surfaces", () => drawSurfaces(r.nitrogen.surfaces, c.width, c.reader)),
        into("ledger", () => drawLedger(r.nitrogen.ledger, c.width, c.reader)),
        into("still", () => stillFigure(c)),
        () => tables(c),
      ];
    },
    tables,
    fold(c, id) {
      const old = sectionOf(id);
      const sectionId = (id in SECTIONS ? id : "sheets") as SectionId;
      const section = fresh(SECTIONS[sectionId](c));
      const next = section?.id === id ? section : section?.querySelector<HTMLElement>(`#${CSS.escape(id)}`);
      const contents = next?.querySelector(".fold-contents");
      const host = old?.querySelector(".fold-contents");
      if (!host || !contents) return;
      host.replaceChildren(...contents.childNodes);
      settleStops(host);
      if (id in SECTIONS) live.mounted(sectionId, old!, c);
      else live.mounted("sheets", sectionOf("sheets")!, c);
    },
  };
}
