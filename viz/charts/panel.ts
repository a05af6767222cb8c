// Data of the charts in the reader's units: one panel per quantity, all over the same days. No drawing here.
import type { Band, RunResult, Series } from "../../scenarios/result/result.ts";
import { shortLabels } from "../view/names.ts";
import {
  celsius,
  DKH_PER_MEQ,
  kitCeiling,
  NITROGEN_NAME,
  type Nitrogen,
  nitrogenScale,
  type Reader,
  temperatureUnit,
} from "../view/reader.ts";
import type { Period } from "./scale.ts";

export interface Line {
  readonly id: string;
  readonly label: string;
  /** Label at the end of the line where `label` is too long; "" for none. */
  readonly short?: string;
  /** Index of its scenario in a comparison. */
  readonly scenario: number;
  readonly days: readonly number[];
  readonly values: readonly (number | null)[];
}

export interface PanelBand {
  readonly scenario: number;
  readonly days: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  readonly meaning: string;
}

export interface Panel {
  readonly id: string;
  readonly title: string;
  readonly unit: string;
  readonly lines: readonly Line[];
  readonly bands: readonly PanelBand[];
  readonly limits: readonly { readonly value: number; readonly label: string; readonly source: string }[];
  /** Highest reading of the kit; values above it are off the reader's colour chart. */
  readonly ceiling: number | null;
  readonly note: string;
  /** Whether the axis starts at zero. */
  readonly fromZero: boolean;
}

export const NITROGEN: readonly Nitrogen[] = ["tan", "no2", "no3"];

/** Nitrogen species of a series or limit, from its id or label; null when there is none. */
export function speciesOf(text: string): Nitrogen | null {
  const t = text.toLowerCase();
  if (/no3|nitrate/.test(t)) return "no3";
  if (/no2|nitrite/.test(t)) return "no2";
  if (/tan|nh3|nh4|ammoni/.test(t)) return "tan";
  return null;
}

const scaled = (values: readonly (number | null)[], f: (v: number) => number): (number | null)[] =>
  values.map((v) => (v === null || !Number.isFinite(v) ? null : f(v)));

/** The series of a panel that are measured in a display; all of them when none is. */
function inDisplay(result: RunResult, list: readonly Series[]): readonly Series[] {
  const names = new Set(result.rig.displays.flatMap((d) => [d.id, d.name]));
  const there = list.filter((s) => names.has(s.place) || names.has(s.id.split(/[./:]/)[0] ?? ""));
  return there.length > 0 ? there : list;
}

const lineLabel = (results: readonly RunResult[], k: number, series: Series, several: boolean): string => {
  if (results.length === 1) return several ? series.place : series.label;
  const name = shortLabels(results.map((r) => r.name))[k]!;
  return several ? `${name}: ${series.place}` : name;
};

function nitrogenPanel(results: readonly RunResult[], reader: Reader, what: Nitrogen): Panel | null {
  const first = results[0]!;
  const scale = nitrogenScale(reader, first.kit, what);
  const lines: Line[] = [];
  const bands: PanelBand[] = [];
  results.forEach((result, k) => {
    const mine = result.nitrogen.series.filter((s) => s.panel === "nitrogen" && (speciesOf(s.id) ?? speciesOf(s.label)) === what);
    const shown = inDisplay(result, mine);
    for (const s of shown) {
      const label = shown.length > 1 || results.length > 1 ? lineLabel(results, k, s, shown.length > 1) : NITROGEN_NAME[what];
      lines.push({
        id: s.id,
        label,
        scenario: k,
        days: result.nitrogen.timeDays,
        values: scaled(s.values, (v) => Math.max(0, v * scale.factor)),
      });
      const band: Band | undefined = result.nitrogen.bands.find((b) => b.series === s.id);
      if (band)
        bands.push({
          scenario: k,
          days: result.nitrogen.timeDays,
          low: band.low.map((v) => Math.max(0, v * scale.factor)),
          high: band.high.map((v) => Math.max(0, v * scale.factor)),
          meaning: band.meaning,
        });
    }
  });
  if (lines.length === 0) return null;
  const limits = first.nitrogen.limits
    .filter((l) => l.panel === "nitrogen" && speciesOf(l.label) === what)
    .map((l) => ({ value: l.value * scale.factor, label: l.label, source: l.source }));
  return {
    id: what,
    title: NITROGEN_NAME[what],
    unit: `mg/L as ${scale.as}`,
    lines,
    bands,
    limits,
    ceiling: kitCeiling(reader, first.kit, what),
    note: scale.note,
    fromZero: true,
  };
}

