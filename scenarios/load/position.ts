// Line and column in the text of a place in the scenario.
import {
  type Document,
  isAlias,
  isCollection,
  isMap,
  isNode,
  isPair,
  isScalar,
  type LineCounter,
  type Node,
  type Pair,
} from "yaml";

export interface Place {
  readonly line: number;
  readonly column: number;
  /** Number of characters to underline on that line. */
  readonly length: number;
}

const resolve = (node: unknown, document: Document): Node | undefined => {
  if (isAlias(node)) return node.resolve(document) as Node | undefined;
  return isNode(node) ? node : undefined;
};

type Pairs = ReadonlyMap<string, Pair>;

/** The key-value pairs of a map, by key. */
const pairsOf = (node: Node): Pairs =>
  new Map(
    isMap(node)
      ? node.items.flatMap((pair) => (isScalar(pair.key) ? [[String(pair.key.value), pair as Pair] as const] : []))
      : [],
  );

/** Returns a function that finds places in one document; its time does not grow with the length of a section. */
export function placeFinder(
  document: Document,
  lines: LineCounter,
  text: string,
): (path: readonly PropertyKey[], at: "key" | "value", part?: { readonly offset: number; readonly length: number }) => Place {
  const known = new WeakMap<Node, Pairs>();
  const pairOf = (node: Node, key: PropertyKey): Pair | undefined => {
    const pairs = known.get(node) ?? pairsOf(node);
    known.set(node, pairs);
    return pairs.get(String(key));
  };
  return (path, at, part) => placeOf(document, lines, text, pairOf, path, at, part);
}

/**
 * The place of a path in the text. A section that stands alone where a list is allowed counts as entry 0 of that list.
 * `at: "key"` underlines the last key instead of its value; a missing key falls back to the nearest parent that exists.
 * `offset` and `length` select a part of a string value.
 */
function placeOf(
  document: Document,
  lines: LineCounter,
  text: string,
  pairOf: (node: Node, key: PropertyKey) => Pair | undefined,
  path: readonly PropertyKey[],
  at: "key" | "value",
  part?: { readonly offset: number; readonly length: number },
): Place {
  let node: Node | undefined = document.contents ?? undefined;
  let key: Node | undefined;
  let found = true;
  for (const step of path) {
    const inside: Node | undefined = resolve(node, document);
    if (!isCollection(inside)) {
      found = false;
      break;
    }
    if (step === 0 && isMap(inside)) continue;
    const pair = pairOf(inside, step);
    const next: unknown = pair ? pair.value : typeof step === "number" ? inside.items[step] : undefined;
    if (pair && isNode(pair.key)) key = pair.key;
    else if (typeof step === "number" && isNode(next)) key = next;
    if (!pair && next === undefined) {
      found = false;
      break;
    }
    node = isNode(next) && !isPair(next) ? next : undefined;
  }
  const target = found && at === "value" && node?.range ? node : (key ?? node ?? document.contents);
  const range = target?.range ?? [0, 1, 1];
  let from = range[0];
  let to = Math.max(range[1], from + 1);
  if (found && part && isScalar(target) && typeof target.value === "string") {
    const source = text.slice(range[0], range[1]);
    const start = source.indexOf(target.value);
    if (start >= 0) {
      from = range[0] + start + Math.min(part.offset, target.value.length);
      to = Math.min(from + part.length, range[0] + start + target.value.length);
    }
  }
  const { line, col } = lines.linePos(from);
  const end = text.indexOf("\n", from);
  return { line, column: col, length: Math.max(1, Math.min(to, end < 0 ? text.length : end) - from) };
}
