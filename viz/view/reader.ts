// Number formatting for one reader: unit system, basis of nitrogen readings, and locale.

import { EQ_PER_M3_PER_DKH } from "../../models/water/molar-mass.ts";
import type { RunResult } from "../../scenarios/result/result.ts";
import * as inBothUnits from "../../scenarios/text/format.ts";
import { formatMessage, type Message, type MessageFormatter } from "../../scenarios/text/message.ts";
import { massPerN, type NitrogenBasis } from "../../scenarios/text/nitrogen-basis.ts";

export const { inches } = inBothUnits;

export type UnitSystem = "metric" | "US";
/** kit = as on the reader's own leaflet; N = as nitrogen; ion = as NH4, NO2, NO3. */
export type Basis = "kit" | "N" | "ion";
export type Nitrogen = "tan" | "no2" | "no3";

export interface Reader {
  readonly units: UnitSystem;
  readonly basis: Basis;
  readonly locale: string;
}

export const readerOf = (result: RunResult, locale = "en"): Reader => ({ units: result.units, basis: "kit", locale });

const formats = new Map<string, Intl.NumberFormat>();

/** A number with a fixed number of decimals in the reader's locale; a dash for a missing value. */
export function number(reader: Reader, value: number | null, decimals = 0): string {
  if (value === null || !Number.isFinite(value)) return "–";
  const key = `${reader.locale}/${decimals}`;
  let format = formats.get(key);
  if (!format) {
    format = new Intl.NumberFormat(reader.locale, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      useGrouping: "min2",
    });
    formats.set(key, format);
  }
  const text = format.format(value);
  return /[1-9]/.test(text) ? text : format.format(0);
}

/** About three significant figures, without an exponent between 0.001 and a million. */
export function figure(reader: Reader, value: number | null): string {
  if (value === null || !Number.isFinite(value)) return "–";
  const size = Math.abs(value);
  if (size < 5e-5) return "0";
  return number(reader, value, size >= 100 ? 0 : size >= 10 ? 1 : size >= 0.995 ? 2 : size >= 0.01 ? 3 : 4);
}

const M3_PER_US_GALLON = 0.003785411784;

const pair = (reader: Reader, metric: string, us: string, both: boolean): string => {
  const [first, second] = reader.units === "metric" ? [metric, us] : [us, metric];
  return both ? `${first} (${second})` : first;
};

/** A length on a ruler in mm or inches; `both` adds the other system in brackets. */
export const length = (reader: Reader, m: number, both = false): string =>
  pair(reader, `${number(reader, m * 1000)} mm`, inches(m), both);

/** Words in which lengths are written as "30 mm", with these in the reader's units. */
export const withLengths = (reader: Reader, text: string): string =>
  text.replace(/\b(\d+) mm\b/g, (_, mm: string) => length(reader, Number(mm) / 1000));

/** A length without its unit, for dimension lines; the drawing states the unit in its corner. */
export const bareLength = (reader: Reader, m: number): string =>
  reader.units === "metric" ? number(reader, m * 1000) : inches(m).replace(" in", "″");

/** A level within this distance of the rim counts as at the rim [m]. */
const AT_RIM_M = 0.0005;

/** A level as its distance below a rim; the text says so when the level is above it. `both` adds the other unit system. */
export const belowRim = (reader: Reader, downM: number, both = false): string =>
  Math.abs(downM) < AT_RIM_M
    ? "at the rim"
    : downM > 0
      ? length(reader, downM, both)
      : `${length(reader, -downM, both)} over the rim`;

/** The same without the unit, for dimension lines. */
export const bareBelowRim = (reader: Reader, downM: number): string =>
  Math.abs(downM) < AT_RIM_M ? "0" : downM > 0 ? bareLength(reader, downM) : `${bareLength(reader, -downM)} over`;

/** Litres or gallons, with the figures that the sentences give. */
export const volume = (reader: Reader, m3: number, both = false): string => {
  const { metric, US } = inBothUnits.volume(m3, reader.locale);
  return pair(reader, metric, US, both);
};

export const flow = (reader: Reader, m3PerS: number, both = false): string =>
  pair(reader, `${number(reader, m3PerS * 3_600_000)} L/h`, `${number(reader, (m3PerS * 3600) / M3_PER_US_GALLON)} US gph`, both);

export const celsius = (reader: Reader, c: number): number => (reader.units === "metric" ? c : c * 1.8 + 32);
export const temperatureUnit = (reader: Reader): string => (reader.units === "metric" ? "°C" : "°F");

