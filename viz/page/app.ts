// The live page: what is chosen, what is changed, and drawing anew only what that touches.
import type { RunResult } from "../../scenarios/result/result.ts";
import { SECTIONS, type SectionId } from "../body.ts";
import { drawLedger, drawSurfaces } from "../charts/bars.ts";
import { drawClocks } from "../charts/clocks.ts";
import { drawRail } from "../charts/rail.ts";
import { type Context, focused, type Reading, spanDays } from "../sections/context.ts";
import { curvePanels, curveTables, panelAt } from "../sections/curves.ts";
import { stillFigure } from "../sections/picture.ts";
import type { Child } from "../view/markup.ts";
import { type Basis, number, type Reader, readerOf, type UnitSystem } from "../view/reader.ts";
import { type Cursor, cursor } from "./cursor.ts";
import { append, find, replaceContents } from "./dom.ts";
import { hasModel } from "./engine.ts";
import { type Lesson, lesson } from "./lesson.ts";
import { usableLocale } from "./locale.ts";
import { type Player, player } from "./player.ts";
import { takeaway } from "./takeaway.ts";
import { type TryIt, tryIt } from "./try-it.ts";

/** The page is drawn in slices: no longer than this at a time, so that it answers a finger meanwhile [ms]. */
const SLICE_MS = 24;

/** Width of the text on A4 between its margins: 184 mm at 96 CSS pixels to the inch. */
const PAPER_PX = 695;

const nextTask = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

