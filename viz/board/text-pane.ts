// The scenario text in an editor, synchronised with the board in both directions. The editor is in a shadow root, where
// the content security policy allows styles created by script.
import {
  autocompletion,
  type Completion,
  type CompletionContext,
  type CompletionResult,
  completionKeymap,
} from "@codemirror/autocomplete";
import { defaultKeymap } from "@codemirror/commands";
import { yaml } from "@codemirror/lang-yaml";
import { defaultHighlightStyle, HighlightStyle, syntaxHighlighting } from "@codemirror/language";
import { type Diagnostic, lintGutter, setDiagnostics } from "@codemirror/lint";
import { Annotation, EditorState, Transaction } from "@codemirror/state";
import { EditorView, highlightActiveLine, hoverTooltip, keymap, lineNumbers } from "@codemirror/view";
import { Component, createRef, h } from "preact";
import type { LocatedError } from "../../scenarios/load/yaml.ts";
import { caretPlace, helpAt, suggestions } from "./core/complete.ts";

const fromBoard = Annotation.define<boolean>();

function complete(context: CompletionContext): CompletionResult | null {
  const text = context.state.doc.toString();
  const place = caretPlace(text, context.pos);
  if (!context.explicit && place.typed === "") return null;
  const options: Completion[] = suggestions(place).map(({ text: label, detail, about }) => ({
    label: label.trimEnd().replace(/:$/, ""),
    apply: label,
    detail,
    info: about,
  }));
  return options.length > 0 ? { from: place.from, options } : null;
}

const help = hoverTooltip((view, pos) => {
  const line = view.state.doc.lineAt(pos);
  const word = /[^\s:#{}[\],][^:#{}[\],]*$/.exec(line.text.slice(0, pos - line.from));
  const start = word ? pos - word[0].length : pos;
  const described = helpAt(view.state.doc.toString(), start);
  if (!described) return null;
  return {
    pos: start,
    create() {
      const dom = document.createElement("div");
      dom.className = "help";
      const add = (tag: string, text: string): void => {
        const element = document.createElement(tag);
        element.textContent = text;
        dom.append(element);
      };
      add("strong", described.key);
      add("p", described.about);
      if (described.range) add("p", `Possible: ${described.range}.`);
      if (described.standsIn !== null)
        add("p", `When left out: ${described.standsIn}${described.why ? ` (${described.why})` : ""}.`);
      return { dom };
    },
  };
});

const looks = EditorView.theme({
  "&": { height: "100%", fontSize: "13px", color: "var(--ink)", backgroundColor: "var(--sheet)" },
  "&.cm-focused": { outline: "2.5px solid var(--water-ink)" },
  ".cm-scroller": { fontFamily: 'ui-monospace,"SF Mono",Menlo,Consolas,"DejaVu Sans Mono",monospace', lineHeight: "1.5" },
  ".cm-gutters": {
    backgroundColor: "var(--paper)",
    color: "var(--ink-soft)",
    border: "none",
    borderRight: "1px solid var(--hair)",
  },
  ".cm-activeLine": { backgroundColor: "transparent" },
  ".cm-content": { caretColor: "var(--ink)" },
  ".cm-cursor": { borderLeftColor: "var(--ink)" },
  ".cm-selectionBackground, &.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground": {
    backgroundColor: "var(--water)",
  },
  ".cm-tooltip": { backgroundColor: "var(--sheet)", color: "var(--ink)", border: "1px solid var(--ink)", maxWidth: "26rem" },
  ".cm-tooltip .help": { padding: ".4rem .7rem" },
  ".cm-tooltip .help p": { margin: ".2rem 0" },
  ".cm-tooltip-autocomplete ul li[aria-selected]": { backgroundColor: "var(--water-ink)", color: "var(--sheet)" },
  ".cm-completionDetail": { color: "inherit", fontStyle: "normal", opacity: "1" },
  ".cm-lintRange-error": { backgroundImage: "none", borderBottom: "2px solid var(--alarm)" },
  ".cm-lint-marker-error": { content: '"▲"', color: "var(--alarm)", width: "1em" },
});

const inks = HighlightStyle.define(defaultHighlightStyle.specs.map(({ tag }) => ({ tag, color: "inherit" })));

export interface TextPaneProps {
  readonly text: string;
  readonly errors: readonly LocatedError[];
  onText(text: string): void;
  onUndo(): void;
  onRedo(): void;
}

/** The editor; its text and that of the board follow each other. */
export class TextPane extends Component<TextPaneProps> {
  private readonly host = createRef<HTMLDivElement>();
  private view: EditorView | null = null;
  private timer = 0;

  override componentDidMount(): void {
    const root = this.host.current!.attachShadow({ mode: "open" });
    this.view = new EditorView({
      root,
      parent: root,
      state: EditorState.create({
        doc: this.props.text,
        extensions: [
          lineNumbers(),
          highlightActiveLine(),
          lintGutter(),
          yaml(),
          syntaxHighlighting(inks),
          autocompletion({ override: [complete] }),
          help,
          looks,
          EditorView.lineWrapping,
          EditorView.contentAttributes.of({ "aria-label": "The scenario as text" }),
          keymap.of([
            { key: "Mod-z", run: () => this.step(this.props.onUndo) },
            { key: "Mod-y", run: () => this.step(this.props.onRedo) },
            { key: "Mod-Shift-z", run: () => this.step(this.props.onRedo) },
            ...completionKeymap,
            ...defaultKeymap,
          ]),
          EditorView.updateListener.of((update) => {
            if (!update.docChanged || update.transactions.some((t) => t.annotation(fromBoard))) return;
            clearTimeout(this.timer);
            this.timer = window.setTimeout(() => this.send(), 120);
          }),
        ],
      }),
    });
    this.mark();
  }

  private step(act: () => void): boolean {
    this.send();
    act();
    return true;
  }

  private send(): void {
    clearTimeout(this.timer);
    const text = this.view?.state.doc.toString();
    if (text !== undefined && text !== this.props.text) this.props.onText(text);
  }

  override componentDidUpdate(): void {
    const { view } = this;
    if (!view) return;
    const old = view.state.doc.toString();
    const { text } = this.props;
    if (old !== text) {
      // Replace only the difference, so that the caret stays in place.
      let from = 0;
      while (from < old.length && from < text.length && old[from] === text[from]) from++;
      let end = 0;
      while (end < old.length - from && end < text.length - from && old[old.length - 1 - end] === text[text.length - 1 - end])
        end++;
      view.dispatch({
        changes: { from, to: old.length - end, insert: text.slice(from, text.length - end) },
        annotations: [fromBoard.of(true), Transaction.addToHistory.of(false)],
      });
    }
    this.mark();
  }

  private mark(): void {
    const { view } = this;
    if (!view) return;
    const { doc } = view.state;
    const diagnostics = this.props.errors.map((e): Diagnostic => {
      const line = doc.line(Math.min(Math.max(1, e.line), doc.lines));
      const from = Math.min(line.to, line.from + Math.max(0, e.column - 1));
      return { from, to: Math.max(from, Math.min(line.to, from + 20)), severity: "error", message: e.problem };
    });
    view.dispatch(setDiagnostics(view.state, diagnostics));
  }

  override componentWillUnmount(): void {
    this.send();
    this.view?.destroy();
  }

  override shouldComponentUpdate(next: TextPaneProps): boolean {
    return next.text !== this.props.text || next.errors !== this.props.errors || next.onText !== this.props.onText;
  }

  render() {
    return h("div", { class: "text-pane", ref: this.host });
  }
}
