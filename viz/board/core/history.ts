// The text of the scenario with its history, the only source of the board's state. Undo and redo have no limit.

export interface History {
  readonly text: string;
  readonly past: readonly string[];
  readonly future: readonly string[];
  /** Successive changes of one kind, such as the steps of a drag, form one change. */
  readonly kind: string | null;
  /** The text of the last save, to a file or among the kept systems. */
  readonly saved: string;
}

export const begin = (text: string): History => ({ text, past: [], future: [], kind: null, saved: text });

/** @param kind successive changes of the same kind are undone together; null is never merged */
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

/** Ends a series of merged changes: the next is a separate change. */
export const settled = (history: History): History => ({ ...history, kind: null });

export const markSaved = (history: History): History => ({ ...history, saved: history.text, kind: null });

/** Replaces the scenario by another one; undo restores the old one. */
export const replaced = (history: History, text: string): History => ({ ...changed(history, text), saved: text });
