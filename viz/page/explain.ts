// Shows the explanation of a marked term beside it, on hover and on focus.
import { GLOSSARY } from "../view/glossary.ts";
import { h } from "../view/markup.ts";
import { replaceContents } from "./dom.ts";
import { cardPlace } from "./read-out.ts";

const ID = "term-card";

export function explainTerms(): void {
  const host = document.createElement("div");
  host.id = ID;
  host.setAttribute("role", "tooltip");
  host.hidden = true;
  document.body.append(host);

  const termOf = (e: Event): HTMLElement | null => (e.target as Element).closest?.<HTMLElement>("a.term") ?? null;

  function show(link: HTMLElement): void {
    const entry = GLOSSARY.find((g) => g.id === link.dataset.term);
    if (!entry) return;
    replaceContents(host, [h("strong", {}, entry.term), h("span", {}, entry.text)]);
    host.hidden = false;
    link.setAttribute("aria-describedby", ID);
    const { left, bottom } = link.getBoundingClientRect();
    const { width, height } = host.getBoundingClientRect();
    const window_ = { width: document.documentElement.clientWidth, height: window.innerHeight };
    const place = cardPlace({ x: left - 14, y: bottom + 8 + height / 2 }, { width, height }, window_);
    host.style.setProperty("left", `${place.left}px`);
    host.style.setProperty("top", `${place.top}px`);
  }

  function hide(): void {
    host.hidden = true;
    for (const link of document.querySelectorAll(`[aria-describedby=${ID}]`)) link.removeAttribute("aria-describedby");
  }

  for (const event of ["pointerover", "focusin"] as const)
    document.addEventListener(event, (e) => {
      const link = termOf(e);
      if (link) show(link);
    });
  // The card stays while the pointer is on it, and Escape closes it (WCAG 2.2, 1.4.13).
  document.addEventListener("pointerout", (e) => {
    const to = e.relatedTarget as Element | null;
    if (termOf(e) && !to?.closest?.(`#${ID}`)) hide();
  });
  host.addEventListener("pointerleave", hide);
  document.addEventListener("focusout", (e) => {
    if (termOf(e)) hide();
  });
  document.addEventListener("keydown", (e) => {
    if (e.key === "Escape") hide();
  });
}
