// The list of all terms; marked terms in the text link to it.
import { GLOSSARY } from "../view/glossary.ts";
import { h, type Markup } from "../view/markup.ts";
import type { Context } from "./context.ts";
import { fold } from "./fold.ts";

/** Every term with its address. */
export const glossaryList = (): Markup =>
  h(
    "dl",
    { class: "glossary" },
    GLOSSARY.map(({ id, term, text }) => h("div", { id: `term-${id}` }, h("dt", {}, term), h("dd", {}, text))),
  );

export const glossarySection = (c: Context): Markup =>
  fold(c, { id: "glossary", title: "Glossary", gist: `${GLOSSARY.length} terms in plain words`, contents: glossaryList });
