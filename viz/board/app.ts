// The board: its header, its screens, and the global keyboard shortcuts.
import { Component, type ComponentChildren, createRef, h } from "preact";
import { fileName, saveFile } from "../page/files.ts";
import { glossaryList } from "../sections/glossary.ts";
import { GLOSSARY } from "../view/glossary.ts";
import { answer } from "./answer.ts";
import { unbundled } from "./core/kept.ts";
import { curves } from "./curves.ts";
import { drawing } from "./drawing.ts";
import { inspector } from "./inspector.ts";
import { compareScreen, storedScreen } from "./kept.ts";
import type { Store } from "./model/store.ts";
import { readings } from "./readings.ts";
import { NOTHING_SENT, type Sending, sendScreen } from "./send.ts";
import type { Served } from "./served.ts";
import { NOT_ASKED, type QuestionState, questionScreen, startScreen } from "./start.ts";
import { TextPane } from "./text-pane.ts";
import { type DayDrag, timeline } from "./timeline.ts";
import { tree } from "./tree.ts";
import { nodes } from "./view/nodes.ts";

interface Props {
  readonly store: Store;
  readonly served: Served | null;
}

interface Own {
  readonly asking: QuestionState;
  readonly sending: Sending;
  readonly dayDrag: DayDrag | null;
  readonly width: number;
}

/** A file handle, if the browser supports it (File System Access). */
interface WritableHandle {
  readonly name: string;
  createWritable(): Promise<{ write(text: string): Promise<void>; close(): Promise<void> }>;
}
declare global {
  /** File System Access, which only some browsers have and TypeScript's own types lack. */
  var showSaveFilePicker: ((options: object) => Promise<WritableHandle>) | undefined;
}

/** The glossary below the board. */
const GLOSSARY_FOLD = h(
  "details",
  { id: "glossary" },
  h("summary", {}, `Glossary: ${GLOSSARY.length} terms in plain words`),
  nodes(glossaryList()),
);

function openTerm(hash: string): void {
  document.getElementById("glossary")?.setAttribute("open", "");
  document.getElementById(hash.slice(1))?.scrollIntoView();
}

export class App extends Component<Props, Own> {
  override state: Own = { asking: NOT_ASKED, sending: NOTHING_SENT, dayDrag: null, width: 700 };
  private readonly middle = createRef<HTMLDivElement>();
  private observer: ResizeObserver | null = null;
  private observed: Element | null = null;
  private unsubscribe: (() => void) | null = null;
  private file: WritableHandle | null = null;
  /** Screen and question of the last drawing; a new one receives the focus. */
  private place = "";

  override componentDidMount(): void {
    const { store } = this.props;
    let waiting = false;
    // Simultaneous changes cause a single redraw.
    this.unsubscribe = store.subscribe(() => {
      if (waiting) return;
      waiting = true;
      requestAnimationFrame(() => {
        waiting = false;
        this.forceUpdate();
      });
    });
    this.observer = new ResizeObserver(() => this.measure());
    this.measure();
    addEventListener("keydown", this.onKey);
    addEventListener("dragover", (e) => e.preventDefault());
    addEventListener("drop", (e) => {
      e.preventDefault();
      const file = e.dataTransfer?.files[0];
      if (file) void this.take(file);
    });
    addEventListener("pagehide", () => store.keepSheet());
    addEventListener("hashchange", () => {
      if (location.hash.startsWith("#term-")) openTerm(location.hash);
      else void store.openLink(location.hash);
    });
  }

  override componentDidUpdate(): void {
    this.measure();
    const { screen } = this.props.store.state;
    const place = `${screen} ${screen === "questions" ? this.state.asking.at : ""}`;
    if (place !== this.place && this.place !== "") {
      const first =
        document.querySelector<HTMLElement>("#main [data-focus]") ?? document.querySelector<HTMLElement>("#main h2[tabindex]");
      if (screen !== "board") first?.focus();
      window.scrollTo(0, 0);
    }
    this.place = place;
  }

  override componentWillUnmount(): void {
    this.unsubscribe?.();
    this.observer?.disconnect();
  }

  private measure(): void {
    const element = this.middle.current;
    if (element !== this.observed) {
      if (this.observed) this.observer?.unobserve(this.observed);
      if (element) this.observer?.observe(element);
      this.observed = element;
    }
    const width = Math.floor(element?.clientWidth ?? 0);
    if (width > 0 && Math.abs(width - this.state.width) > 1) this.setState({ width });
  }

