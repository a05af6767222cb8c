// The live page: one state, one function that changes it, and the redraw after each change.
import type { RunResult } from "../../scenarios/result/result.ts";
import { questionsOf, type SectionId } from "../body.ts";
import { type Context, focused } from "../sections/context.ts";
import { comparedTitle } from "../view/names.ts";
import { number, readerOf } from "../view/reader.ts";
import { listenForControls, openAddress } from "./controls.ts";
import { find } from "./dom.ts";
import { listenForDrags } from "./drag.ts";
import { hasModel } from "./engine.ts";
import { explainTerms } from "./explain.ts";
import { fileName, saveFile } from "./files.ts";
import { learner } from "./learn.ts";
import { livingParts } from "./living.ts";
import { usableLocale } from "./locale.ts";
import { present } from "./present.ts";
import { printing } from "./printing.ts";
import { browserStore, keepReadings, onKitScale, readingChanges, storedReadings } from "./readings.ts";
import { type Renderer, renderer } from "./render.ts";
import { listenForArrows, settleStops } from "./roving.ts";
import { type Scheduler, scheduler } from "./scheduler.ts";
import { slidesOf } from "./slides.ts";
import {
  type Action,
  baseOf,
  contextOf,
  initialState,
  type PageState,
  type Redraw,
  redrawAfter,
  update,
  zoomed,
} from "./state.ts";
import { takeaway } from "./takeaway.ts";
import { type Bench, type TryIt, tryIt } from "./try-it.ts";

/** Longest time slice of a redraw, so that the page stays responsive [ms]. */
const SLICE_MS = 24;

/** Text width of A4 between its margins: 184 mm at 96 CSS pixels per inch. */
const PAPER_PX = 695;

/** Sections that depend on the faults; they keep the old results while the faults of a changed rig are computed. */
const ON_FAULTS: readonly SectionId[] = ["faults", "sheets"];

/** Sections redrawn with a changed result, after the answer and the figures. */
const AFTER_RESULT: readonly SectionId[] = ["outage", "figures", "method", "cautions"];

/** Redraws the parts that an action affects. */
function redraw(what: Redraw, c: Context, draw: Renderer, work: Scheduler): void {
  switch (what) {
    case "page":
      work.cancel();
      draw.page(c);
      break;
    case "sections":
      void work.run(draw.sections(c));
      break;
    case "result":
    case "result without faults": {
      const whole = what === "result";
      for (const id of ON_FAULTS) document.getElementById(id)?.classList.toggle("waiting", !whole);
      const after = whole ? [...AFTER_RESULT, ...ON_FAULTS] : AFTER_RESULT;
      void work.run([...draw.sections(c, ["answer"]), ...draw.figures(c), ...draw.sections(c, after)]);
      break;
    }
    case "charts":
      void work.run(draw.charts(c));
      break;
    case "film":
      draw.film(c)();
      break;
    default:
  }
}

/** The operations of "Try it", as actions on the state. */
const benchOf = (state: () => PageState, dispatch: (action: Action) => void, openOriginal: () => void): Bench => ({
  base: () => baseOf(state()),
  reader: () => state().reader,
  kept: () => state().kept,
  comparing: () => state().comparing,
  moved: (moved) => dispatch({ type: "moved", moved }),
  curvesArrived: (nitrogen) => dispatch({ type: "curves arrived", nitrogen }),
  changed: (result, whole) => dispatch({ type: "changed", result, whole }),
  asInTheFile: () => dispatch({ type: "as in the file" }),
  keep: (name) => dispatch({ type: "keep", name }),
  discard: (index) => dispatch({ type: "discard", index }),
  compare: (on) => dispatch({ type: "compare", on }),
  openAnother: (result) => dispatch({ type: "open another", results: [result] }),
  reset: openOriginal,
});

