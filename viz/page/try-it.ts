// "Try it" in the page: reads the controls, runs the model, shows the differences, saves and opens scenario files.
import { type CachedFaults, faultsOf } from "../../scenarios/report/cached-faults.ts";
import type { NitrogenResult, RunResult } from "../../scenarios/result/result.ts";
import { changeOf, differencesInWords, type Knob, type KnobChange, knobs, knobText } from "../sections/knobs.ts";
import { differenceList } from "../sections/try.ts";
import { type Child, h } from "../view/markup.ts";
import { number, type Reader } from "../view/reader.ts";
import { find, replaceContents } from "./dom.ts";
import { type Engine, engine } from "./engine.ts";
import { fileName, saveFile } from "./files.ts";
import type { StoredChange } from "./state.ts";
import { MOST_STORED_CHANGES } from "./state.ts";
import { type Moved, move, moveAll, nameOf, redo, START, type Trail, undo } from "./what-if.ts";

/** Interface of the panel to the page: its input and its callbacks. */
export interface Bench {
  base(): RunResult;
  reader(): Reader;
  kept(): readonly StoredChange[];
  comparing(): boolean;
  moved(moved: Moved): void;
  /** Called with the curves of a changed run, before its result. */
  curvesArrived(nitrogen: NitrogenResult): void;
  /** Called with a changed run; if it is not `whole`, its fault results are still the old ones. */
  changed(result: RunResult, whole: boolean): void;
  asInTheFile(): void;
  keep(name: string): void;
  discard(index: number): void;
  compare(on: boolean): void;
  openAnother(result: RunResult): void;
  /** Restores the page as loaded from disk. */
  reset(): void;
}

export interface TryIt {
  mount(section: HTMLElement): void;
  /** Resets all controls without a run, because another scenario is on the page. */
  forget(): void;
  /** Sets a control from another part of the page. */
  move(id: string, value: string): void;
  /** Starts the model in advance, so that the first change is as fast as the next. */
  warm(): void;
  /** Runs outages with faults, for the cells of the matrix. */
  readonly quick: Engine;
  /** The current changes, for another request to the model. */
  changes(): readonly KnobChange[];
  /** Text of the scenario with the current and additional changes. */
  textWith(changes: readonly KnobChange[]): Promise<string | null>;
}

/** Parts of an earlier run that a quick answer needs, without its outage runs, which are long. */
const lean = ({ rig, findings, hydraulics }: RunResult): CachedFaults => ({ rig, findings, hydraulics: faultsOf(hydraulics) });

/** Idle time of the controls before the faults are computed [ms]. */
const REST_MS = 250;

type Report = (state: string, words?: Child) => void;

