// A text field that keeps its draft while the board is redrawn, and commits it at the end of the input.
import { Component, h } from "preact";

interface LineProps {
  readonly id: string;
  readonly value: string;
  readonly rows?: number;
  readonly attributes: Readonly<Record<string, unknown>>;
  onWrite(text: string): void;
}

export class Line extends Component<LineProps, { readonly draft: string | null }> {
  override state = { draft: null as string | null };

  private readonly typing = (e: Event): void => this.setState({ draft: (e.currentTarget as HTMLInputElement).value });

  private readonly done = (e: Event): void => {
    const text = (e.currentTarget as HTMLInputElement).value;
    this.setState({ draft: null });
    if (text !== this.props.value) this.props.onWrite(text);
  };

  private readonly key = (e: KeyboardEvent): void => {
    if (e.key === "Escape" && this.state.draft !== null) {
      e.preventDefault();
      this.setState({ draft: null });
    }
  };

  render() {
    const { id, value, rows, attributes } = this.props;
    return h((rows ? "textarea" : "input") as "input", {
      ...attributes,
      id,
      ...(rows ? { rows } : { type: "text" }),
      value: this.state.draft ?? value,
      autocomplete: "off",
      onInput: this.typing,
      onChange: this.done,
      onKeyDown: this.key,
    });
  }
}
