// "Try it": reads the controls, asks the model, tells the difference, saves and opens scenario files.
import { type CachedFaults, faultsOf } from "../../scenarios/report/cached-faults.ts";
import type { NitrogenResult, RunResult } from "../../scenarios/result/result.ts";
import { changeOf, differencesInWords, type KnobChange, knobs, knobText } from "../sections/knobs.ts";
import { h } from "../view/markup.ts";
import { number, type Reader } from "../view/reader.ts";
import { find, replaceContents } from "./dom.ts";
import { type Engine, engine } from "./engine.ts";
import { fileName, saveFile } from "./files.ts";

/** What this panel works on. */
export interface Bench {
  base(): RunResult;
  reader(): Reader;
  /** Draws the curves of a changed run, ahead of what it comes to. */
  showDays(nitrogen: NitrogenResult): void;
  /** Draws the changed run, or the first one again; what depends on faults is still the old when it is not whole. */
  show(changed: RunResult | null, whole: boolean): void;
  /** Another scenario takes the page. */
  replace(result: RunResult): void;
  /** The page as it came from disk. */
  reset(): void;
}

export interface TryIt {
  mount(section: HTMLElement): void;
  /** Controls that stand elsewhere than in the file, by id. */
  readonly moved: ReadonlyMap<string, string>;
  forget(): void;
  /** Runs the story of faults; for the cells of the matrix. */
  readonly quick: Engine;
}

/** What a quick answer needs of an earlier run; its stories stay here, they are long. */
const lean = ({ rig, findings, hydraulics }: RunResult): CachedFaults => ({
  rig,
  findings,
  hydraulics: faultsOf(hydraulics),
});

/** Faults are worked out when the controls have been at rest this long [ms]. */
const REST_MS = 250;