/** Runs the model for the changed scenario: first the days, then the faults. Newer changes replace older ones. */
function asker(bench: Bench, report: Report) {
  const quick = engine();
  const slow = engine();
  /** The latest run with its own faults and marks. */
  let whole = bench.base();
  let shown = whole;
  let turn = 0;
  /** Number of resets; an answer to a request before the latest reset is discarded. */
  let epoch = 0;
  let timer = 0;
  const seconds = (since: number): string => `${number(bench.reader(), (performance.now() - since) / 1000, 1)} s`;
  const complain = (errors: readonly string[]): void => report("This does not work:", h("pre", {}, errors.join("\n\n")));

  const request = (changes: readonly KnobChange[]) => {
    const { source, file, seed } = bench.base();
    return { source, file, seed, changes, faults: [] };
  };

  function show(result: RunResult, isWhole: boolean, state: string): void {
    shown = result;
    if (isWhole) whole = result;
    bench.changed(result, isWhole);
    report(state, differenceList(differencesInWords(bench.base(), result, bench.reader(), isWhole)));
  }

  async function withFaults(changes: readonly KnobChange[], mine: number, started: number): Promise<void> {
    const answer = await slow.ask({ ...request(changes), cachedFaults: null });
    if (!answer || mine !== turn) return;
    if (!answer.ok) return complain(answer.errors);
    if (answer.kind === "result") show(answer.result, true, `Done after ${seconds(started)}, faults included.`);
  }

  async function run(changes: readonly KnobChange[]): Promise<void> {
    const mine = ++turn;
    clearTimeout(timer);
    slow.drop();
    report("Running …");
    const started = performance.now();
    const earlier = whole;
    const begun = epoch;
    const answer = await quick.ask(
      { ...request(changes), cachedFaults: lean(earlier) },
      {
        onDays: (nitrogen) => {
          if (begun === epoch) bench.curvesArrived(nitrogen);
        },
      },
    );
    if (!answer || begun !== epoch) return;
    if (!answer.ok) return complain(answer.errors);
    if (answer.kind !== "result") return;
    const { result } = answer;
    // The outage runs of the faults depend only on the rig, so they stay valid if the rig is unchanged.
    const stories = answer.whole
      ? [...result.hydraulics.stories, ...earlier.hydraulics.stories.slice(1)]
      : result.hydraulics.stories;
    const first = { ...result, hydraulics: { ...result.hydraulics, stories } };
    show(
      first,
      answer.whole,
      answer.whole
        ? `Done after ${seconds(started)}, faults included.`
        : `First answer after ${seconds(started)}; the faults follow.`,
    );
    if (!answer.whole && mine === turn) timer = window.setTimeout(() => void withFaults(changes, mine, started), REST_MS);
  }

  return {
    quick,
    run,
    shown: () => shown,
    /** Call when no change is left, or when the base is another scenario. */
    forget(): void {
      turn++;
      epoch++;
      clearTimeout(timer);
      slow.drop();
      whole = bench.base();
      shown = whole;
    },
    warm(): void {
      void quick.ask({ ...request([]), cachedFaults: lean(whole) });
    },
    async open(file: File): Promise<void> {
      report("Running …");
      const { seed } = bench.base();
      const source = await file.text();
      const answer = await quick.ask({ source, file: file.name, seed, changes: [], faults: [], cachedFaults: null });
      if (!answer) return;
      if (!answer.ok) report(`${file.name} cannot be run:`, h("pre", {}, answer.errors.join("\n\n")));
      else if (answer.kind === "result") bench.openAnother(answer.result);
    },
    async textWith(changes: readonly KnobChange[]): Promise<string | null> {
      const answer = await quick.ask({ ...request(changes), textOnly: true, cachedFaults: null });
      if (!answer?.ok) {
        if (answer) complain(answer.errors);
        return null;
      }
      return answer.kind === "text" ? answer.text : null;
    },
  };
}

/** The kept changes, side by side. */
function keptList(bench: Bench): Child {
  const kept = bench.kept();
  if (kept.length === 0) return null;
  return [
    h("h3", {}, "Kept changes"),
    h(
      "ul",
      { class: "kept" },
      kept.map(({ name }, i) =>
        h(
          "li",
          {},
          h("span", {}, name),
          h("button", { type: "button", "data-again": String(i) }, "Change further"),
          h("button", { type: "button", "data-discard": String(i) }, "Discard"),
        ),
      ),
    ),
    h(
      "button",
      { type: "button", id: "try-compare", "aria-pressed": String(bench.comparing()) },
      bench.comparing() ? "Back to one scenario" : "Compare them with the file",
    ),
  ];
}

