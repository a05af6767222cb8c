// How this reader wants numbers: unit system, basis of the nitrogen readings, and the number marks of their language.

import { EQ_PER_M3_PER_DKH } from "../../models/water/molar-mass.ts";
import type { RunResult } from "../../scenarios/result/result.ts";
import * as inBothUnits from "../../scenarios/text/format.ts";
import { formatMessage, type Message, type MessageFormatter } from "../../scenarios/text/message.ts";
import { massPerN, type NitrogenBasis } from "../../scenarios/text/nitrogen-basis.ts";

export const { inches } = inBothUnits;

export type UnitSystem = "metric" | "US";
/** kit = as the reader's own leaflet prints it; N = as nitrogen; ion = as NH4, NO2, NO3. */
export type Basis = "kit" | "N" | "ion";
export type Nitrogen = "tan" | "no2" | "no3";

export interface Reader {
  readonly units: UnitSystem;
  readonly basis: Basis;
  readonly locale: string;
}

export const readerOf = (result: RunResult, locale = "en"): Reader => ({ units: result.units, basis: "kit", locale });

const formats = new Map<string, Intl.NumberFormat>();

/** A number with a fixed count of decimals in the reader's language; a dash where there is none. */
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

/** About three significant figures, never in powers of ten between 0.001 and a million. */
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

/** A length on a ruler: mm or inches; `both` adds the other system in brackets. */
export const length = (reader: Reader, m: number, both = false): string =>
  pair(reader, `${number(reader, m * 1000)} mm`, inches(m), both);

/** A length without its unit, for dimension lines; the corner of the drawing names the unit. */
export const bareLength = (reader: Reader, m: number): string =>
  reader.units === "metric" ? number(reader, m * 1000) : inches(m).replace(" in", "″");

/** A level that is this near to the rim is at the rim [m]. */
const AT_RIM_M = 0.0005;

/** A level by its distance below a rim; levels above it are named as such. `both` adds the other unit system. */
export const belowRim = (reader: Reader, downM: number, both = false): string =>
  Math.abs(downM) < AT_RIM_M
    ? "at the rim"
    : downM > 0
      ? length(reader, downM, both)
      : `${length(reader, -downM, both)} over the rim`;

/** The same without its unit, for dimension lines. */
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

export const temperature = (reader: Reader, c: number): string =>
  `${number(reader, celsius(reader, c), 1)} ${temperatureUnit(reader)}`;

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
  /** Multiply g N/m3 by this to get what is printed. */
  readonly factor: number;
  /** What the number is counted as: NH3, NO2-N ... */
  readonly as: string;
  /** Said under the axis when the kit does not say. */
  readonly note: string;
}

const ION = { tan: "NH4", no2: "NO2", no3: "NO3" } as const;
const AS_N: Readonly<Record<Nitrogen, string>> = { tan: "TAN (NH3-N + NH4-N)", no2: "NO2-N", no3: "NO3-N" };
export const NITROGEN_NAME: Readonly<Record<Nitrogen, string>> = { tan: "Ammonia", no2: "Nitrite", no3: "Nitrate" };

const kitWord = (kit: RunResult["kit"], what: Nitrogen): string =>
  what === "tan" ? kit.ammonia : what === "no2" ? kit.nitrite : kit.nitrate;

/** The scale on which one nitrogen species is printed for this reader; a kit that does not say is drawn as the ion. */
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

/** Highest value the kit can show, on the printed scale; the result holds it in the kit's own scale. */
export function kitCeiling(reader: Reader, kit: RunResult["kit"], what: Nitrogen): number {
  const ceiling = what === "tan" ? kit.ceilings.ammonia : what === "no2" ? kit.ceilings.nitrite : kit.ceilings.nitrate;
  const own = nitrogenScale({ ...reader, basis: "kit" }, kit, what).factor;
  return (ceiling / own) * nitrogenScale(reader, kit, what).factor;
}

const SPECIES = { ammonia: "tan", nitrite: "no2", nitrate: "no3" } as const;

/** How this reader hears a sentence about a scenario whose kit is this. */
const formatterOf = (reader: Reader, kit: RunResult["kit"]): MessageFormatter => ({
  units: reader.units,
  locale: reader.locale,
  scale(species) {
    const { factor, as } = nitrogenScale(reader, kit, SPECIES[species]);
    return { perN: factor, name: as };
  },
});

/** A sentence of a result in the reader's units, scale and number marks. */
export const told = (reader: Reader, { kit }: Pick<RunResult, "kit">, sentence: string | Message): string =>
  formatMessage(sentence, formatterOf(reader, kit));

type Spoken = Pick<RunResult["findings"][number], "text" | "advice" | "said" | "advised">;

/** Sentence of a finding, and what to do about it ("" for nothing). */
export const findingWords = (
  reader: Reader,
  result: Pick<RunResult, "kit">,
  f: Spoken,
): { readonly text: string; readonly advice: string } => ({
  text: told(reader, result, f.said ?? f.text),
  advice: told(reader, result, f.advised ?? f.advice ?? ""),
});