export function tryIt(bench: Bench): TryIt {
  const quick = engine();
  const slow = engine();
  const moved = new Map<string, string>();
  const changes = new Map<string, KnobChange>();
  let panel: HTMLElement | null = null;
  /** The newest run that has its own faults and marks. */
  let whole = bench.base();
  let shown = whole;
  let turn = 0;
  /** Counts how often all was put back: an answer from before it is too late. */
  let epoch = 0;
  let timer = 0;

  const part = (id: string): HTMLElement => find<HTMLElement>(panel ?? document, id);
  const state = (text: string): void => {
    part("#try-state").textContent = text;
  };
  const seconds = (since: number): string => `${number(bench.reader(), (performance.now() - since) / 1000, 1)} s`;

  function tell(result: RunResult, isWhole: boolean): void {
    const lines = differencesInWords(bench.base(), result, bench.reader(), isWhole);
    replaceContents(
      part("#try-words"),
      lines.length > 0
        ? h(
            "ul",
            { class: "differences" },
            lines.map((l) => h("li", {}, l)),
          )
        : h("p", { class: "note" }, "No sentence changes."),
    );
  }

  function complain(what: string, errors: readonly string[]): void {
    state(what);
    replaceContents(part("#try-words"), h("pre", {}, errors.join("\n\n")));
  }

  const request = () => {
    const { source, file, seed } = bench.base();
    return { source, file, seed, changes: [...changes.values()], faults: [] };
  };

  /** First the days, with the faults of an earlier run; then, when the controls rest and the rig is another, all of it. */
  async function run(): Promise<void> {
    const mine = ++turn;
    clearTimeout(timer);
    slow.drop();
    if (changes.size === 0) return back();
    state("Running…");
    const started = performance.now();
    const cachedFaults = whole;
    const begun = epoch;
    const answer = await quick.ask({ ...request(), cachedFaults: lean(cachedFaults) }, (days) => {
      if (begun === epoch) bench.showDays(days);
    });
    if (!answer || begun !== epoch) return;
    if (!answer.ok) return complain("This does not work:", answer.errors);
    if (answer.kind !== "result") return;
    const { result } = answer;
    // Stories of faults are of the rig too.
    const stories = answer.whole
      ? [...result.hydraulics.stories, ...cachedFaults.hydraulics.stories.slice(1)]
      : result.hydraulics.stories;
    const first = { ...result, hydraulics: { ...result.hydraulics, stories } };
    if (answer.whole) whole = first;
    shown = first;
    bench.show(first, answer.whole);
    tell(first, answer.whole);
    state(
      answer.whole
        ? `Done after ${seconds(started)}, faults included.`
        : `First answer after ${seconds(started)}; the faults follow.`,
    );
    if (!answer.whole && mine === turn) timer = window.setTimeout(() => void withFaults(mine, started), REST_MS);
  }

  async function withFaults(mine: number, started: number): Promise<void> {
    const answer = await slow.ask({ ...request(), cachedFaults: null });
    if (!answer || mine !== turn) return;
    if (!answer.ok) return complain("This does not work:", answer.errors);
    if (answer.kind !== "result") return;
    whole = answer.result;
    shown = whole;
    bench.show(whole, true);
    tell(whole, true);
    state(`Done after ${seconds(started)}, faults included.`);
  }

  function forget(): void {
    turn++;
    epoch++;
    clearTimeout(timer);
    slow.drop();
    moved.clear();
    changes.clear();
    whole = bench.base();
    shown = whole;
  }

  /** All controls as in the file again. */
  function back(): void {
    forget();
    state("");
    replaceContents(part("#try-words"), null);
    bench.show(null, true);
  }

  function turned(input: HTMLInputElement): void {
    const knob = knobs(bench.base(), bench.reader()).find((k) => k.id === input.dataset.knob);
    if (!knob) return;
    if (input.value === "") {
      moved.delete(knob.id);
      changes.delete(knob.id);
    } else {
      moved.set(knob.id, input.value);
      changes.set(knob.id, changeOf(knob, input.value, bench.base().source));
    }
    const output = part("#knobs").querySelector(`[data-knob-value="${knob.id}"]`);
    if (output && knob.kind === "range") output.textContent = knobText(bench.reader(), knob, Number(input.value));
    void run();
  }

  async function open(file: File): Promise<void> {
    state("Running…");
    const { seed } = bench.base();
    const answer = await quick.ask({
      source: await file.text(),
      file: file.name,
      seed,
      changes: [],
      faults: [],
      cachedFaults: null,
    });
    if (!answer) return;
    if (!answer.ok) return complain(`${file.name} cannot be run:`, answer.errors);
    if (answer.kind === "result") bench.replace(answer.result);
  }

  document.addEventListener("dragover", (e) => e.preventDefault());
  document.addEventListener("drop", (e) => {
    e.preventDefault();
    const file = e.dataTransfer?.files[0];
    if (file) void open(file);
  });

  /** Starts the model when the panel comes near, so that the first change is answered as fast as the next. */
  function warm(section: HTMLElement): void {
    const observer = new IntersectionObserver(
      (entries) => {
        if (!entries.some((entry) => entry.isIntersecting)) return;
        observer.disconnect();
        void quick.ask({ ...request(), cachedFaults: lean(whole) });
      },
      { rootMargin: "300px" },
    );
    observer.observe(section);
  }
  let warmed = false;

  return {
    moved,
    quick,
    forget,
    mount(section) {
      panel = section;
      section.hidden = false;
      if (!warmed) warm(section);
      warmed = true;
      find(section, "#knobs").addEventListener("input", (e) => turned(e.target as HTMLInputElement));
      find(section, "#knobs").addEventListener("submit", (e) => e.preventDefault());
      find(section, "#try-reset").addEventListener("click", () => {
        forget();
        bench.reset();
      });
      find(section, "#try-save").addEventListener("click", () => {
        saveFile(fileName(bench.base().name, "yaml"), shown.source, "text/yaml");
      });
      find<HTMLInputElement>(section, "#try-open").addEventListener("change", (e) => {
        const file = (e.target as HTMLInputElement).files?.[0];
        if (file) void open(file);
      });
    },
  };
}