type OtherPanel = Exclude<Series["panel"], "nitrogen">;

/** A panel besides those of nitrogen. */
interface PanelKind {
  readonly title: string;
  /** Unit on the axis; by default that of the series. */
  readonly unit?: (reader: Reader, written: string) => string;
  /** Converts a value of a series with the unit `written`; by default unchanged. */
  readonly convert?: (reader: Reader, value: number, written: string) => number;
  readonly fromZero: boolean;
  /**
   * For lines that do not refer to the water of the displays: the name of a line, and the highest value below which the
   * panel is omitted, because nobody could see or measure it.
   */
  readonly elsewhere?: { readonly name: (s: Series) => string; readonly least: number };
}

const byPlace = (s: Series): string => s.place;
const inInches = (reader: Reader): boolean => reader.units === "US";

/** All panels besides those of nitrogen, in the order of the page. A new kind of panel is a type error until it is here. */
const OTHER: Readonly<Record<OtherPanel, PanelKind>> = {
  oxygen: { title: "Oxygen", unit: () => "mg/L", fromZero: true },
  ph: { title: "pH", fromZero: false },
  alkalinity: {
    title: "Carbonate hardness (KH)",
    unit: () => "dKH",
    convert: (_, v, written) => (/dkh/i.test(written) ? v : v * DKH_PER_MEQ),
    fromZero: true,
  },
  temperature: { title: "Temperature", unit: temperatureUnit, convert: (reader, v) => celsius(reader, v), fromZero: false },
  biomass: { title: "Bacteria in the biofilm", fromZero: true, elsewhere: { name: (s) => s.label, least: 1e-3 } },
  solids: { title: "Solids on pads and in chambers", fromZero: true, elsewhere: { name: byPlace, least: 1e-3 } },
  // Half a percent of the flow.
  spill: { title: "Water spilling past the pad", fromZero: true, elsewhere: { name: byPlace, least: 0.5 } },
  // One millimetre.
  sediment: {
    title: "Depth of sediment",
    unit: (reader, written) => (inInches(reader) ? "in" : written),
    convert: (reader, v) => (inInches(reader) ? v / 25.4 : v),
    fromZero: true,
    elsewhere: { name: byPlace, least: 1 },
  },
  organics: { title: "Dissolved organic matter", fromZero: true },
};

/** Omits lines that would coincide with the axis: below a fiftieth of the highest, or without values. */
function worthALine(list: readonly Series[], least: number): readonly Series[] {
  const highest = (s: Series): number => s.values.reduce<number>((most, v) => Math.max(most, v ?? 0), 0);
  const most = Math.max(0, ...list.map(highest));
  return most < least ? [] : list.filter((s) => highest(s) > most / 50);
}

function otherPanel(results: readonly RunResult[], reader: Reader, id: OtherPanel): Panel | null {
  const { title, unit = (_, written) => written, convert = (_, v) => v, fromZero, elsewhere } = OTHER[id];
  const lines: Line[] = [];
  const bands: PanelBand[] = [];
  let written = "";
  results.forEach((result, k) => {
    const mine = result.nitrogen.series.filter((s) => s.panel === id);
    const shown = elsewhere ? worthALine(mine, elsewhere.least) : inDisplay(result, mine);
    const several = shown.length > 1;
    for (const s of shown) {
      const converted = (v: number): number => convert(reader, v, s.unit);
      written = s.unit;
      lines.push({
        id: s.id,
        label: elsewhere
          ? results.length > 1
            ? `${shortLabels(results.map((r) => r.name))[k]}: ${elsewhere.name(s)}`
            : elsewhere.name(s)
          : lineLabel(results, k, s, several),
        // In a comparison, colour and dashes distinguish the scenarios, so each quantity is named once.
        ...(elsewhere && results.length > 1 ? { short: k === 0 ? elsewhere.name(s) : "" } : {}),
        scenario: k,
        days: result.nitrogen.timeDays,
        values: scaled(s.values, converted),
      });
      const band = result.nitrogen.bands.find((b) => b.series === s.id);
      if (band)
        bands.push({
          scenario: k,
          days: result.nitrogen.timeDays,
          low: band.low.map(converted),
          high: band.high.map(converted),
          meaning: band.meaning,
        });
    }
  });
  if (lines.length === 0) return null;
  return {
    id,
    title,
    unit: unit(reader, written),
    lines,
    bands,
    limits: results[0]!.nitrogen.limits
      .filter((l) => l.panel === id)
      .map((l) => ({ value: convert(reader, l.value, ""), label: l.label, source: l.source })),
    ceiling: null,
    note: "",
    fromZero,
  };
}

