// Presentation mode: one item per screen in large type; keyboard or presenter keys move forward and back.
import { h } from "../view/markup.ts";
import { find, replaceContents } from "./dom.ts";
import type { Slide } from "./slides.ts";

const NEXT: ReadonlySet<string> = new Set(["ArrowRight", "ArrowDown", "PageDown", " ", "Enter"]);
const BACK: ReadonlySet<string> = new Set(["ArrowLeft", "ArrowUp", "PageUp", "Backspace"]);

/** Space for the heading and the buttons [CSS pixels]. */
const FRAME_PX = { x: 96, y: 190 } as const;

function dialog(): HTMLDialogElement {
  const known = document.querySelector<HTMLDialogElement>("#presentation");
  if (known) return known;
  const made = document.createElement("dialog");
  made.id = "presentation";
  made.setAttribute("aria-labelledby", "slide-title");
  document.body.append(made);
  return made;
}

/** Opens the slides; Escape closes them. */
export function present(slides: readonly Slide[]): void {
  const host = dialog();
  let index = 0;

  function show(): void {
    const slide = slides[index]!;
    const size = { width: window.innerWidth - FRAME_PX.x, height: window.innerHeight - FRAME_PX.y };
    replaceContents(host, [
      h("h2", { id: "slide-title" }, slide.title),
      h("div", { class: "slide", "data-slide-id": slide.id }, slide.draw(size)),
      h(
        "div",
        { class: "slide-controls" },
        h("button", { type: "button", "data-go": "back", disabled: index === 0 }, "Back"),
        h("span", { role: "status" }, `${index + 1} of ${slides.length}`),
        h("button", { type: "button", "data-go": "next", autofocus: true, disabled: index === slides.length - 1 }, "Next"),
        h("button", { type: "button", "data-go": "close" }, "Close"),
      ),
    ]);
  }

  function go(step: 1 | -1): void {
    const next = Math.min(slides.length - 1, Math.max(0, index + step));
    if (next === index) return;
    index = next;
    show();
    find<HTMLElement>(host, `[data-go=${step > 0 ? "next" : "back"}]`).focus();
  }

  host.onkeydown = (e) => {
    const onButton = (e.target as Element).tagName === "BUTTON" && (e.key === " " || e.key === "Enter");
    if (onButton || (e.target as Element).closest("summary,a")) return;
    if (NEXT.has(e.key)) go(1);
    else if (BACK.has(e.key)) go(-1);
    else return;
    e.preventDefault();
  };
  host.onclick = (e) => {
    const step = (e.target as Element).closest<HTMLElement>("[data-go]")?.dataset.go;
    if (step === "close") host.close();
    else if (step) go(step === "next" ? 1 : -1);
  };
  host.onclose = () => host.replaceChildren();
  show();
  host.showModal();
}
