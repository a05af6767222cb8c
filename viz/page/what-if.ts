// The controls of "Try it" as data: what is moved, and the way back and forth through it. No browser here.

export type Moved = ReadonlyMap<string, string>;

export interface Trail {
  readonly past: readonly Moved[];
  readonly present: Moved;
  readonly future: readonly Moved[];
  /** The control that made the last step, so that one drag is one step back. */
  readonly lastId: string | null;
}

export const START: Trail = { past: [], present: new Map(), future: [], lastId: null };

/** Steps that can be taken back; older ones are forgotten. */
const LONGEST = 50;

/** Moves one control; "" puts it back to the file. A control that is moved again right away makes no new step. */
export function move(trail: Trail, id: string, value: string): Trail {
  const present = new Map(trail.present);
  if (value === "") present.delete(id);
  else present.set(id, value);
  const same = trail.lastId === id && trail.past.length > 0;
  return { past: same ? trail.past : [...trail.past, trail.present].slice(-LONGEST), present, future: [], lastId: id };
}

/** All controls to given places, as one step. */
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

/** A name for a change: the labels of what was moved, with their values. */
export const nameOf = (moved: Moved, describe: (id: string, value: string) => string): string =>
  [...moved].map(([id, value]) => describe(id, value)).join(", ");
