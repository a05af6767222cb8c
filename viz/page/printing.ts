// Printing: the summary, chosen sheets, or everything. Draws and opens the printed folds first, and closes them afterwards.
import { find } from "./dom.ts";

export type PrintWish = { readonly kind: "everything" } | { readonly kind: "sheets"; readonly ids: readonly string[] };

const EVERYTHING: PrintWish = { kind: "everything" };

export interface Printing {
  /** Prints the requested parts. */
  print(wish: PrintWish): void;
}

/**
 * @param prepare redraws the page for paper: at its width, with the given folds open; null means all of them
 * @param restore redraws it for the screen
 */
export function printing(prepare: (folds: readonly string[] | null) => void, restore: () => void): Printing {
  let wish: PrintWish = EVERYTHING;

  function before(): void {
    const { body } = document;
    body.classList.toggle("only-sheets", wish.kind === "sheets");
    prepare(wish.kind === "sheets" ? wish.ids : null);
    if (wish.kind !== "sheets") return;
    wish.ids.forEach((id, i) => {
      const sheet = document.getElementById(id);
      sheet?.classList.add("print-me");
      sheet?.classList.toggle("print-first", i === 0);
    });
  }

  function after(): void {
    document.body.classList.remove("only-sheets");
    for (const sheet of document.querySelectorAll(".print-me")) sheet.classList.remove("print-me", "print-first");
    wish = EVERYTHING;
    restore();
  }

  // The print command of the browser prints everything, so that nothing is missing on paper.
  addEventListener("beforeprint", before);
  addEventListener("afterprint", after);

  const start = (wanted: PrintWish): void => {
    wish = wanted;
    print();
  };

  document.addEventListener("click", (e) => {
    const button = (e.target as Element).closest<HTMLElement>("button");
    if (button?.id === "print") find<HTMLDialogElement>(document, "#print-dialog").showModal();
    else if (button?.dataset.print) start({ kind: "sheets", ids: [button.dataset.print] });
  });
  document.addEventListener("submit", (e) => {
    const form = e.target as HTMLFormElement;
    if (form.id !== "print-form") return;
    const wanted = (e.submitter as HTMLButtonElement | null)?.value;
    const chosen = new FormData(form).getAll("sheet").map(String);
    // After the dialog has closed.
    setTimeout(() => {
      if (wanted === "everything") start(EVERYTHING);
      else if (wanted === "summary") start({ kind: "sheets", ids: ["sheet-summary"] });
      else if (wanted === "chosen" && chosen.length > 0) start({ kind: "sheets", ids: chosen });
    });
  });

  return { print: start };
}
