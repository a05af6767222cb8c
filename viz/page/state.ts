// State of the live page: immutable data, and the function that computes the next state. No browser code.
import type { NitrogenResult, OutageTrace, RunResult } from "../../scenarios/result/result.ts";
import type { Period } from "../charts/scale.ts";
import { type Context, type Reading, spanDays } from "../sections/context.ts";
import type { Basis, Reader, UnitSystem } from "../view/reader.ts";

/** A change that the reader has kept for comparison. */
export interface StoredChange {
  readonly name: string;
  readonly moved: ReadonlyMap<string, string>;
  readonly result: RunResult;
}

export interface PageState {
  /** Results of the page as opened. */
  readonly original: readonly RunResult[];
  readonly results: readonly RunResult[];
  readonly focus: number;
  readonly reader: Reader;
  /** Result of the changed scenario; null without changes. */
  readonly changed: RunResult | null;
  /** Curves of a newer change, which arrive before its result. */
  readonly ahead: NitrogenResult | null;
  /** Whether faults and fill marks belong to the changed scenario. */
  readonly whole: boolean;
  /** Values of the "Try it" controls that differ from the file, by id. */
  readonly moved: ReadonlyMap<string, string>;
  readonly kept: readonly StoredChange[];
  /** Whether the page shows the kept changes beside their scenario. */
  readonly comparing: boolean;
  readonly storyId: string | null;
  readonly readings: readonly Reading[];
  readonly period: Period | null;
  /** Ids of the open folds. */
  readonly open: ReadonlySet<string>;
}

export type Action =
  | { readonly type: "units"; readonly units: UnitSystem }
  | { readonly type: "basis"; readonly basis: Basis }
  | { readonly type: "focus"; readonly focus: number }
  | { readonly type: "curves arrived"; readonly nitrogen: NitrogenResult }
  | { readonly type: "changed"; readonly result: RunResult; readonly whole: boolean }
  | { readonly type: "moved"; readonly moved: ReadonlyMap<string, string> }
  | { readonly type: "as in the file" }
  | { readonly type: "keep"; readonly name: string }
  | { readonly type: "discard"; readonly index: number }
  | { readonly type: "compare"; readonly on: boolean }
  | { readonly type: "open another"; readonly results: readonly RunResult[] }
  | { readonly type: "film"; readonly id: string }
  | { readonly type: "film arrived"; readonly story: OutageTrace }
  | { readonly type: "reading"; readonly reading: Reading }
  | { readonly type: "readings"; readonly readings: readonly Reading[] }
  | { readonly type: "zoom"; readonly period: Period | null }
  | { readonly type: "fold"; readonly id: string; readonly open: boolean };

export const initialState = (original: readonly RunResult[], reader: Reader): PageState => ({
  original,
  results: original,
  focus: 0,
  reader,
  changed: null,
  ahead: null,
  whole: true,
  moved: new Map(),
  kept: [],
  comparing: false,
  storyId: null,
  readings: [],
  period: null,
  open: new Set(),
});

/** Largest number of kept changes: the number of line styles besides that of the scenario. */
export const MOST_STORED_CHANGES = 3;

const UNCHANGED = { changed: null, ahead: null, whole: true, moved: new Map<string, string>(), storyId: null } as const;

const withStory = (result: RunResult, story: OutageTrace): RunResult => ({
  ...result,
  hydraulics: {
    ...result.hydraulics,
    stories: [...result.hydraulics.stories.filter((s) => s.id !== story.id), story],
  },
});

