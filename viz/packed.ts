// The results as stored in a page: only as many figures as a kit, a ruler or the eye can resolve, and shared parts of
// compared scenarios only once.
import type { RunResult, Series } from "../scenarios/result/result.ts";

const figures =
  (digits: number) =>
  (value: number): number =>
    Number(value.toPrecision(digits));
const three = figures(3);

/** Levels are stored to a hundredth of a millimetre. */
const LEVEL_STEPS_PER_M = 1e5;

/** Levels as differences from one time to the next in whole steps: small numbers, which compress to a fraction. */
function levelSteps(levelZ: readonly number[]): number[] {
  let before = 0;
  return levelZ.map((z) => {
    const now = Math.round(z * LEVEL_STEPS_PER_M);
    const step = now - before;
    before = now;
    return step;
  });
}

/** The levels [m] of `levelSteps`. */
function levelsOf(steps: readonly number[]): number[] {
  let now = 0;
  return steps.map((step) => {
    now += step;
    return now / LEVEL_STEPS_PER_M;
  });
}

/** A flow under a microlitre a second is none: it fills a cup in two days. */
const NO_FLOW_M3_PER_S = 1e-9;
const flowOf = (m3PerS: number): number => (Math.abs(m3PerS) < NO_FLOW_M3_PER_S ? 0 : three(m3PerS));
const thousandths = (tS: number): number => Math.round(tS * 1000) / 1000;

type Stories = RunResult["hydraulics"]["stories"];

const withLevels = (stories: Stories, change: (levelZ: readonly number[]) => readonly number[]): Stories =>
  stories.map((story) => ({ ...story, vessels: story.vessels.map((v) => ({ ...v, levelZ: change(v.levelZ) })) }));

/** Panels whose axes do not begin at zero need a finer step. */
const FINE: ReadonlySet<Series["panel"]> = new Set(["ph", "temperature"]);

/**
 * Rounds curves and flows to three figures, and stores levels in steps. The files of the command line keep all
 * figures.
 */
function slim(result: RunResult): RunResult {
  const { nitrogen, hydraulics } = result;
  return {
    ...result,
    nitrogen: {
      ...nitrogen,
      series: nitrogen.series.map((s) => {
        const short = figures(FINE.has(s.panel) ? 4 : 3);
        return { ...s, values: s.values.map((v) => (v === null ? null : short(v))) };
      }),
      bands: nitrogen.bands.map((b) => ({ ...b, low: b.low.map(three), middle: b.middle.map(three), high: b.high.map(three) })),
    },
    hydraulics: {
      ...hydraulics,
      stories: withLevels(hydraulics.stories, levelSteps).map((story) => ({
        ...story,
        timeS: story.timeS.map(thousandths),
        flows: story.flows.map((flow) => ({ ...flow, m3PerS: flow.m3PerS.map(flowOf) })),
      })),
    },
  };
}

const sixFigures = (_key: string, value: unknown): unknown =>
  typeof value === "number" && !Number.isInteger(value) ? figures(6)(value) : value;

/** A value as text, or an object as texts by key, so that equal parts can be found. */
type Packed = string | ReadonlyMap<string, string>;

const isObject = (value: unknown): value is object => typeof value === "object" && value !== null && !Array.isArray(value);

const textOf = (value: unknown): string => JSON.stringify(value, sixFigures);

const pack = (value: unknown): Packed =>
  isObject(value) ? new Map(Object.entries(value).map(([key, inner]) => [key, textOf(inner)])) : textOf(value);

const objectText = (entries: Iterable<readonly [string, string]>): string =>
  `{${[...entries].map(([key, text]) => `${JSON.stringify(key)}:${text}`).join(",")}}`;

const sameKeys = (a: ReadonlyMap<string, string>, b: ReadonlyMap<string, string>): boolean =>
  a.size === b.size && [...a.keys()].every((key) => b.has(key));

/** The text of what differs from the same part of the first result; null when nothing differs. */
function ownText(own: Packed, first: Packed | undefined): string | null {
  if (typeof own === "string") return own === first ? null : own;
  if (first === undefined || typeof first === "string" || !sameKeys(own, first)) return objectText(own);
  const differing = [...own].filter(([key, text]) => first.get(key) !== text);
  return differing.length === 0 ? null : objectText(differing);
}

/** Text of the results; later results contain only what differs from the first, recursively. */
export function packResults(results: readonly RunResult[]): string {
  const parts = results.map((result) => new Map(Object.entries(slim(result)).map(([key, value]) => [key, pack(value)])));
  const first = parts[0];
  const objects = parts.map((own, i) =>
    objectText(
      [...own].flatMap(([key, part]): (readonly [string, string])[] => {
        const text = ownText(part, i === 0 ? undefined : first?.get(key));
        return text === null ? [] : [[key, text]];
      }),
    ),
  );
  return `[${objects.join(",")}]`;
}

/** The packed results; parts that a later result omits come from the first one. */
export function unpackResults(text: string): readonly RunResult[] {
  const [first, ...rest] = JSON.parse(text) as [RunResult, ...Partial<RunResult>[]];
  const merged = (key: string, own: unknown): unknown => {
    const shared = (first as unknown as Record<string, unknown>)[key];
    return isObject(own) && isObject(shared) && Object.keys(own).every((k) => k in shared) ? { ...shared, ...own } : own;
  };
  const packed: RunResult[] = [
    first,
    ...rest.map((own) => ({
      ...first,
      ...Object.fromEntries(Object.entries(own).map(([key, value]) => [key, merged(key, value)])),
    })),
  ];
  return packed.map((result) => ({
    ...result,
    hydraulics: { ...result.hydraulics, stories: withLevels(result.hydraulics.stories, levelsOf) },
  }));
}
