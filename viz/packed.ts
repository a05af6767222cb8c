// What a page carries of its results: no more figures than a kit, a ruler or the eye can tell, and what compared scenarios share only once.
import type { RunResult, Series } from "../scenarios/result/result.ts";

const figures =
  (digits: number) =>
  (value: number): number =>
    Number(value.toPrecision(digits));
const three = figures(3);
const hundredthsOfMm = (z: number): number => Math.round(z * 1e5) / 1e5;

/** Axes that do not begin at zero show a finer step. */
const FINE: ReadonlySet<Series["panel"]> = new Set(["ph", "temperature"]);

/** Curves and flows to three figures, levels to a hundredth of a millimetre. The files written by the command line keep all. */
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
      stories: hydraulics.stories.map((story) => ({
        ...story,
        vessels: story.vessels.map((v) => ({ ...v, levelZ: v.levelZ.map(hundredthsOfMm) })),
        flows: story.flows.map((flow) => ({ ...flow, m3PerS: flow.m3PerS.map(three) })),
      })),
    },
  };
}

const sixFigures = (_key: string, value: unknown): unknown =>
  typeof value === "number" && !Number.isInteger(value) ? figures(6)(value) : value;

/** Text of the results; of the later ones only what the first does not have alike. */
export function packResults(results: readonly RunResult[]): string {
  const texts = results.map((result) =>
    Object.entries(slim(result)).map(([key, value]) => [key, JSON.stringify(value, sixFigures)]),
  );
  const first = new Map(texts[0]?.map(([key, text]) => [key, text]));
  const objects = texts.map((entries, i) => {
    const own = i === 0 ? entries : entries.filter(([key, text]) => first.get(key!) !== text);
    return `{${own.map(([key, text]) => `${JSON.stringify(key)}:${text}`).join(",")}}`;
  });
  return `[${objects.join(",")}]`;
}

/** The results as they were packed. */
export function unpackResults(text: string): readonly RunResult[] {
  const [first, ...rest] = JSON.parse(text) as [RunResult, ...Partial<RunResult>[]];
  return [first, ...rest.map((own) => ({ ...first, ...own }))];
}
