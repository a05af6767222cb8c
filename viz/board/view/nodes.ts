// From the page's markup trees to the board's nodes, so that drawing, charts and sections are drawn once and used in both.
import { type ComponentChildren, h as node, type VNode } from "preact";
import { attributeText, type Child, isSet, shownText } from "../../view/markup.ts";

/** Nodes of a markup tree; text is tied to its units as on the page. */
export function nodes(child: Child, within = ""): ComponentChildren {
  if (child === null || child === undefined || child === false) return null;
  if (typeof child === "string") return shownText(within, child);
  if (typeof child === "number") return String(child);
  if (!("tag" in child)) return child.map((c) => nodes(c, within));
  const attributes: Record<string, string | boolean> = {};
  for (const [name, value] of Object.entries(child.attributes))
    if (isSet(value)) attributes[name] = value === true ? true : attributeText(value);
  return node(
    child.tag,
    attributes,
    child.children.map((c) => nodes(c, child.tag)),
  ) as VNode;
}
