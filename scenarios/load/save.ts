// Writes changes back into a scenario's text, with its comments and its order kept.
import { isCollection, isScalar, type ParsedNode, parseDocument } from "yaml";

export interface Change {
  /** Keys as written in the file; numbers count list entries from 0. */
  readonly path: readonly (string | number)[];
  /** The new words, number or truth; null removes the key. */
  readonly value: string | number | boolean | null;
}

/** Whether every step before the last leads into a section or list, or into nothing yet. */
function reachable(contents: ParsedNode | null, path: readonly (string | number)[]): boolean {
  let node: unknown = contents;
  for (const step of path.slice(0, -1)) {
    if (!isCollection(node)) break;
    node = node.get(step, true);
  }
  return isCollection(node) || node === undefined || (isScalar(node) && node.value === null);
}

/**
 * The text with each change made. What is not touched keeps its words, order and comments.
 * @throws when the text is no YAML, or a path leads into a plain word
 */
export function withChanges(text: string, changes: readonly Change[]): string {
  const document = parseDocument(text);
  const first = document.errors[0];
  if (first) throw new Error(`the scenario cannot be changed: ${first.message}`);
  for (const { path, value } of changes) {
    if (!reachable(document.contents, path)) throw new Error(`${path.join(".")} cannot be set: a plain word stands in its way`);
    if (value === null) {
      if (document.hasIn(path)) document.deleteIn(path);
      continue;
    }
    const old: unknown = document.getIn(path, true);
    // Setting the value of the old word keeps the comment beside it.
    if (isScalar(old)) {
      old.value = value;
      delete old.source;
    } else document.setIn(path, value);
  }
  return document.toString({ lineWidth: 0, flowCollectionPadding: true });
}