/** All panels of these results, nitrogen first. */
export function panels(results: readonly RunResult[], reader: Reader): readonly Panel[] {
  return [
    ...NITROGEN.map((what) => nitrogenPanel(results, reader, what)),
    ...(Object.keys(OTHER) as OtherPanel[]).map((id) => otherPanel(results, reader, id)),
  ].filter((p) => p !== null);
}

/** One line or band edge cropped to a period, with values at both ends of it. */
function cropped(days: readonly number[], values: readonly (number | null)[], { from, to }: Period) {
  const line: Line = { id: "", label: "", scenario: 0, days, values };
  const inner = days.flatMap((day, i) => (day > from && day < to ? [i] : []));
  const ends = (day: number): readonly (readonly [number, number | null])[] =>
    day >= (days[0] ?? 0) && day <= (days.at(-1) ?? 0) ? [[day, valueAt(line, day)]] : [];
  const points = [...ends(from), ...inner.map((i) => [days[i]!, values[i] ?? null] as const), ...ends(to)];
  return { days: points.map(([day]) => day), values: points.map(([, value]) => value) };
}

/** A panel cropped to a period. */
export function within(panel: Panel, period: Period): Panel {
  const inside = (days: readonly number[]): boolean => (days[0] ?? 0) >= period.from && (days.at(-1) ?? 0) <= period.to;
  const edge = (days: readonly number[], values: readonly number[]) => cropped(days, values, period).values.map((v) => v ?? 0);
  return {
    ...panel,
    lines: panel.lines.map((line) => (inside(line.days) ? line : { ...line, ...cropped(line.days, line.values, period) })),
    bands: panel.bands.map((band) =>
      inside(band.days)
        ? band
        : {
            ...band,
            days: cropped(band.days, band.low, period).days,
            low: edge(band.days, band.low),
            high: edge(band.days, band.high),
          },
    ),
  };
}

/** Lowest and highest value of the axis, with a margin above the highest value. */
export function range(panel: Panel): readonly [number, number] {
  let low = panel.fromZero ? 0 : Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const line of panel.lines)
    for (const v of line.values)
      if (v !== null) {
        low = Math.min(low, v);
        high = Math.max(high, v);
      }
  for (const band of panel.bands) {
    for (const v of band.low) low = Math.min(low, v);
    for (const v of band.high) high = Math.max(high, v);
  }
  if (!Number.isFinite(high)) return [0, 1];
  for (const limit of panel.limits) if (limit.value < high * 1.6) high = Math.max(high, limit.value);
  const span = Math.max(high - low, Math.abs(high) * 0.02, 1e-6);
  return [panel.fromZero ? 0 : low - span * 0.08, high + span * 0.08];
}

/** Value of a line on a day, interpolated linearly between samples. */
export function valueAt(line: Line, day: number): number | null {
  const { days, values } = line;
  if (days.length === 0 || day < days[0]! || day > days.at(-1)!) return null;
  let low = 0;
  let high = days.length - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (days[mid]! <= day) low = mid;
    else high = mid;
  }
  const a = values[low] ?? null;
  const b = values[high] ?? null;
  if (a === null || b === null) return a ?? b;
  const span = days[high]! - days[low]!;
  return span > 0 ? a + ((b - a) * (day - days[low]!)) / span : a;
}