/** Takes over the page that was drawn on the way out of the command line. */
export function start(original: readonly RunResult[]): void {
  const main = find<HTMLElement>(document, "#main");
  const readings: Reading[] = [];
  let results = original;
  let focus = 0;
  let reader: Reader = readerOf(original[0]!, usableLocale());
  let changed: RunResult | null = null;
  let storyId: string | null = null;
  let play: Player | null = null;
  let points: Cursor | null = null;
  let guess: Lesson | null = null;
  let turn = 0;

  /** Paper has its own width, whatever the window's. */
  let onPaper = false;
  const width = (): number => (onPaper ? PAPER_PX : Math.max(300, Math.floor(main.clientWidth)));
  const model: TryIt | null = hasModel()
    ? tryIt({
        base: () => results[focus]!,
        reader: () => reader,
        showDays(nitrogen) {
          changed = { ...(changed ?? results[focus]!), nitrogen };
          void inSlices(charts(context()));
        },
        show(result, whole) {
          changed = result;
          void redrawChanged(whole);
        },
        replace: (result) => takeOver([result], result.units),
        reset: () => takeOver(original, reader.units),
      })
    : null;
  const context = (): Context => ({
    results,
    focus,
    reader,
    width: width(),
    changed,
    readings,
    live: true,
    ...(model ? { moved: model.moved } : {}),
  });
  const takeaways = takeaway(main, () => ({
    result: focused(context()),
    results: changed ? [changed] : results,
    reader,
  }));

  /** Does the steps one after the other, in slices; a newer drawing ends an older one. */
  async function inSlices(steps: readonly (() => void)[]): Promise<void> {
    const mine = ++turn;
    let began = performance.now();
    for (const step of steps) {
      if (performance.now() - began > SLICE_MS) {
        await nextTask();
        if (mine !== turn) return;
        began = performance.now();
      }
      step();
    }
  }

  /** Changes something without moving what the reader looks at, when all of it is above the window. */
  function holding(host: HTMLElement, change: () => HTMLElement): void {
    const before = host.getBoundingClientRect();
    const after = change();
    if (before.bottom <= 0) window.scrollBy(0, after.offsetHeight - before.height);
  }

  const into =
    (name: string, draw: () => Child): (() => void) =>
    () => {
      const host = main.querySelector<HTMLElement>(`[data-figure="${name}"]`);
      if (host) replaceContents(host, draw());
    };

  /** The charts over days, each as a step: drawn at the width there is into the place its section left for it. */
  function charts(c: Context): readonly (() => void)[] {
    const list = curvePanels(c);
    const days = spanDays(results);
    const marks = (changed ? [changed] : results).flatMap((x) => x.nitrogen.marks);
    const panels = list.map((panel) => () => {
      const host = main.querySelector<HTMLElement>(`[data-figure="panel:${panel.id}"]`);
      if (host) replaceContents(host, panelAt(c, panel, host.dataset.last === "yes"));
    });
    return [
      into("rail", () => drawRail(marks, days, c.width)),
      ...panels,
      () => {
        points?.show(list, days, reader, c.width);
        guess?.refresh(list, days, reader);
      },
    ];
  }

  /** Every figure of the page. */
  function figures(c: Context): readonly (() => void)[] {
    const r = focused(c);
    return [
      () => play?.show(r, storyId, reader, c.width),
      ...charts(c),
      into("clocks", () => drawClocks(r.outage, c.width, reader)),
      into("surfaces", () => drawSurfaces(r.nitrogen.surfaces, c.width, reader)),
      into("ledger", () => drawLedger(r.nitrogen.ledger, c.width, reader)),
      into("still", () => stillFigure(c)),
      showTables,
    ];
  }

  /** Tables behind the charts are long: made when somebody opens them. */
  function showTables(): void {
    const host = main.querySelector<HTMLElement>("[data-figure=tables]");
    if (host?.closest("details")?.open) replaceContents(host, curveTables(context()));
    else host?.replaceChildren();
  }

  /** Draws one section anew. */
  function put(id: SectionId): void {
    const old = document.getElementById(id);
    const fresh = document.createDocumentFragment();
    append(fresh, SECTIONS[id](context()));
    const section = fresh.firstElementChild;
    if (!old || !(section instanceof HTMLElement)) return;
    const open = new Set([...old.querySelectorAll("details[open]>summary")].map((s) => s.textContent));
    for (const summary of section.querySelectorAll("details>summary"))
      if (open.has(summary.textContent)) summary.parentElement!.setAttribute("open", "");
    holding(old, () => {
      old.replaceWith(section);
      enliven(id, section);
      return section;
    });
  }

  /** What moves in a section, once it stands. */
  function enliven(id: SectionId, section: HTMLElement): void {
    const c = context();
    if (id === "drawing") {
      play?.stop();
      play = player(find<HTMLElement>(section, "[data-player]"), (story) => {
        storyId = story;
        play?.show(focused(context()), story, reader, width());
      });
      play.show(focused(c), storyId, reader, c.width);
    } else if (id === "curves") {
      points = cursor(find<HTMLElement>(section, "[data-stack]"));
      guess = lesson(section, () => void inSlices(charts(context())));
      points.show(curvePanels(c), spanDays(results), reader, c.width);
      guess.refresh(curvePanels(c), spanDays(results), reader);
      find(section, "details.behind").addEventListener("toggle", showTables);
    } else if (id === "try") model?.mount(section);
    else if (id === "sheets") takeaways.showDates();
  }

  const there = (): readonly SectionId[] => (Object.keys(SECTIONS) as SectionId[]).filter((id) => document.getElementById(id));

  /** Everything in other words: units, basis, another scenario in focus. */
  const redraw = (): Promise<void> => inSlices([...there().map((id) => () => put(id)), ...figures(context()).slice(-2)]);

  /** After a change by hand: first what is answered, then what hangs on it. The panel in hand stays. */
  function redrawChanged(whole: boolean): Promise<void> {
    for (const id of ["faults", "sheets"] as const) document.getElementById(id)?.classList.toggle("waiting", !whole);
    const after: readonly SectionId[] = whole ? ["figures", "faults", "sheets", "method"] : ["figures"];
    return inSlices([() => put("verdict"), ...figures(context()), ...after.map((id) => () => put(id))]);
  }

  /** Other scenarios take the page. */
  function takeOver(next: readonly RunResult[], units: UnitSystem): void {
    results = next;
    focus = 0;
    changed = null;
    storyId = null;
    reader = { ...reader, units };
    model?.forget();
    const first = next[0]!;
    if (next !== original || next.length === 1) {
      find(document, "h1").textContent = first.name;
      find(document, ".title-block .question").textContent = first.question;
      document.title = `${first.name} · Sumpwright`;
    }
    turn++;
    replaceContents(
      main,
      Object.values(SECTIONS).map((section) => section(context())),
    );
    for (const id of there()) enliven(id, document.getElementById(id)!);
    window.scrollTo(0, 0);
  }

  /** A cell of the fault matrix: play its story, or have the model tell it. */
  async function playFaults(ids: readonly string[]): Promise<void> {
    const r = focused(context());
    const wanted = [...ids].sort().join("|");
    let story = r.hydraulics.stories.find((s) => [...s.faults].sort().join("|") === wanted);
    if (!story && model) {
      const { source, file, seed } = r;
      const answer = await model.quick.ask({ source, file, seed, changes: [], faults: ids, cachedFaults: null });
      if (answer?.ok && answer.kind === "story") {
        const names = ids.map((id) => r.hydraulics.faults.find((f) => f.id === id)?.name ?? id);
        story = { ...answer.story, title: names.join(" and ") };
        const more = { ...r, hydraulics: { ...r.hydraulics, stories: [...r.hydraulics.stories, story] } };
        if (changed) changed = more;
        else results = results.map((x, i) => (i === focus ? more : x));
      }
    }
    if (!story) return;
    storyId = story.id;
    play?.show(focused(context()), storyId, reader, width());
    const drawing = find<HTMLElement>(document, "#drawing");
    drawing.scrollIntoView({ behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
    find<HTMLElement>(drawing, "#play").focus({ preventScroll: true });
  }

  document.addEventListener("click", (e) => {
    const faults = (e.target as Element).closest<HTMLElement>("button[data-faults]")?.dataset.faults;
    if (faults) void playFaults(faults.split("|"));
  });

  document.addEventListener("change", (e) => {
    const input = e.target as HTMLInputElement;
    if (input.name === "units") reader = { ...reader, units: input.value as UnitSystem };
    else if (input.name === "basis") {
      reader = { ...reader, basis: input.value as Basis };
      readings.length = 0;
    } else if (input.id === "focus") {
      focus = Number(input.value);
      storyId = null;
      changed = null;
      model?.forget();
    } else return;
    void redraw();
  });

  document.addEventListener("submit", (e) => {
    const form = e.target as HTMLFormElement;
    if (form.id !== "readings") return;
    e.preventDefault();
    const data = new FormData(form);
    readings.push({ what: String(data.get("what")), day: Number(data.get("day")), value: Number(data.get("value")) });
    void inSlices(charts(context()));
  });
  document.addEventListener("reset", (e) => {
    if ((e.target as HTMLFormElement).id !== "readings") return;
    readings.length = 0;
    void inSlices(charts(context()));
  });

  let lastWidth = width();
  new ResizeObserver(() => {
    const now = width();
    if (Math.abs(now - lastWidth) < 2) return;
    lastWidth = now;
    void inSlices(figures(context()));
  }).observe(main);

  // On paper the charts are drawn at its width, so that their words keep their size; all at once, since the browser does not wait.
  const forPaper = (paper: boolean) => (): void => {
    onPaper = paper;
    for (const step of figures(context())) step();
  };
  addEventListener("beforeprint", forPaper(true));
  addEventListener("afterprint", forPaper(false));

  document.documentElement.classList.add("alive");
  for (const id of there()) enliven(id, document.getElementById(id)!);
  // The page was written in English figures: another language's are put in, else only the charts take the width there is.
  const written = { ...reader, locale: "en" };
  if (number(reader, 12345.6, 1) === number(written, 12345.6, 1)) void inSlices(figures(context()).slice(1));
  else void redraw();
}
