// The controls of "Try it" as data: changed values, undo and redo. No browser code.

export type Moved = ReadonlyMap<string, string>;

export interface Trail {
  readonly past: readonly Moved[];
  readonly present: Moved;
  readonly future: readonly Moved[];
  /** The control of the last step, so that one drag is one undo step. */
  readonly lastId: string | null;
}

export const START: Trail = { past: [], present: new Map(), future: [], lastId: null };

/** Number of undo steps; older ones are discarded. */
const LONGEST = 50;

/** Sets one control; "" restores the value of the file. Successive changes of the same control form one step. */
export function move(trail: Trail, id: string, value: string): Trail {
  const present = new Map(trail.present);
  if (value === "") present.delete(id);
  else present.set(id, value);
  const same = trail.lastId === id && trail.past.length > 0;
  return { past: same ? trail.past : [...trail.past, trail.present].slice(-LONGEST), present, future: [], lastId: id };
}

/** Sets all controls as one step. */
export const moveAll = (trail: Trail, present: Moved): Trail => ({
  past: [...trail.past, trail.present].slice(-LONGEST),
  present,
  future: [],
  lastId: null,
});

export function undo(trail: Trail): Trail {
  const before = trail.past.at(-1);
  if (!before) return trail;
  return { past: trail.past.slice(0, -1), present: before, future: [trail.present, ...trail.future], lastId: null };
}

export function redo(trail: Trail): Trail {
  const [next, ...future] = trail.future;
  if (!next) return trail;
  return { past: [...trail.past, trail.present], present: next, future, lastId: null };
}

/** Name of a change: the labels and values of the changed controls. */
export const nameOf = (moved: Moved, describe: (id: string, value: string) => string): string =>
  [...moved].map(([id, value]) => describe(id, value)).join(", ");
