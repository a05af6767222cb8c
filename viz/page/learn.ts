// "What do they say?": asks the model for the forecast that follows from the reader's readings, and shows it under them.
import { learned } from "../forecast/learned.ts";
import type { KnobChange } from "../sections/knobs.ts";
import { type Child, h } from "../view/markup.ts";
import { find, replaceContents } from "./dom.ts";
import { type Engine, engine } from "./engine.ts";

export interface LearnRequest {
  readonly source: string;
  readonly file: string;
  readonly seed: string;
  /** The changes of the page and its readings, as changes of the scenario. */
  readonly changes: readonly KnobChange[];
  /** Number of readings, those of the file included. */
  readonly readings: number;
}

export interface Learner {
  /** Shows the last answer in a section that was drawn anew. */
  mount(section: HTMLElement): void;
  /** Starts, or stops what runs. */
  press(): void;
  /** Clears the answer, because the readings or the scenario changed. */
  forget(): void;
}

/** @param request what to ask now */
export function learner(request: () => LearnRequest): Learner {
  let model: Engine | null = null;
  let panel: HTMLElement | null = null;
  let running = false;
  let words: Child = null;

  function paint(next: Child): void {
    words = next;
    if (!panel) return;
    replaceContents(find(panel, "#readings-learned"), words);
    find(panel, "#readings-learn").textContent = running ? "Stop" : "What do they say?";
  }

  async function learn(): Promise<void> {
    const { readings, ...wanted } = request();
    if (readings === 0) return paint(h("p", { class: "note" }, "There are no readings yet: put one on the chart first."));
    model ??= engine();
    running = true;
    paint(h("p", { class: "note" }, "Running …"));
    const answer = await model.ask(
      { ...wanted, faults: [], cachedFaults: null, learn: true },
      { onProgress: (done, of) => paint(h("p", { class: "note" }, `Running … ${done} of at most ${of} runs`)) },
    );
    // Stopped, or asked again.
    if (!answer) return;
    running = false;
    if (!answer.ok) paint([h("p", {}, "This does not work:"), h("pre", {}, answer.errors.join("\n\n"))]);
    else if (answer.kind === "forecast") paint(learned(answer.forecast));
  }

  function stop(): void {
    running = false;
    model?.drop();
    paint(null);
  }

  return {
    mount(section) {
      panel = section;
      paint(words);
    },
    press() {
      if (running) stop();
      else void learn();
    },
    forget() {
      if (running || words !== null) stop();
    },
  };
}
