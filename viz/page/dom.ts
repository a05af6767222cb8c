// Converts a markup tree to DOM nodes. No other module of the page creates elements.
import { attributeText, type Child, isSet, shownText } from "../view/markup.ts";

const SVG = "http://www.w3.org/2000/svg";

/** Appends `child` to `host`; creates everything below an <svg> in the SVG namespace. */
export function append(host: Element | DocumentFragment, child: Child, inSvg = false): void {
  if (child === null || child === undefined || child === false) return;
  if (typeof child === "string" || typeof child === "number") {
    host.append(typeof child === "number" ? String(child) : shownText(host instanceof Element ? host.localName : "", child));
    return;
  }
  if (!("tag" in child)) {
    for (const c of child) append(host, c, inSvg);
    return;
  }
  const svg = inSvg || child.tag === "svg";
  const element = svg ? document.createElementNS(SVG, child.tag) : document.createElement(child.tag);
  for (const [name, value] of Object.entries(child.attributes)) {
    if (isSet(value)) element.setAttribute(name, attributeText(value));
  }
  for (const c of child.children) append(element, c, svg);
  host.append(element);
}

/** Replaces the contents of `host`. */
export function replaceContents(host: Element, child: Child): void {
  host.replaceChildren();
  append(host, child, host instanceof SVGElement);
}

/** The first match. @throws Error if the page has none, which is a programming error */
export function find<T extends Element>(root: ParentNode, selector: string): T {
  const found = root.querySelector<T>(selector);
  if (!found) throw new Error(`the page has no ${selector}`);
  return found;
}
