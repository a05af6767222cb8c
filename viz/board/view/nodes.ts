// Converts the markup trees of the page to the nodes of the board, so that both share drawing, charts and sections.
import { type ComponentChildren, h as node, type VNode } from "preact";
import { attributeText, type Child, isSet, shownText } from "../../view/markup.ts";

/** Nodes of a markup tree, with non-breaking spaces before units as on the page. */
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
