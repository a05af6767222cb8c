// Marks glossary terms in a text: the first occurrence of each becomes a link to its entry.
import { type Entry, termsIn } from "./glossary.ts";
import { type Child, h } from "./markup.ts";

/** Terms that every reader of the page knows and that need no mark. */
const KNOWN: ReadonlySet<string> = new Set([
  "sump",
  "display",
  "ammonia",
  "nitrite",
  "nitrate",
  "media",
  "ph",
  "drain",
  "return",
  "ready",
  "plain-power-cut",
]);

const link = (words: string, { id }: Entry): Child => h("a", { class: "term", href: `#term-${id}`, "data-term": id }, words);

/** Returns a function that marks each term once over all its texts, up to `most` terms in all. */
export function termMarker(most = 3): (text: string) => Child {
  const seen = new Set<string>();
  return (text) =>
    termsIn(text).map((piece) => {
      if (typeof piece === "string") return piece;
      const { words, entry } = piece;
      if (KNOWN.has(entry.id) || seen.has(entry.id) || seen.size >= most) return words;
      seen.add(entry.id);
      return link(words, entry);
    });
}
