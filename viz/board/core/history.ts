// The scenario's text with everything it has been: the one truth of the board. Undo and redo have no limit.

export interface History {
  readonly text: string;
  readonly past: readonly string[];
  readonly future: readonly string[];
  /** Changes of one kind that follow each other, such as the steps of a drag, are one change. */
  readonly kind: string | null;
  /** The text as it was last saved to a file or among the kept systems. */
  readonly saved: string;
}

export const begin = (text: string): History => ({ text, past: [], future: [], kind: null, saved: text });

/** @param kind changes with the same kind, one after the other, are undone together; null never joins */
export function changed(history: History, text: string, kind: string | null = null): History {
  if (text === history.text) return history;
  const joins = kind !== null && kind === history.kind;
  return { ...history, text, past: joins ? history.past : [...history.past, history.text], future: [], kind };
}

export function undone(history: History): History {
  const text = history.past.at(-1);
  if (text === undefined) return history;
  return { ...history, text, past: history.past.slice(0, -1), future: [history.text, ...history.future], kind: null };
}

export function redone(history: History): History {
  const [text, ...future] = history.future;
  if (text === undefined) return history;
  return { ...history, text, past: [...history.past, history.text], future, kind: null };
}

/** Ends a row of joined changes: the next is a change of its own. */
export const settled = (history: History): History => ({ ...history, kind: null });

export const markSaved = (history: History): History => ({ ...history, saved: history.text, kind: null });

/** Another scenario in place of this one; undo brings the old one back. */
export const replaced = (history: History, text: string): History => ({ ...changed(history, text), saved: text });
