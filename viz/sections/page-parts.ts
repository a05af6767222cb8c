// Parts that the pages of studies, forecasts, plans and sizes have in common.
import { cautions } from "../../scenarios/findings/cautions.ts";
import { type Child, h, type Markup } from "../view/markup.ts";

/** A titled section; null without content. */
export const titledSection = (id: string, title: string, content: Child): Markup | null =>
  content === null || (Array.isArray(content) && content.length === 0)
    ? null
    : h("section", { id, "aria-labelledby": `${id}-title` }, h("h2", { id: `${id}-title` }, title), content);

export const cautionList = (): Markup =>
  h(
    "ul",
    {},
    cautions.map(({ title, text }) => h("li", {}, h("b", {}, `${title}. `), text)),
  );

/** The files beside a page, and where it comes from. */
export const filesAndOrigin = (files: readonly string[], origin: string): Markup =>
  h(
    "footer",
    {},
    h(
      "p",
      {},
      "Beside this page: ",
      files.map((one, i) => [i > 0 && ", ", h("code", {}, one)]),
      ".",
    ),
    h("p", { class: "provenance" }, origin),
  );
