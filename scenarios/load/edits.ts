// Edits of a scenario, made in plain data and in its text alike. The text keeps its wording, comments and order.
import { Document, isAlias, isCollection, isMap, isScalar, isSeq, type ParsedNode, parseDocument, type YAMLSeq } from "yaml";

/** Keys and list indices from the top. A section that stands alone where a list is allowed counts as entry 0 of that list. */
export type Path = readonly (string | number)[];
export type Plain = string | number | boolean | null | readonly Plain[] | { readonly [key: string]: Plain };

export type Edit =
  /** Writes a value, a section or a list; missing sections on the way are created. */
  | { readonly do: "set"; readonly path: Path; readonly value: Plain }
  /** Removes a key or a list entry; a list that becomes empty is removed with it. */
  | { readonly do: "remove"; readonly path: Path }
  /** Inserts an entry into the list at `path`; a single entry becomes a list. */
  | { readonly do: "insert"; readonly path: Path; readonly index: number; readonly value: Plain }
  /** Moves a list entry. */
  | { readonly do: "move"; readonly path: Path; readonly from: number; readonly to: number };

/** An edit that cannot be made; the message says why in plain words. */
export class EditRefused extends Error {}

type Data = Record<string, unknown> | unknown[];
const isData = (value: unknown): value is Data => typeof value === "object" && value !== null;

/**
 * The path as this data has it: without the indices of lists that the data does not have.
 * @throws EditRefused when an entry does not exist
 */
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

/** The value at a path; undefined when there is none. */
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

/** The same edit made in plain data; the input is not changed. @throws EditRefused when the edit cannot be made */
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

/** @throws EditRefused where the path leads through an alias or a scalar */
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
    // Changing the value of the existing node keeps the comment beside it.
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
  // Created sections take the style (block or flow) of the section that contains them.
  const parent = path.slice(0, -1);
  const holder = document.getIn(parent, true);
  if (isScalar(holder) && holder.value === null) document.deleteIn(parent);
  document.setIn(path, node);
  tidyFlow(document, path);
}

/** A node inside flow style must be in flow style too, and so must an entry of a list of flow entries. */
function tidyFlow(document: Document.Parsed, path: Path): void {
  let flow = false;
  for (let i = 0; i <= path.length; i++) {
    const node: unknown = i === 0 ? document.contents : document.getIn(path.slice(0, i), true);
    if (!isCollection(node)) return;
    if (flow) node.flow = true;
    flow = node.flow === true;
  }
}

/** A new entry in the style of its neighbours: in flow style where they are, and always when it is small. */
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

/** Removes a key, or a list entry; the list goes with its last entry. */
function removeAt(document: Document.Parsed, path: Path): void {
  const parent: unknown = path.length === 1 ? document.contents : document.getIn(path.slice(0, -1), true);
  if (isSeq(parent) && parent.items.length === 1 && path.at(-1) === 0) {
    removeAt(document, path.slice(0, -1));
    return;
  }
  if (!document.hasIn(path)) return;
  document.deleteIn(path);
  // An empty block section is written as {}, so that it remains a section.
  if (isMap(parent) && parent.items.length === 0) parent.flow = true;
}

/**
 * The text with all edits made in turn.
 * @throws EditRefused when the text is not valid YAML, or an edit leads into a scalar or an alias
 */
export function editedText(text: string, edits: readonly Edit[]): string {
  const [first, ...rest] = edits;
  if (!first) return text;
  const spliced = first.do === "set" && rest.length === 0 ? wordReplaced(text, first.path, first.value) : null;
  return spliced ?? editedDocument(text, edits);
}

/** The text with one scalar replaced in place and every other character unchanged; null when the change is not so simple. */
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
  // Written as inside flow style, so that it is valid there too.
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

/** Plain data of a text; null when the text is not valid YAML or not a map. */
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
