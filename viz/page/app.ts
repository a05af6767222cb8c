// The live page: what is chosen, what is changed, and drawing it anew.
import type { RunResult } from "../../scenarios/result.ts";
import { sections } from "../body.ts";
import { drawLedger, drawSurfaces } from "../charts/bars.ts";
import { drawClocks } from "../charts/clocks.ts";
import { drawRail } from "../charts/rail.ts";
import { csvFiles } from "../csv.ts";
import { changeOf, differencesInWords, type Knob, type KnobChange, knobs } from "../knobs.ts";
import { h } from "../markup.ts";
import { type Basis, number, type Reader, readerOf, type UnitSystem } from "../reader.ts";
import { type Context, focused, spanDays } from "../sections/context.ts";
import { curvePanels, panelAt, type Reading } from "../sections/curves.ts";
import { calendarFile, dateOf } from "./calendar.ts";
import { cursor } from "./cursor.ts";
import { fill, find } from "./dom.ts";
import { engine } from "./engine.ts";
import { fileName, png, saveFile, standaloneSvg } from "./files.ts";
import { lesson } from "./lesson.ts";
import { type Player, player } from "./player.ts";

/** The browser's language; some systems report one that number formats do not know. */
function usableLocale(): string {
  try {
    return new Intl.NumberFormat(navigator.language).resolvedOptions().locale;
  } catch (error) {
    if (error instanceof RangeError) return "en";
    throw error;
  }
}