/** Updates name and question above the answer after another scenario is loaded. */
function retitle(results: readonly RunResult[]): void {
  const title = results.length === 1 ? results[0]!.name : comparedTitle(results.map((r) => r.name));
  find(document, "h1").textContent = title;
  find(document, ".title-block .question").textContent = questionsOf(results);
  document.title = `${title} · Sumpwright`;
}

/** Outage run of some faults: from the result, or computed by the model. */
async function outageOf(result: RunResult, ids: readonly string[], model: TryIt | null) {
  const wanted = [...ids].sort().join("|");
  const known = result.hydraulics.stories.find((s) => [...s.faults].sort().join("|") === wanted);
  if (known || !model) return known;
  const { source, file, seed } = result;
  const answer = await model.quick.ask({ source, file, seed, changes: [], faults: ids, cachedFaults: null });
  if (!answer?.ok || answer.kind !== "story") return undefined;
  const names = ids.map((id) => result.hydraulics.faults.find((f) => f.id === id)?.name ?? id);
  return { ...answer.story, title: names.join(" and ") };
}

/** Makes the page written by the command line interactive. */
export function start(original: readonly RunResult[]): void {
  const main = find<HTMLElement>(document, "#main");
  const work = scheduler(
    { now: () => performance.now(), nextTask: () => new Promise((resolve) => setTimeout(resolve)) },
    SLICE_MS,
  );
  const store = browserStore();
  let state = initialState(original, readerOf(original[0]!, usableLocale()));
  let onPaper = false;
  const width = (): number => (onPaper ? PAPER_PX : Math.max(300, Math.floor(main.clientWidth)));
  const context = (): Context => contextOf(state, width());

  function dispatch(action: Action): void {
    const before = state;
    state = update(state, action);
    const what = redrawAfter(before, state);
    if (action.type === "open another") {
      model?.forget();
      retitle(action.results);
    }
    if (action.type === "focus") model?.forget();
    if (before.readings !== state.readings || before.changed !== state.changed || before.focus !== state.focus)
      learning?.forget();
    if (before.readings !== state.readings && action.type !== "basis") {
      const { file, name } = baseOf(state);
      keepReadings(store, file, name, state.readings);
    }
    if (action.type === "fold") openFold(action.id, action.open);
    else redraw(what, context(), draw, work);
    if (what === "page") window.scrollTo(0, 0);
  }

  /** Draws a fold when it opens. If an address opens it, the state changes before the element. */
  function openFold(id: string, open: boolean): void {
    const details = document.querySelector<HTMLDetailsElement>(`[data-fold="${CSS.escape(id)}"]>details`);
    if (!details) return;
    if (open && details.querySelector(".fold-contents")?.childElementCount === 0) draw.fold(context(), id);
    if (details.open !== open) details.open = open;
  }

  const zoom = (factor: number, day: number | null): void =>
    dispatch({ type: "zoom", period: factor === 0 ? null : zoomed(state, factor, day) });

  const living = livingParts({
    model: () => model,
    storyId: () => state.storyId,
    onStory: (id) => dispatch({ type: "film", id }),
    onZoom: zoom,
    onLesson: () => {
      if (state.period) dispatch({ type: "zoom", period: null });
      else redraw("charts", context(), draw, work);
    },
    onTables: () => draw.tables(context()),
    onSheets: () => takeaways.showDates(),
    onCurves: (section) => {
      if (learning) learning.mount(section);
      else section.querySelector("#readings-learn")?.remove();
    },
  });
  const draw = renderer(main, living);
  const model = hasModel()
    ? tryIt(
        benchOf(
          () => state,
          dispatch,
          () => dispatch({ type: "open another", results: original }),
        ),
      )
    : null;
  const learning = model
    ? learner(() => {
        const { source, file, seed, readings, kit } = baseOf(state);
        const own = readingChanges(onKitScale(state.readings, state.reader, kit), readings.length);
        return { source, file, seed, changes: [...model.changes(), ...own], readings: readings.length + state.readings.length };
      })
    : null;
  const takeaways = takeaway(main, () => {
    const c = context();
    return { result: focused(c), results: c.changed ? [c.changed] : c.results, reader: c.reader };
  });

  async function playFaults(ids: readonly string[]): Promise<void> {
    const story = await outageOf(focused(context()), ids, model);
    if (!story) return;
    dispatch({ type: "film arrived", story });
    const drawing = find<HTMLElement>(document, "#drawing");
    drawing.scrollIntoView({ behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
    find<HTMLElement>(drawing, "#play").focus({ preventScroll: true });
  }

  async function saveReadings(): Promise<void> {
    const base = baseOf(state);
    const changes = readingChanges(onKitScale(state.readings, state.reader, base.kit), base.readings.length);
    const text = changes.length > 0 ? await model?.textWith(changes) : null;
    if (text) saveFile(fileName(base.name, "yaml"), text, "text/yaml");
  }

  listenForControls({
    dispatch,
    zoom: (factor) => zoom(factor, living.day()),
    playFaults: (ids) => void playFaults(ids),
    present: () => present(slidesOf(context())),
    saveReadings: () => void saveReadings(),
    learn: () => learning?.press(),
  });
  listenForArrows(document.body);
  explainTerms();
  if (model) listenForDrags(main, (id, value) => model.move(id, value));
  followWidth(main, width, () => void work.run(draw.figures(context())));
  printPages({
    folds: () => [...document.querySelectorAll<HTMLElement>("[data-fold]")].map((e) => e.dataset.fold ?? ""),
    open: () => state.open,
    setFold: (id, open) => dispatch({ type: "fold", id, open }),
    setPaper(paper) {
      onPaper = paper;
      for (const step of draw.figures(context())) step();
    },
  });

  bringToLife();

  function bringToLife(): void {
    document.documentElement.classList.add("alive");
    const c = context();
    settleStops(main);
    for (const section of main.querySelectorAll<HTMLElement>(":scope>[id]")) living.mounted(section.id as SectionId, section, c);
    const { file, name } = baseOf(state);
    const kept = storedReadings(store, file, name);
    if (kept.length > 0) dispatch({ type: "readings", readings: kept });
    // The page was written with English number format: redraw it for another language, otherwise only fit the charts to
    // the width.
    const written = { ...state.reader, locale: "en" };
    const now = context();
    const steps =
      number(state.reader, 12345.6, 1) === number(written, 12345.6, 1) ? draw.figures(now).slice(1) : draw.sections(now);
    void work.run(steps).then(() => {
      openAddress(location.hash, dispatch);
      whenIdle(() => model?.warm());
    });
  }
}

/** Redraws the figures when the width of the column changes. */
function followWidth(main: HTMLElement, width: () => number, drawFigures: () => void): void {
  let last = width();
  new ResizeObserver(() => {
    const now = width();
    if (Math.abs(now - last) < 2) return;
    last = now;
    drawFigures();
  }).observe(main);
}

interface PrintPages {
  folds(): readonly string[];
  open(): ReadonlySet<string>;
  setFold(id: string, open: boolean): void;
  setPaper(paper: boolean): void;
}

/**
 * For printing, fits the charts to the paper and opens every printed fold, synchronously, because the browser does not
 * wait.
 */
function printPages(page: PrintPages): void {
  let closeAgain: readonly string[] = [];
  printing(
    (wanted) => {
      closeAgain = (wanted ?? page.folds()).filter((id) => !page.open().has(id));
      for (const id of closeAgain) page.setFold(id, true);
      page.setPaper(true);
    },
    () => {
      page.setPaper(false);
      for (const id of closeAgain) page.setFold(id, false);
    },
  );
}

function whenIdle(then: () => void): void {
  if ("requestIdleCallback" in window) requestIdleCallback(then, { timeout: 2000 });
  else setTimeout(then, 500);
}