export function tryIt(bench: Bench): TryIt {
  let panel: HTMLElement | null = null;
  let trail: Trail = START;
  let state = "";
  let words: Child = null;
  const part = <T extends HTMLElement>(selector: string): T | null => panel?.querySelector<T>(selector) ?? null;

  const report: Report = (nextState, nextWords = null) => {
    state = nextState;
    if (nextState !== "Running …") words = nextWords;
    paint();
  };
  const model = asker(bench, report);
  const list = (): readonly Knob[] => knobs(bench.base(), bench.reader());
  const changesOf = (moved: Moved): readonly KnobChange[] =>
    list().flatMap((k) => {
      const value = moved.get(k.id);
      return value === undefined ? [] : [changeOf(k, value, bench.base().source)];
    });
  const describe = (id: string, value: string): string => {
    const knob = list().find((k) => k.id === id);
    if (!knob) return id;
    const text =
      knob.kind === "range"
        ? knobText(bench.reader(), knob, Number(value))
        : (knob.options.find(([v]) => v === value)?.[1] ?? value);
    return `${knob.label.toLowerCase()} ${text}`;
  };

  function paint(): void {
    if (!panel) return;
    find(panel, "#try-state").textContent = state;
    replaceContents(find(panel, "#try-words"), words);
    replaceContents(find(panel, "#try-kept"), keptList(bench));
    find<HTMLButtonElement>(panel, "#try-undo").disabled = trail.past.length === 0;
    find<HTMLButtonElement>(panel, "#try-redo").disabled = trail.future.length === 0;
    find<HTMLButtonElement>(panel, "#try-keep").disabled = trail.present.size === 0 || bench.kept().length >= MOST_STORED_CHANGES;
  }

  /** Sets the controls to the current state of the history, except the one in use. */
  function setControls(inHand: Element | null): void {
    for (const knob of list()) {
      const field = part<HTMLInputElement | HTMLSelectElement>(`#knob-${CSS.escape(knob.id)}`);
      const slider = part<HTMLInputElement>(`[data-slide="${CSS.escape(knob.id)}"]`);
      const value = trail.present.get(knob.id) ?? (knob.kind === "range" && knob.start !== null ? String(knob.start) : "");
      if (field && field !== inHand && field.value !== value) field.value = value;
      if (slider && slider !== inHand && value !== "" && slider.value !== value) slider.value = value;
    }
  }

  function follow(next: Trail, inHand: Element | null = null): void {
    trail = next;
    bench.moved(trail.present);
    setControls(inHand);
    if (trail.present.size === 0) {
      model.forget();
      bench.asInTheFile();
      report("");
    } else void model.run(changesOf(trail.present));
    paint();
  }

  function turned(input: HTMLInputElement): void {
    const id = input.dataset.knob ?? input.dataset.slide;
    if (!id || (input.type === "number" && input.value !== "" && !Number.isFinite(Number(input.value)))) return;
    follow(move(trail, id, input.value), input);
  }

  function forget(): void {
    trail = START;
    state = "";
    words = null;
    model.forget();
  }

  function pressed(id: string, data: DOMStringMap): void {
    if (id === "try-undo") follow(undo(trail));
    else if (id === "try-redo") follow(redo(trail));
    else if (id === "try-reset") {
      forget();
      bench.reset();
    } else if (id === "try-keep") {
      bench.keep(nameOf(trail.present, describe));
      paint();
    } else if (id === "try-save") saveFile(fileName(bench.base().name, "yaml"), model.shown().source, "text/yaml");
    else if (id === "try-choose") part("#try-open")?.click();
    else if (id === "try-compare") {
      forget();
      bench.compare(!bench.comparing());
    } else if (data.discard !== undefined) {
      bench.discard(Number(data.discard));
      paint();
    } else if (data.again !== undefined) {
      const again = bench.kept()[Number(data.again)];
      if (!again) return;
      if (bench.comparing()) bench.compare(false);
      follow(moveAll(trail, again.moved));
    }
  }

  document.addEventListener("dragover", (e) => e.preventDefault());
  document.addEventListener("drop", (e) => {
    e.preventDefault();
    const file = e.dataTransfer?.files[0];
    if (file) void model.open(file);
  });

  return {
    quick: model.quick,
    forget,
    warm: model.warm,
    move: (id, value) => follow(move(trail, id, value)),
    changes: () => changesOf(trail.present),
    textWith: (more) => model.textWith([...changesOf(trail.present), ...more]),
    mount(section) {
      panel = section;
      section.hidden = bench.comparing() && bench.kept().length === 0;
      const form = find<HTMLElement>(section, "#knobs");
      form.addEventListener("input", (e) => turned(e.target as HTMLInputElement));
      form.addEventListener("submit", (e) => e.preventDefault());
      section.addEventListener("click", (e) => {
        const target = (e.target as Element).closest<HTMLElement>("button");
        if (target) pressed(target.id, target.dataset);
      });
      section.addEventListener("keydown", (e) => {
        if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== "z") return;
        e.preventDefault();
        follow(e.shiftKey ? redo(trail) : undo(trail));
      });
      find<HTMLInputElement>(section, "#try-open").addEventListener("change", (e) => {
        const file = (e.target as HTMLInputElement).files?.[0];
        if (file) void model.open(file);
      });
      paint();
    },
  };
}
