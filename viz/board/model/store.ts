// State of the board and its changes: one object, replaced at each change, and the only input of the views.
import type { Rig } from "../../../models/rig.ts";
import { dataOf, type Edit, EditRefused, editedText, type Path, writtenPath } from "../../../scenarios/load/edits.ts";
import { loadScenario } from "../../../scenarios/load/load.ts";
import type { LocatedError } from "../../../scenarios/load/yaml.ts";
import type { NitrogenResult, OutageTrace, RunResult } from "../../../scenarios/result/result.ts";
import { usableLocale } from "../../page/locale.ts";
import { type Reader, readerOf, type UnitSystem } from "../../view/reader.ts";
import { begin, changed, type History, markSaved, redone, replaced, settled, undone } from "../core/history.ts";
import { freshName, MOST_PAST, type StoredScenario, withStored } from "../core/kept.ts";
import { textOfLink } from "../core/link.ts";
import { keepingRunIn } from "../core/run-in.ts";
import type { Handle } from "../view/handles.ts";
import { type Answer, cachedOf, type Model, model } from "./live.ts";
import type { Storage } from "./storage.ts";

export type Screen = "start" | "questions" | "board" | "kept" | "compare" | "send";

export interface State {
  readonly screen: Screen;
  readonly history: History;
  readonly data: Readonly<Record<string, unknown>> | null;
  readonly errors: readonly LocatedError[];
  readonly chosen: Path;
  readonly pane: "part" | "text";
  readonly moment: "running" | "off";
  readonly rig: Rig | null;
  readonly story: OutageTrace | null;
  readonly nitrogen: NitrogenResult | null;
  readonly result: RunResult | null;
  /** The latest result with its own faults and marks. */
  readonly whole: RunResult | null;
  /** The result of the last save; differences from it are marked. */
  readonly base: RunResult | null;
  readonly work: string;
  readonly failed: string;
  readonly reader: Reader;
  readonly drag: { readonly handle: Handle; readonly z: number } | null;
  readonly kept: readonly StoredScenario[];
  readonly keptId: string | null;
  readonly compared: readonly string[];
  readonly results: ReadonlyMap<string, RunResult>;
  readonly notice: string;
  /** The sheet over the page, on a phone. */
  readonly sheet: "none" | "parts" | "part";
  readonly start: string;
}

/** Idle time of the input before bands and faults are computed [ms]. */
const REST_MS = 500;
const KEEP_MS = 300;
const BAND_RUNS = 16;

export class Store {
  state: State;
  private readonly listeners = new Set<() => void>();
  private readonly quick: Model;
  private readonly slow: Model;
  private readonly storage: Storage;
  private readonly workerUrl: () => Promise<string>;
  private timer = 0;
  private keepTimer = 0;
  private loaded = false;