/** The state after an action; the same object if nothing changes. */
export function update(state: PageState, action: Action): PageState {
  switch (action.type) {
    case "units":
      return { ...state, reader: { ...state.reader, units: action.units } };
    case "basis":
      // Readings are numbers on the displayed scale; they do not apply to another scale.
      return { ...state, reader: { ...state.reader, basis: action.basis }, readings: [] };
    case "focus":
      return { ...state, ...UNCHANGED, focus: action.focus };
    case "curves arrived":
      return { ...state, ahead: action.nitrogen };
    case "changed":
      return { ...state, changed: action.result, ahead: null, whole: action.whole };
    case "moved":
      return { ...state, moved: action.moved };
    case "as in the file":
      return { ...state, ...UNCHANGED };
    case "keep": {
      if (!state.changed || state.kept.length >= MOST_STORED_CHANGES) return state;
      const kept = { name: action.name, moved: state.moved, result: { ...state.changed, name: action.name } };
      return { ...state, kept: [...state.kept, kept] };
    }
    case "discard": {
      const kept = state.kept.filter((_, i) => i !== action.index);
      return { ...state, kept, comparing: state.comparing && kept.length > 0 };
    }
    case "compare":
      return { ...state, ...UNCHANGED, comparing: action.on && state.kept.length > 0, focus: 0 };
    case "open another":
      return { ...initialState(state.original, state.reader), results: action.results };
    case "film":
      return { ...state, storyId: action.id };
    case "film arrived": {
      const storyId = action.story.id;
      if (state.changed) return { ...state, storyId, changed: withStory(state.changed, action.story) };
      const results = state.results.map((r, i) => (i === state.focus ? withStory(r, action.story) : r));
      return { ...state, storyId, results };
    }
    case "reading":
      return { ...state, readings: [...state.readings, action.reading] };
    case "readings":
      return { ...state, readings: action.readings };
    case "zoom":
      return { ...state, period: action.period };
    case "fold": {
      const open = new Set(state.open);
      if (action.open) open.add(action.id);
      else open.delete(action.id);
      return { ...state, open };
    }
    default:
      return action satisfies never;
  }
}

/** The scenario that "Try it" starts from. */
export const baseOf = (state: PageState): RunResult => state.results[state.focus] ?? state.results[0]!;

/** Results on the page: the scenario, and the kept changes during a comparison. */
const shownOf = (state: PageState): readonly RunResult[] =>
  state.comparing ? [baseOf(state), ...state.kept.map((k) => k.result)] : state.results;

/** Input of the sections. */
export const contextOf = (state: PageState, width: number): Context => ({
  results: shownOf(state),
  focus: state.comparing ? 0 : state.focus,
  reader: state.reader,
  width,
  changed: state.ahead ? { ...(state.changed ?? baseOf(state)), nitrogen: state.ahead } : state.changed,
  readings: state.readings,
  moved: state.moved,
  open: state.open,
  live: true,
  ...(state.period ? { period: state.period } : {}),
});

/** Extent of the redraw after an action. */
export type Redraw =
  /** Every section at once: another scenario is on the page. */
  | "page"
  /** Every section in steps: other units, scale or focus. */
  | "sections"
  /** The answer, every figure, and dependent sections. */
  | "result"
  /** The same without sections that depend on faults. */
  | "result without faults"
  | "charts"
  | "film"
  | "nothing";

export function redrawAfter(before: PageState, after: PageState): Redraw {
  if (before === after) return "nothing";
  if (before.comparing !== after.comparing || (after.comparing && before.kept !== after.kept)) return "page";
  if (before.results !== after.results && before.storyId === after.storyId) return "page";
  if (before.reader !== after.reader || before.focus !== after.focus) return "sections";
  if (before.storyId !== after.storyId) return before.changed !== after.changed && !after.changed ? "result" : "film";
  if (before.changed !== after.changed || (before.ahead && !after.ahead)) return after.whole ? "result" : "result without faults";
  if (before.ahead !== after.ahead || before.readings !== after.readings || before.period !== after.period) return "charts";
  return "nothing";
}

/** The shortest period that can be shown [days]. */
const LEAST_DAYS = 2;

/** The period after a zoom by a factor around a day; null shows all days. */
export function zoomed(state: PageState, factor: number, about: number | null): Period | null {
  const all = spanDays(shownOf(state));
  const { from, to } = state.period ?? { from: 0, to: all };
  const middle = about ?? (from + to) / 2;
  const half = Math.max(LEAST_DAYS / 2, ((to - from) * factor) / 2);
  const first = Math.max(0, Math.min(middle - half, all - 2 * half));
  const last = Math.min(all, first + 2 * half);
  return last - first >= all - 1e-6 ? null : { from: first, to: last };
}
