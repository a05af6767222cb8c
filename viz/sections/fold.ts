// A part of the page that opens on demand. It has its own address and is printed open.
import { type Child, h, type Markup } from "../view/markup.ts";
import type { Context } from "./context.ts";

export interface Fold {
  readonly id: string;
  readonly title: string;
  /** Summary of its contents in a few words. */
  readonly gist: string;
  /** Tag and class of the outer element; by default a section of the page. */
  readonly as?: { readonly tag: string; readonly className: string; readonly heading: string };
  /** Omitted from a static page, because it repeats other parts of the page or is too large. */
  readonly again?: boolean;
  readonly contents: () => Child;
}

/** In a browser, the contents of a closed fold are drawn only when it is opened or printed. */
export function fold(c: Context, { id, title, gist, as, again = false, contents }: Fold): Markup {
  const open = c.open?.has(id) === true;
  const { tag, className, heading } = as ?? { tag: "section", className: "fold", heading: "h2" };
  return h(
    tag,
    { id, class: again ? `${className} again` : className, "aria-labelledby": `${id}-title`, "data-fold": id },
    h(
      "details",
      { open },
      h("summary", {}, h(heading, { id: `${id}-title` }, title), gist !== "" && h("span", { class: "gist" }, gist)),
      h("div", { class: "fold-contents" }, (c.live ? open : !again) && contents()),
    ),
  );
}