  constructor(storage: Storage, workerUrl: () => Promise<string>) {
    this.storage = storage;
    this.workerUrl = workerUrl;
    const reader: Reader = { units: "metric", basis: "kit", locale: usableLocale() };
    this.state = {
      screen: "start",
      history: begin(""),
      data: null,
      errors: [],
      chosen: [],
      pane: "part",
      moment: "running",
      rig: null,
      story: null,
      nitrogen: null,
      result: null,
      whole: null,
      base: null,
      work: "",
      failed: "",
      reader,
      drag: null,
      kept: [],
      keptId: null,
      compared: [],
      results: new Map(),
      notice: "",
      sheet: "none",
      start: "first",
    };
    this.quick = model(workerUrl, (answer) => this.answered(answer));
    this.slow = model(workerUrl, (answer) => this.workedOut(answer));
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  set(part: Partial<State>): void {
    // A message of one screen does not apply to the next.
    const moved = part.screen !== undefined && part.screen !== this.state.screen;
    this.state = { ...this.state, ...(moved ? { notice: "" } : {}), ...part };
    for (const listener of this.listeners) listener();
  }

  /** Restores the state stored in the browser. */
  async open(): Promise<void> {
    try {
      const [sheet, kept] = await Promise.all([this.storage.sheet(), this.storage.systems()]);
      this.set({ kept });
      if (sheet && sheet.text !== "" && this.state.history.text === "") {
        this.set({
          history: { ...begin(sheet.text), past: sheet.past, saved: sheet.saved },
          keptId: sheet.keptId,
          screen: "board",
        });
        this.taken();
      }
    } catch (error) {
      this.set({ notice: `This browser keeps nothing between visits (${String(error)}): save your work as a file.` });
    }
    this.loaded = true;
  }

  /** Loads a scenario. */
  begin(text: string, screen: Screen = "board", keptId: string | null = null): void {
    const { history } = this.state;
    this.set({
      history: history.text === "" ? begin(text) : replaced(history, text),
      chosen: [],
      screen,
      keptId,
      whole: null,
      base: null,
      result: null,
      nitrogen: null,
      rig: null,
      story: null,
      sheet: "none",
    });
    this.taken();
  }

  /** Loads a scenario from a link, or from the fragment of one. */
  async openLink(link: string): Promise<void> {
    try {
      const text = await textOfLink(link);
      if (text === null) {
        if (link.trim() !== "" && !link.startsWith("#")) this.set({ notice: "There is no system in this link." });
        return;
      }
      this.begin(text);
      history.replaceState(null, "", location.href.replace(/#.*/, ""));
    } catch (error) {
      this.set({ notice: error instanceof Error ? error.message : String(error) });
    }
  }

  edit(edits: readonly Edit[], kind: string | null = null): void {
    try {
      let { text } = this.state.history;
      for (const edit of keepingRunIn(this.state.data, edits)) text = editedText(text, [edit]);
      this.write(text, kind);
    } catch (error) {
      if (!(error instanceof EditRefused)) throw error;
      this.set({ notice: `This cannot be changed here: ${error.message}.` });
    }
  }

  write(text: string, kind: string | null = null): void {
    this.set({ history: changed(this.state.history, text, kind), notice: "" });
    this.taken();
  }

  settle(): void {
    this.set({ history: settled(this.state.history) });
  }

  undo(): void {
    this.set({ history: undone(this.state.history) });
    this.taken();
  }

  redo(): void {
    this.set({ history: redone(this.state.history) });
    this.taken();
  }

  markSaved(): void {
    this.set({ history: markSaved(this.state.history), base: this.state.whole ?? this.state.result });
    this.keepSoon();
  }

  /** Handles a new text: parses it, reports errors, runs the model. */
  private taken(): void {
    const { text } = this.state.history;
    const data = dataOf(text);
    const loaded = loadScenario(text, "scenario");
    this.set({
      ...(data ? { data } : {}),
      errors: loaded.ok ? [] : loaded.errors,
      failed: "",
      drag: null,
      ...(loaded.ok ? {} : { work: "" }),
    });
    this.keepSoon();
    if (loaded.ok) this.ask();
    else {
      this.quick.drop();
      this.slow.drop();
      clearTimeout(this.timer);
    }
  }

  private ask(): void {
    const { history, whole } = this.state;
    this.slow.drop();
    clearTimeout(this.timer);
    this.set({ work: "running" });
    this.quick.ask({ text: history.text, changes: [], file: "scenario", depth: "days", members: 0, cached: cachedOf(whole) });
  }

  /** Handles a drag: the drawing follows at once, the model as fast as possible. */
  drag(handle: Handle, z: number): void {
    this.slow.drop();
    clearTimeout(this.timer);
    const { history, whole } = this.state;
    this.set({ drag: { handle, z } });
    this.quick.ask({
      text: history.text,
      changes: [{ path: writtenPath(this.state.data, handle.key), value: handle.text(z) }],
      file: "scenario",
      depth: "days",
      members: 0,
      cached: cachedOf(whole),
    });
  }

  /** Ends a drag: writes the new value to the text. */
  drop(kind: string | null = null): void {
    const { drag } = this.state;
    if (drag) this.edit([{ do: "set", path: drag.handle.key, value: drag.handle.text(drag.z) }], kind);
  }

  private answered(answer: Answer): void {
    switch (answer.is) {
      case "levels":
        this.set({ rig: answer.rig, story: answer.story, failed: "" });
        return;
      case "days":
        this.set({ nitrogen: answer.nitrogen });
        return;
      case "result": {
        const { result, whole } = answer;
        const first = this.state.result === null;
        this.set({
          result,
          nitrogen: result.nitrogen,
          rig: result.rig,
          story: result.hydraulics.stories[0] ?? null,
          work: "first",
          failed: "",
          ...(whole && this.state.whole ? { whole: result } : {}),
          ...(first ? { reader: { ...readerOf(result, this.state.reader.locale) }, base: result } : {}),
        });
        if (this.state.drag === null) this.timer = window.setTimeout(() => this.workOut(), REST_MS);
        return;
      }
      case "refused":
        this.set({ work: "", ...(this.state.drag ? { failed: answer.errors[0]?.problem ?? "" } : { errors: answer.errors }) });
        return;
      case "failed":
        this.set({ work: "", failed: answer.problem });
        return;
      case "progress":
        return;
    }
  }

  private workOut(): void {
    this.set({ work: "bands and faults" });
    const { text } = this.state.history;
    this.slow.ask({ text, changes: [], file: "scenario", depth: "whole", members: BAND_RUNS, cached: null });
  }

  private workedOut(answer: Answer): void {
    if (answer.is === "progress") {
      const words = answer.what === "faults" ? "faults" : answer.what === "runs" ? "bands" : "days";
      this.set({ work: `${words}: ${answer.done} of ${answer.of}` });
    } else if (answer.is === "result") {
      const { result } = answer;
      const unsaved = this.state.history.text !== this.state.history.saved;
      this.set({
        result,
        whole: result,
        nitrogen: result.nitrogen,
        rig: result.rig,
        story: result.hydraulics.stories[0] ?? null,
        work: "done",
        ...(unsaved ? {} : { base: result }),
        ...(this.state.keptId ? { results: new Map(this.state.results).set(this.state.keptId, result) } : {}),
      });
    } else if (answer.is === "failed") this.set({ work: "", failed: answer.problem });
  }

  units(units: UnitSystem): void {
    this.set({ reader: { ...this.state.reader, units } });
  }

  private keepSoon(): void {
    if (!this.loaded) return;
    clearTimeout(this.keepTimer);
    this.keepTimer = window.setTimeout(() => this.keepSheet(), KEEP_MS);
  }

  keepSheet(): void {
    const { history, keptId } = this.state;
    const sheet = { text: history.text, saved: history.saved, past: history.past.slice(-MOST_PAST), keptId };
    this.storage.keepSheet(sheet).catch((error: unknown) => {
      this.set({ notice: `This browser could not keep your sheet (${String(error)}): save it as a file.` });
    });
  }

  private keepList(kept: readonly StoredScenario[]): void {
    this.set({ kept });
    this.storage.keepSystems(kept).catch((error: unknown) => {
      this.set({ notice: `This browser could not keep the system (${String(error)}): save it as a file.` });
    });
  }

  nameNow(): string {
    const name = this.state.data?.name;
    return typeof name === "string" && name.trim() !== "" ? name : "A system without a name";
  }

  /** Adds the sheet to the kept systems. */
  keep(): void {
    const { keptId, history, kept, result, whole } = this.state;
    const id = keptId ?? crypto.randomUUID();
    this.keepList(withStored(kept, { id, name: this.nameNow(), text: history.text, at: Date.now() }));
    this.set({
      keptId: id,
      notice: `Kept: ${this.nameNow()}.`,
      ...(result && result === whole ? { results: new Map(this.state.results).set(id, result) } : {}),
    });
    this.markSaved();
  }

  duplicate(one: StoredScenario): void {
    const name = freshName(this.state.kept, one.name);
    const text = editedText(one.text, [{ do: "set", path: ["name"], value: name }]);
    this.keepList(withStored(this.state.kept, { id: crypto.randomUUID(), name, text, at: Date.now() }));
  }

  discard(id: string): void {
    this.keepList(this.state.kept.filter((one) => one.id !== id));
    if (this.state.keptId === id) this.set({ keptId: null });
    this.set({ compared: this.state.compared.filter((other) => other !== id) });
  }

  take(list: readonly StoredScenario[]): void {
    let { kept } = this.state;
    for (const one of list) kept = withStored(kept, one);
    this.keepList(kept);
    this.set({ notice: `${list.length === 1 ? "One system" : `${list.length} systems`} taken in.`, screen: "kept" });
  }

  /** Computes the compared systems without a result, one after the other. */
  async compare(): Promise<void> {
    this.set({ screen: "compare" });
    for (const id of this.state.compared) {
      const one = this.state.kept.find((kept) => kept.id === id);
      if (!one || this.state.results.get(id)?.source === one.text) continue;
      await new Promise<void>((resolve) => {
        const ask = model(this.workerUrl, (answer) => {
          if (answer.is === "result") this.set({ results: new Map(this.state.results).set(id, answer.result) });
          else if (answer.is === "refused") this.set({ notice: `${one.name}: ${answer.errors[0]?.problem ?? ""}` });
          else if (answer.is === "failed") this.set({ notice: `${one.name}: ${answer.problem}` });
          else return;
          ask.drop();
          resolve();
        });
        ask.ask({ text: one.text, changes: [], file: one.name, depth: "whole", members: 0, cached: null });
      });
    }
  }
}