  private readonly onKey = (e: KeyboardEvent): void => {
    const { store } = this.props;
    if (!(e.ctrlKey || e.metaKey) || e.altKey || e.defaultPrevented) return;
    const key = e.key.toLowerCase();
    const target = e.composedPath()[0];
    // A text field in use has its own undo.
    const typing = target instanceof HTMLElement && (target.isContentEditable || /^(input|textarea)$/i.test(target.tagName));
    if (key === "s") {
      e.preventDefault();
      void this.saveScenario();
    } else if (key === "z" && !typing) {
      e.preventDefault();
      if (e.shiftKey) store.redo();
      else store.undo();
    } else if (key === "y" && !typing) {
      e.preventDefault();
      store.redo();
    }
  };

  /** Opens a file of any kind: a scenario or kept systems; anything else gives located errors. */
  readonly take = async (file: File): Promise<void> => {
    const { store } = this.props;
    if (file.size > 4_000_000) {
      store.set({ notice: `${file.name} is too large for a scenario.` });
      return;
    }
    const text = await file.text();
    if (/^\s*\{/.test(text) && file.name.endsWith(".json")) {
      try {
        store.take(unbundled(text));
      } catch (error) {
        store.set({ notice: `${file.name}: ${error instanceof Error ? error.message : String(error)}` });
      }
      return;
    }
    store.begin(text);
    store.set({ notice: `${file.name} is on the board.` });
  };

  /** Saves to the original file, otherwise to a chosen file, otherwise as a download. */
  readonly saveScenario = async (): Promise<void> => {
    const { store, served } = this.props;
    const { text } = store.state.history;
    const name = fileName(store.nameNow(), "yaml");
    if (served?.file) {
      const problem = await served.save(text);
      store.set({ notice: problem === "" ? `Saved: ${served.file}.` : `Not saved: ${problem}` });
      if (problem === "") store.markSaved();
      return;
    }
    const pick = globalThis.showSaveFilePicker;
    if (pick) {
      try {
        this.file ??= await pick({
          suggestedName: name,
          types: [{ description: "Scenario", accept: { "text/yaml": [".yaml"] } }],
        });
        const out = await this.file.createWritable();
        await out.write(text);
        await out.close();
        store.set({ notice: `Saved: ${this.file.name}.` });
        store.markSaved();
      } catch (error) {
        if (error instanceof DOMException && error.name === "AbortError") return;
        this.file = null;
        store.set({ notice: `Not saved: ${String(error)}` });
      }
      return;
    }
    saveFile(name, text, "text/yaml");
    store.markSaved();
  };

  private head(): ComponentChildren {
    const { store, served } = this.props;
    const { history, screen, reader, kept } = store.state;
    const open = history.text !== "";
    const button = (text: string, act: () => void, more: object = {}): ComponentChildren =>
      h("button", { type: "button", onClick: act, ...more }, text);
    return h(
      "header",
      { class: "board-head no-print" },
      h(
        "div",
        { class: "head-words" },
        h("p", { class: "wordmark" }, "Sumpwright"),
        h("h1", {}, open && screen !== "start" ? store.nameNow() : "Drawing board"),
      ),
      h(
        "div",
        { class: "head-tools", role: "group", "aria-label": "The sheet" },
        open && button("Undo", () => store.undo(), { disabled: history.past.length === 0 }),
        open && button("Redo", () => store.redo(), { disabled: history.future.length === 0 }),
        open && button("Keep", () => store.keep()),
        open && button(served?.file ? "Save to the file" : "Save as a file", () => void this.saveScenario()),
        open &&
          button("Print and send", () => {
            this.setState({ sending: NOTHING_SENT });
            store.set({ screen: "send" });
          }),
        button(`Kept systems${kept.length > 0 ? ` (${kept.length})` : ""}`, () => store.set({ screen: "kept" })),
        button("Begin anew", () => store.set({ screen: "start" })),
        open &&
          h(
            "label",
            { class: "units" },
            "Units ",
            h(
              "select",
              {
                value: reader.units,
                onChange: (e: Event) => store.units((e.currentTarget as HTMLSelectElement).value as "metric" | "US"),
              },
              h("option", { value: "metric" }, "mm · L · °C"),
              h("option", { value: "US" }, "in · gal · °F"),
            ),
          ),
      ),
    );
  }

  private board(): ComponentChildren {
    const { store } = this.props;
    const { pane, moment, sheet, rig, history, errors } = store.state;
    const { width, dayDrag } = this.state;
    const choice = (name: string, value: string, now: string, text: string, act: () => void): ComponentChildren =>
      h("label", {}, h("input", { type: "radio", name, value, checked: now === value, onChange: act }), h("span", {}, text));
    return h(
      "div",
      { class: `board sheet-${sheet}` },
      h(
        "div",
        { class: "left" },
        tree(store),
        h("button", { type: "button", class: "close-sheet", onClick: () => store.set({ sheet: "none" }) }, "Back to the drawing"),
      ),
      h(
        "div",
        { class: "middle", ref: this.middle },
        answer(store),
        h(
          "section",
          { class: "drawing", "aria-labelledby": "drawing-title" },
          h(
            "div",
            { class: "drawing-head" },
            h("h2", { id: "drawing-title" }, "The system, cut open"),
            h(
              "fieldset",
              { class: "switch" },
              h("legend", { class: "visually-hidden" }, "Moment"),
              choice("moment", "running", moment, "Running", () => store.set({ moment: "running" })),
              choice("moment", "off", moment, "Pump stopped", () => store.set({ moment: "off" })),
            ),
            h("button", { type: "button", class: "open-parts", onClick: () => store.set({ sheet: "parts" }) }, "Parts"),
          ),
          rig
            ? h("div", { class: "frame", "data-drawing": "" }, drawing(store, width - 16))
            : h(
                "p",
                { class: "nothing" },
                errors.length > 0
                  ? "There is nothing to draw yet: a tank, a sump and a return pump are needed. Choose each under “Parts”."
                  : "The drawing is on its way…",
              ),
          rig &&
            h(
              "p",
              { class: "note" },
              "Click a part to see what it is. Drag a level, a plate or an outlet; or go to it with Tab and use the arrow keys.",
            ),
        ),
        timeline(store, Math.max(320, width), dayDrag, (drag) => this.setState({ dayDrag: drag })),
        curves(store.state, Math.max(300, width)),
        readings(store),
      ),
      h(
        "div",
        { class: "right" },
        h("button", { type: "button", class: "close-sheet", onClick: () => store.set({ sheet: "none" }) }, "Back to the drawing"),
        h(
          "fieldset",
          { class: "switch panes" },
          h("legend", { class: "visually-hidden" }, "Show"),
          choice("pane", "part", pane, "Part", () => store.set({ pane: "part" })),
          choice("pane", "text", pane, "Text", () => store.set({ pane: "text" })),
        ),
        pane === "part"
          ? inspector(store)
          : h(TextPane, {
              text: history.text,
              errors,
              onText: this.onText,
              onUndo: this.onUndo,
              onRedo: this.onRedo,
            }),
      ),
    );
  }

  private readonly onText = (text: string): void => this.props.store.write(text, "typing");
  private readonly onUndo = (): void => this.props.store.undo();
  private readonly onRedo = (): void => this.props.store.redo();

  render() {
    const { store } = this.props;
    const { screen, notice } = store.state;
    const { asking, sending, width } = this.state;
    const content = (): ComponentChildren => {
      switch (screen) {
        case "start":
          return startScreen(
            store,
            (fresh) => this.setState({ asking: fresh }),
            this.take,
            (link) => void store.openLink(link),
          );
        case "questions":
          return questionScreen(store, asking, (next) => this.setState({ asking: next }));
        case "kept":
          return storedScreen(store, this.take);
        case "compare":
          return h("div", { ref: this.middle }, compareScreen(store, Math.max(300, width)));
        case "send":
          return h(
            "div",
            { ref: this.middle },
            sendScreen(
              store,
              sending,
              (next) => this.setState({ sending: next }),
              this.saveScenario,
              Math.max(300, Math.min(1100, width)),
            ),
          );
        default:
          return this.board();
      }
    };
    return [
      h("a", { class: "skip", href: "#main" }, "Skip to the board"),
      this.head(),
      h("div", { class: "notice", role: "status" }, notice),
      h("main", { id: "main", "data-screen": screen }, content()),
      h(
        "footer",
        { class: "no-print" },
        GLOSSARY_FOLD,
        h(
          "p",
          {},
          "Simulated from what you put together, not certified. Water and electricity, the load on the floor and the animals need more care than a drawing can give: follow your local rules, and ask somebody licensed where they ask for it.",
        ),
      ),
    ];
  }
}
