// Changes to a scenario by its parts, made in plain data and in the text alike; the text keeps its words, comments and order.
import { Document, isAlias, isCollection, isMap, isScalar, isSeq, type ParsedNode, parseDocument, type YAMLSeq } from "yaml";

/** Keys and list places from the top; a section that stands alone where a list may stand is the first of that list. */
export type Path = readonly (string | number)[];
export type Plain = string | number | boolean | null | readonly Plain[] | { readonly [key: string]: Plain };

export type Edit =
  /** Writes a value, a section or a list; sections on the way are made. */
  | { readonly do: "set"; readonly path: Path; readonly value: Plain }
  /** Takes a key or a list entry out; a list that becomes empty goes with it. */
  | { readonly do: "remove"; readonly path: Path }
  /** Puts an entry into the list at `path`; one that stood alone becomes a list. */
  | { readonly do: "insert"; readonly path: Path; readonly index: number; readonly value: Plain }
  /** Gives a list entry another place. */
  | { readonly do: "move"; readonly path: Path; readonly from: number; readonly to: number };

/** Why a change cannot be made, in plain words. */
export class EditRefused extends Error {}

type Data = Record<string, unknown> | unknown[];
const isData = (value: unknown): value is Data => typeof value === "object" && value !== null;

/** The path as this data has it: places in lists that are not there are left out. */
export function writtenPath(data: unknown, path: Path): Path {
  const written: (string | number)[] = [];
  let at: unknown = data;
  for (const step of path) {
    if (typeof step === "number" && !Array.isArray(at)) {
      if (step !== 0) throw new EditRefused(`there is no entry ${step + 1} here`);
      continue;
    }
    written.push(step);
    at = isData(at) ? (at as Record<string | number, unknown>)[step] : undefined;
  }
  return written;
}

/** What stands at a place; undefined when nothing does. */
export function valueAt(data: unknown, path: Path): unknown {
  let at: unknown = data;
  for (const step of path) {
    if (typeof step === "number" && !Array.isArray(at)) {
      if (step !== 0) return undefined;
      continue;
    }
    if (!isData(at) || !Object.hasOwn(at, step)) return undefined;
    at = (at as Record<string | number, unknown>)[step];
  }
  return at;
}

const refuseWord = (path: Path): never => {
  throw new EditRefused(`${path.join(".")} cannot be set: a plain word stands in its way`);
};

/** The same change made to plain data; what was given stays as it is. */
export function editedData(data: unknown, edit: Edit): unknown {
  const copy = structuredClone(data);
  const path = writtenPath(copy, edit.path);
  const parentOf = (make: boolean): Record<string | number, unknown> | null => {
    let at = copy as Record<string | number, unknown>;
    for (const step of path.slice(0, -1)) {
      const next = at[step];
      if (isData(next)) at = next as Record<string | number, unknown>;
      else if (next === undefined || next === null) {
        if (!make) return null;
        at[step] = {};
        at = at[step] as Record<string | number, unknown>;
      } else return refuseWord(path);
    }
    return at;
  };
  const last = path.at(-1)!;
  if (edit.do === "set") {
    const parent = parentOf(true)!;
    if (Array.isArray(parent) && (last as number) > parent.length) throw new EditRefused("there is no such entry");
    parent[last] = structuredClone(edit.value);
  } else if (edit.do === "remove") {
    const parent = parentOf(false);
    if (!parent) return copy;
    if (!Array.isArray(parent)) delete parent[last];
    else if (parent.length > 1) parent.splice(last as number, 1);
    else if (last === 0) return editedData(data, { do: "remove", path: path.slice(0, -1) });
  } else {
    const parent = parentOf(edit.do === "insert");
    const now = parent?.[last];
    const list = Array.isArray(now) ? now : now === undefined || now === null ? [] : [now];
    if (edit.do === "insert") {
      list.splice(Math.min(edit.index, list.length), 0, structuredClone(edit.value));
      parent![last] = list;
    } else if (parent && Array.isArray(now)) {
      const [taken] = list.splice(edit.from, 1);
      if (taken !== undefined) list.splice(edit.to, 0, taken);
    }
  }
  return copy;
}

const OPTIONS = { lineWidth: 0, flowCollectionPadding: true } as const;

/** Fails where the path leads through a reference or a plain word. */
function checkWay(document: Document.Parsed, path: Path): void {
  let node: unknown = document.contents;
  for (const step of path.slice(0, -1)) {
    if (isAlias(node)) break;
    if (!isCollection(node)) break;
    node = node.get(step, true);
  }
  if (isAlias(node)) throw new EditRefused(`${path.join(".")} is written by reference (*${node.source}): change it in the text`);
  if (!(isCollection(node) || node === undefined || node === null || (isScalar(node) && node.value === null))) refuseWord(path);
}

function setAt(document: Document.Parsed, path: Path, value: Plain): void {
  const old: unknown = document.getIn(path, true);
  if (isScalar(old) && typeof value !== "object") {
    // Setting the value of the old word keeps the comment beside it.
    if (old.value === value) return;
    old.value = value;
    delete old.source;
    return;
  }
  const node = document.createNode(value);
  if (isScalar(old) || isCollection(old)) {
    node.commentBefore = old.commentBefore ?? null;
    node.comment = old.comment ?? null;
  }
  // Sections on the way are made with the look of what they stand in.
  const parent = path.slice(0, -1);
  const holder = document.getIn(parent, true);
  if (isScalar(holder) && holder.value === null) document.deleteIn(parent);
  document.setIn(path, node);
  tidyFlow(document, path);
}

