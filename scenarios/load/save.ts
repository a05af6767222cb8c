// Writes changes back into the text of a scenario and keeps its comments and order.
import { isCollection, isScalar, type ParsedNode, parseDocument } from "yaml";

export interface Change {
  /** Keys as written in the file; numbers are list indices from 0. */
  readonly path: readonly (string | number)[];
  /** The new string, number or boolean; null removes the key. */
  readonly value: string | number | boolean | null;
}

/** Whether every step before the last is a section or list, or does not exist yet. */
function reachable(contents: ParsedNode | null, path: readonly (string | number)[]): boolean {
  let node: unknown = contents;
  for (const step of path.slice(0, -1)) {
    if (!isCollection(node)) break;
    node = node.get(step, true);
  }
  return isCollection(node) || node === undefined || (isScalar(node) && node.value === null);
}

/**
 * The text with all changes made. Everything else keeps its wording, order and comments.
 * @throws Error when the text is not valid YAML, or a path leads into a scalar
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
    // Changing the value of the existing node keeps the comment beside it.
    if (isScalar(old)) {
      old.value = value;
      delete old.source;
    } else document.setIn(path, value);
  }
  return document.toString({ lineWidth: 0, flowCollectionPadding: true });
}
