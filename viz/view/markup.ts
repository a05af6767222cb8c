// Page and drawing as plain data: a tree of elements that becomes HTML text (here) or DOM nodes (page/dom.ts).
// Text from a scenario becomes only text nodes and attribute values, so it is never interpreted as markup.

export type Attributes = Readonly<Record<string, string | number | boolean | null | undefined>>;

export interface Markup {
  readonly tag: string;
  readonly attributes: Attributes;
  readonly children: readonly Child[];
}

export type Child = Markup | string | number | null | undefined | false | readonly Child[];

/** An element. An attribute of `true` is written without a value; `false`, `null` and `undefined` omit it. */
export const h = (tag: string, attributes: Attributes = {}, ...children: Child[]): Markup => ({ tag, attributes, children });

/** Matches the blank between a number and its unit, which must not break across lines. */
const UNIT = /(\d) (?=(?:mm|cm|m|in|ft|L|US|h|min|s|g|kg|mg|µg|W|Wh|°C|°F|dKH|meq|days?)\b|[%°])/g;
const FRACTION = /(\d) (\d+\/\d+)/g;
const tied = (s: string): string =>
  s
    .replace(FRACTION, "$1\u00a0$2")
    .replace(UNIT, "$1\u00a0")
    .replace(/\bUS (gal|gph)\b/g, "US\u00a0$1");

/** Text of an element as shown; text copied from the scenario file is not changed. */
export const shownText = (tag: string, s: string): string => (tag === "code" || tag === "pre" ? s : tied(s));

const VOID = new Set(["br", "hr", "img", "input", "link", "meta", "col"]);

const escapeText = (s: string): string => s.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");
const escapeAttribute = (s: string): string => escapeText(s).replace(/"/g, "&quot;");

/** Text of an attribute; coordinates keep two decimals, a fiftieth of a millimetre on paper. */
export const attributeText = (value: string | number | true): string =>
  value === true ? "" : typeof value === "number" ? String(Math.round(value * 100) / 100) : value;

export const isSet = (value: Attributes[string]): value is string | number | true =>
  value !== false && value !== null && value !== undefined;

/** HTML text of a tree; `within` is the tag of the parent element. */
export function toHtml(node: Child, within = ""): string {
  if (node === null || node === undefined || node === false) return "";
  if (typeof node === "string") return escapeText(shownText(within, node));
  if (typeof node === "number") return String(node);
  if (!("tag" in node)) return node.map((child) => toHtml(child, within)).join("");
  let open = `<${node.tag}`;
  for (const [name, value] of Object.entries(node.attributes)) {
    if (isSet(value)) open += value === true ? ` ${name}` : ` ${name}="${escapeAttribute(attributeText(value))}"`;
  }
  return VOID.has(node.tag)
    ? `${open}>`
    : `${open}>${node.children.map((child) => toHtml(child, node.tag)).join("")}</${node.tag}>`;
}