/** What is put into brackets is written in brackets too, and an entry of a list of bracketed entries likewise. */
function tidyFlow(document: Document.Parsed, path: Path): void {
  let flow = false;
  for (let i = 0; i <= path.length; i++) {
    const node: unknown = i === 0 ? document.contents : document.getIn(path.slice(0, i), true);
    if (!isCollection(node)) return;
    if (flow) node.flow = true;
    flow = node.flow === true;
  }
}

/** An entry as its neighbours are written: in brackets where they are, and always when it is small. */
function entryNode(document: Document.Parsed, list: YAMLSeq, value: Plain): unknown {
  const node = document.createNode(value);
  const neighbour = list.items.find(isCollection);
  if (isCollection(node) && (neighbour ? neighbour.flow === true : JSON.stringify(value).length < 110)) node.flow = true;
  return node;
}

function insertAt(document: Document.Parsed, path: Path, index: number, value: Plain): void {
  const old: unknown = document.getIn(path, true);
  if (isAlias(old)) throw new EditRefused(`${path.join(".")} is written by reference (*${old.source}): change it in the text`);
  if (isSeq(old)) {
    old.items.splice(Math.min(index, old.items.length), 0, entryNode(document, old, value));
  } else {
    const list = document.createNode([]) as unknown as YAMLSeq;
    const alone = old !== undefined && old !== null && !(isScalar(old) && old.value === null) ? (old as ParsedNode) : null;
    if (alone) list.items.push(alone);
    list.items.splice(index, 0, entryNode(document, list, value));
    list.flow = false;
    if (alone === null && path.length === 0) throw new EditRefused("there is nothing to put it into");
    document.setIn(path, list);
  }
  tidyFlow(document, path);
}

/** Takes out a key, or an entry with its list when it is the last. */
function removeAt(document: Document.Parsed, path: Path): void {
  const parent: unknown = path.length === 1 ? document.contents : document.getIn(path.slice(0, -1), true);
  if (isSeq(parent) && parent.items.length === 1 && path.at(-1) === 0) {
    removeAt(document, path.slice(0, -1));
    return;
  }
  if (!document.hasIn(path)) return;
  document.deleteIn(path);
  // A block section without keys is written as an empty pair of brackets, so that it stays a section.
  if (isMap(parent) && parent.items.length === 0) parent.flow = true;
}

/**
 * The text with each change made, one after the other.
 * @throws EditRefused when the text is no YAML, or a change leads into a plain word or a reference
 */
export function editedText(text: string, edits: readonly Edit[]): string {
  const [first, ...rest] = edits;
  if (!first) return text;
  const spliced = first.do === "set" && rest.length === 0 ? wordReplaced(text, first.path, first.value) : null;
  return spliced ?? editedDocument(text, edits);
}

/** The text with one word, number or truth replaced by another where it stands, every other character as it was; null when it is not so simple. */
function wordReplaced(text: string, at: Path, value: Plain): string | null {
  if (typeof value === "object") return null;
  const document = parseDocument(text);
  if (document.errors.length > 0) return null;
  const path = writtenPath(document.toJS(), at);
  checkWay(document, path);
  const old: unknown = document.getIn(path, true);
  if (!isScalar(old) || !old.range || old.anchor || old.type === "BLOCK_FOLDED" || old.type === "BLOCK_LITERAL") return null;
  if (old.value === value) return text;
  const [from, to] = old.range;
  if (from === to || text.slice(from, to).includes("\n")) return null;
  // Written as inside brackets, so that it can stand there too.
  const written = new Document([value]);
  (written.contents as YAMLSeq).flow = true;
  const token = written.toString({ lineWidth: 0, flowCollectionPadding: false }).trim().slice(1, -1);
  return token.includes("\n") ? null : text.slice(0, from) + token + text.slice(to);
}

function editedDocument(text: string, edits: readonly Edit[]): string {
  const document = parseDocument(text);
  const first = document.errors[0];
  if (first) throw new EditRefused("the text has a mistake that must be mended first");
  for (const edit of edits) {
    const path = writtenPath(document.toJS(), edit.path);
    checkWay(document, path);
    if (edit.do === "set") setAt(document, path, edit.value);
    else if (edit.do === "remove") removeAt(document, path);
    else if (edit.do === "insert") insertAt(document, path, edit.index, edit.value);
    else {
      const list: unknown = document.getIn(path, true);
      if (isSeq(list)) {
        const [taken] = list.items.splice(edit.from, 1);
        if (taken) list.items.splice(edit.to, 0, taken);
      }
    }
  }
  return document.toString(OPTIONS);
}

/** Plain data of a text; null when the text is no YAML or not a list of keys and values. */
export function dataOf(text: string): Readonly<Record<string, unknown>> | null {
  const document = parseDocument(text, { uniqueKeys: false, version: "1.2" });
  if (document.errors.length > 0) return null;
  try {
    const data: unknown = document.toJS({ maxAliasCount: 100 });
    return isData(data) && !Array.isArray(data) ? data : null;
  } catch (error) {
    if (error instanceof ReferenceError || error instanceof RangeError) return null;
    throw error;
  }
}