/** Takes over the page that was drawn on the way out of the command line. */
export function start(original: readonly RunResult[]): void {
  const main = find<HTMLElement>(document, "#main");
  const live = engine();
  const readings: Reading[] = [];

  let results = original;
  let focus = 0;
  let reader: Reader = readerOf(original[0]!, usableLocale());
  let changed: RunResult | null = null;
  let storyId: string | null = null;
  let moved = new Map<string, string>();
  let dayZero = "";
  let play: Player | null = null;
  let redrawFigures: () => void = () => {};

  const width = (): number => Math.max(300, Math.floor(main.clientWidth));
  const context = (): Context => ({ results, focus, reader, width: width(), changed });

  /** Draws every chart at the width there is, into the places the sections left for them. */
  function mountFigures(): void {
    const section = document.getElementById("curves");
    const stack = section?.querySelector<HTMLElement>("[data-stack]");
    const points = stack ? cursor(stack) : null;
    const guess = section ? lesson(section, () => redrawFigures()) : null;
    redrawFigures = () => {
      const c = context();
      const r = focused(c);
      const list = curvePanels(c);
      for (const host of main.querySelectorAll<HTMLElement>("[data-figure^='panel:']")) {
        const panel = list.find((p) => `panel:${p.id}` === host.dataset.figure);
        if (panel) fill(host, panelAt(c, panel, host.dataset.last === "yes", { readings }));
      }
      const rail = main.querySelector("[data-figure=rail]");
      if (rail)
        fill(
          rail,
          drawRail(
            (changed ? [changed] : results).flatMap((x) => x.nitrogen.marks),
            spanDays(results),
            c.width,
          ),
        );
      const clocks = main.querySelector("[data-figure=clocks]");
      if (clocks) fill(clocks, drawClocks(r.outage, c.width, reader));
      const surfaces = main.querySelector("[data-figure=surfaces]");
      if (surfaces) fill(surfaces, drawSurfaces(r.nitrogen.surfaces, c.width, reader));
      const ledger = main.querySelector("[data-figure=ledger]");
      if (ledger) fill(ledger, drawLedger(r.nitrogen.ledger, c.width, reader));
      play?.show(r, storyId, reader, c.width);
      points?.show(list, spanDays(results), reader, c.width);
      guess?.refresh(list, spanDays(results), reader);
    };
    redrawFigures();
  }

  /** Draws the sections anew. Try it keeps its place: it is moved over, so that a slider in hand is not taken away. */
  function render(keepTry = false): void {
    const keep = keepTry ? document.getElementById("try") : null;
    play?.stop();
    const open = new Set([...main.querySelectorAll("details[open]>summary")].map((s) => s.textContent));
    const top = keep?.getBoundingClientRect().top;
    fill(main, sections(context()));
    for (const summary of main.querySelectorAll("details>summary"))
      if (open.has(summary.textContent)) summary.parentElement!.setAttribute("open", "");
    if (keep) {
      document.getElementById("try")?.replaceWith(keep);
      if (top !== undefined) window.scrollBy(0, keep.getBoundingClientRect().top - top);
    }
    mount(!keep);
  }

  function mount(freshTry: boolean): void {
    const picture = main.querySelector<HTMLElement>("[data-player]");
    play = picture
      ? player(picture, (id) => {
          storyId = id;
          play?.show(focused(context()), id, reader, width());
        })
      : null;
    mountFigures();
    if (freshTry) mountTry();
    showDates();
  }

  function mountTry(): void {
    const panel = document.getElementById("try");
    if (!panel || !live) return;
    panel.hidden = false;
    const state = find<HTMLElement>(panel, "#try-state");
    const words = find<HTMLElement>(panel, "#try-words");
    const base = (): RunResult => results[focus]!;
    const list = (): readonly Knob[] => knobs(base(), reader);
    let timer = 0;

    async function run(): Promise<void> {
      const all = list();
      const changes: KnobChange[] = [...moved].flatMap(([id, value]) => {
        const knob = all.find((k) => k.id === id);
        return knob && value !== "" ? [changeOf(knob, value, base().source)] : [];
      });
      if (changes.length === 0) {
        changed = null;
        state.textContent = "";
        fill(words, null);
        render(true);
        return;
      }
      state.textContent = "Running…";
      const started = performance.now();
      const { source, file, seed } = base();
      // First without the fault matrix, for an answer at once; then with it, while the reader looks.
      for (const full of [false, true]) {
        const answer = await live!.ask({ source, file, seed, changes, faults: [], full });
        if (!answer) return;
        if (!answer.ok) {
          state.textContent = "This does not work:";
          fill(
            words,
            h(
              "ul",
              {},
              answer.errors.map((e) => h("li", {}, e)),
            ),
          );
          return;
        }
        if (answer.kind !== "result") return;
        changed = answer.result;
        state.textContent = `${full ? "Done, faults included," : "First answer"} after ${number(reader, (performance.now() - started) / 1000, 1)} s.`;
        const lines = differencesInWords(base(), changed, full);
        fill(
          words,
          lines.length > 0
            ? h(
                "ul",
                { class: "differences" },
                lines.map((l) => h("li", {}, l)),
              )
            : h("p", { class: "note" }, "No sentence changes."),
        );
        render(true);
      }
    }

    panel.addEventListener("input", (e) => {
      const input = e.target as HTMLInputElement;
      const id = input.dataset.knob;
      if (!id) return;
      moved.set(id, input.value);
      const knob = list().find((k) => k.id === id);
      const output = panel.querySelector(`[data-knob-value="${id}"]`);
      if (output && knob?.kind === "range")
        output.textContent = `${number(reader, Number(input.value), knob.step < 1 ? (knob.step === 0.125 ? 3 : 1) : 0)}${knob.unit ? ` ${knob.unit}` : ""}`;
      clearTimeout(timer);
      timer = window.setTimeout(() => void run(), 180);
    });
    find(panel, "#knobs").addEventListener("submit", (e) => e.preventDefault());
    find(panel, "#try-reset").addEventListener("click", () => {
      moved = new Map();
      changed = null;
      results = original;
      render();
    });
    find(panel, "#try-save").addEventListener("click", () =>
      saveFile(fileName(base().name, "yaml"), changed?.source ?? base().source, "text/yaml"),
    );
    find<HTMLInputElement>(panel, "#try-open").addEventListener("change", (e) => {
      const file = (e.target as HTMLInputElement).files?.[0];
      if (file) void open(file);
    });

    async function open(file: File): Promise<void> {
      state.textContent = "Running…";
      const answer = await live!.ask({
        source: await file.text(),
        file: file.name,
        seed: base().seed,
        changes: [],
        faults: [],
        full: true,
      });
      if (!answer) return;
      if (!answer.ok) {
        state.textContent = `${file.name} cannot be run:`;
        fill(words, h("pre", {}, answer.errors.join("\n\n")));
        return;
      }
      if (answer.kind !== "result") return;
      results = [answer.result];
      focus = 0;
      moved = new Map();
      changed = null;
      storyId = null;
      reader = { ...reader, units: answer.result.units };
      find(document, "h1").textContent = answer.result.name;
      find(document, ".title-block .question").textContent = answer.result.question;
      document.title = `${answer.result.name} · Sumpwright`;
      render();
      window.scrollTo(0, 0);
    }
    document.addEventListener("dragover", (e) => e.preventDefault());
    document.addEventListener("drop", (e) => {
      e.preventDefault();
      const file = e.dataTransfer?.files[0];
      if (file) void open(file);
    });
  }

  /** A cell of the fault matrix: play its story, or have the worker run it. */
  async function playFaults(ids: readonly string[]): Promise<void> {
    const r = focused(context());
    const wanted = [...ids].sort().join("|");
    let story = r.hydraulics.stories.find((s) => [...s.faults].sort().join("|") === wanted);
    if (!story && live) {
      const answer = await live.ask({ source: r.source, file: r.file, seed: r.seed, changes: [], faults: ids, full: false });
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

  function showDates(): void {
    const input = document.getElementById("day-zero") as HTMLInputElement | null;
    if (input && dayZero !== "") input.value = dayZero;
    for (const cell of document.querySelectorAll<HTMLElement>("td.date"))
      cell.textContent = dayZero === "" ? "" : dateOf(dayZero, Number(cell.dataset.day), reader.locale);
  }

  function printSheet(id: string): void {
    const sheet = document.getElementById(id);
    if (!sheet) return;
    document.body.classList.add("only-sheet");
    sheet.classList.add("print-me");
    addEventListener(
      "afterprint",
      () => {
        document.body.classList.remove("only-sheet");
        sheet.classList.remove("print-me");
      },
      { once: true },
    );
    print();
  }

  async function saveData(what: string): Promise<void> {
    const r = focused(context());
    if (what.startsWith("csv-")) {
      const suffix = what.slice(4);
      const table = csvFiles(r).find((t) => t.suffix === suffix);
      if (table) saveFile(fileName(`${r.name} ${suffix}`, "csv"), table.text, "text/csv");
    } else if (what === "json")
      saveFile(fileName(r.name, "json"), JSON.stringify(changed ? [changed] : results, null, 1), "application/json");
    else if (what === "scenario") saveFile(r.file.split(/[\\/]/).at(-1) ?? "scenario.yaml", r.source, "text/yaml");
    else if (what === "ics") {
      if (dayZero === "") dayZero = new Date().toISOString().slice(0, 10);
      showDates();
      saveFile(fileName(r.name, "ics"), calendarFile(r, dayZero), "text/calendar");
    }
  }

  document.addEventListener("click", (e) => {
    const button = (e.target as Element).closest<HTMLElement>("button");
    if (!button) return;
    const { data, save, print: sheet, faults } = button.dataset;
    if (data) void saveData(data);
    if (sheet) printSheet(sheet);
    if (faults) void playFaults(faults.split("|"));
    if (save) {
      const id = button.closest<HTMLElement>("[data-export]")?.dataset.export ?? "";
      const svg =
        main.querySelector<SVGSVGElement>(`svg.panel[data-panel="${CSS.escape(id)}"]`) ??
        main.querySelector<SVGSVGElement>(`[data-figure="${CSS.escape(id)}"] svg`);
      const name = `${focused(context()).name} ${id}`;
      if (svg && save === "svg") saveFile(fileName(name, "svg"), standaloneSvg(svg), "image/svg+xml");
      if (svg && save === "png") void png(svg).then((image) => saveFile(fileName(name, "png"), image));
    }
  });

  document.addEventListener("change", (e) => {
    const input = e.target as HTMLInputElement;
    if (input.name === "units") reader = { ...reader, units: input.value as UnitSystem };
    else if (input.name === "basis") reader = { ...reader, basis: input.value as Basis };
    else if (input.id === "focus") {
      focus = Number(input.value);
      storyId = null;
      moved = new Map();
      changed = null;
    } else if (input.id === "day-zero") {
      dayZero = input.value;
      showDates();
      return;
    } else return;
    if (input.name === "basis") readings.length = 0;
    render();
  });

  document.addEventListener("submit", (e) => {
    const form = e.target as HTMLFormElement;
    if (form.id !== "readings") return;
    e.preventDefault();
    const data = new FormData(form);
    readings.push({ what: String(data.get("what")), day: Number(data.get("day")), value: Number(data.get("value")) });
    redrawFigures();
  });
  document.addEventListener("reset", (e) => {
    if ((e.target as HTMLFormElement).id !== "readings") return;
    readings.length = 0;
    redrawFigures();
  });

  let lastWidth = 0;
  new ResizeObserver(() => {
    const now = width();
    if (Math.abs(now - lastWidth) < 2) return;
    lastWidth = now;
    redrawFigures();
  }).observe(main);

  document.documentElement.classList.add("alive");
  lastWidth = width();
  render();
}