/** 1 meq/L of alkalinity in German degrees. */
export const DKH_PER_MEQ = 1 / EQ_PER_M3_PER_DKH;

export const area = (reader: Reader, m2: number): string =>
  reader.units === "metric" ? `${number(reader, m2, m2 < 9.95 ? 2 : 1)} m²` : `${number(reader, m2 / (0.3048 * 0.3048), 1)} ft²`;

export const mass = (reader: Reader, kg: number): string =>
  reader.units === "metric" ? `${number(reader, kg)} kg` : `${number(reader, kg / 0.45359237)} lb`;

/** Seconds, minutes with seconds, or hours with minutes, as a watch shows them. */
export const duration = (reader: Reader, s: number): string => inBothUnits.watch(s, reader.locale);

/** Hours to act by, without a false decimal. */
export const hours = (reader: Reader, h: number): string => inBothUnits.hours(h, reader.locale);

export interface NitrogenScale {
  /** Factor from g N/m³ to the printed scale. */
  readonly factor: number;
  /** The basis of the printed number: NH3, NO2-N ... */
  readonly as: string;
  /** Note under the axis when the basis of the kit is unknown. */
  readonly note: string;
}

const ION = { tan: "NH4", no2: "NO2", no3: "NO3" } as const;
const AS_N: Readonly<Record<Nitrogen, string>> = { tan: "TAN (NH3-N + NH4-N)", no2: "NO2-N", no3: "NO3-N" };
export const NITROGEN_NAME: Readonly<Record<Nitrogen, string>> = { tan: "Ammonia", no2: "Nitrite", no3: "Nitrate" };

const kitWord = (kit: RunResult["kit"], what: Nitrogen): string =>
  what === "tan" ? kit.ammonia : what === "no2" ? kit.nitrite : kit.nitrate;

/** The scale on which this reader sees a nitrogen species; a kit without a known basis is shown as the ion. */
export function nitrogenScale(reader: Reader, kit: RunResult["kit"], what: Nitrogen): NitrogenScale {
  const ion = { factor: massPerN(ION[what]), as: ION[what] };
  if (reader.basis === "N") return { factor: 1, as: AS_N[what], note: "" };
  if (reader.basis === "ion") return { ...ion, note: "" };
  const word = kitWord(kit, what) as NitrogenBasis;
  if (word !== "unknown") return { factor: massPerN(word), as: word, note: "" };
  return {
    ...ion,
    note: `Your ${NITROGEN_NAME[what].toLowerCase()} kit does not say its basis; drawn as ${ION[what]}. A kit on the nitrogen scale would read ${(1 / ion.factor).toFixed(2)} of this.`,
  };
}

/** Highest reading of the kit, on the printed scale; the result stores it on the kit's own scale. */
export function kitCeiling(reader: Reader, kit: RunResult["kit"], what: Nitrogen): number {
  const ceiling = what === "tan" ? kit.ceilings.ammonia : what === "no2" ? kit.ceilings.nitrite : kit.ceilings.nitrate;
  const own = nitrogenScale({ ...reader, basis: "kit" }, kit, what).factor;
  return (ceiling / own) * nitrogenScale(reader, kit, what).factor;
}

const SPECIES = { ammonia: "tan", nitrite: "no2", nitrate: "no3" } as const;

/** Message formatter for this reader and the kit of a scenario. */
const formatterOf = (reader: Reader, kit: RunResult["kit"]): MessageFormatter => ({
  units: reader.units,
  locale: reader.locale,
  scale(species) {
    const { factor, as } = nitrogenScale(reader, kit, SPECIES[species]);
    return { perN: factor, name: as };
  },
});

/** A sentence of a result in the reader's units, kit scale and number format. */
export const readerText = (reader: Reader, { kit }: Pick<RunResult, "kit">, sentence: string | Message): string =>
  formatMessage(sentence, formatterOf(reader, kit));

type Spoken = Pick<RunResult["findings"][number], "text" | "advice" | "said" | "advised">;

/** Sentence and advice of a finding ("" for no advice). */
export const findingWords = (
  reader: Reader,
  result: Pick<RunResult, "kit">,
  f: Spoken,
): { readonly text: string; readonly advice: string } => ({
  text: readerText(reader, result, f.said ?? f.text),
  advice: readerText(reader, result, f.advised ?? f.advice ?? ""),
});
