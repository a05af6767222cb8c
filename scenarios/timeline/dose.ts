// Doses from a bottle: ammonia and nitrite for a fishless cycle, bicarbonate, chloride.
import type { EventBody } from "../../models/nitrogen/events/all.ts";
import type { DoseSubstance } from "../../models/nitrogen/management.ts";
import {
  AMMONIA_G_PER_MOL,
  AMMONIUM_G_PER_MOL,
  EQ_PER_M3_PER_DKH,
  NITROGEN_G_PER_MOL,
  SODIUM_BICARBONATE_G_PER_MOL,
} from "../../models/water/molar-mass.ts";
import { type Concentration, mass, oneOf, share, usually, volume } from "../fields/fields.ts";
import { ammonia, chloride, kh, nitrite } from "../fields/tap-water.ts";
import * as format from "../text/format.ts";
import { COMMON } from "../text/reasons.ts";
import { type EventSetting, eventFormat } from "./event-format.ts";

/** A concentration far above any real one [g/m³]; means "no limit" in a pair of limits. */
const NO_LIMIT = 1e6;

export const bottle = usually(
  oneOf(["ammonium salt", "ammonia solution"], "what is in the bottle: a solution brings alkalinity of its own, a salt does not"),
  "ammonia solution",
  COMMON,
);
const limits = {
  "only below ammonia": ammonia("skip the dose unless ammonia is below this").optional(),
  "only below nitrite": nitrite("skip the dose unless nitrite is below this").optional(),
};

export const levelText = ({ gPerM3, basis }: Concentration): string =>
  `${format.plain(gPerM3)} mg/L${basis ? ` as ${basis}` : ""}`;

export const substanceOf = (content: "ammonium salt" | "ammonia solution"): DoseSubstance =>
  content === "ammonium salt" ? "ammonium" : "ammonia";

interface Limits {
  readonly "only below ammonia"?: Concentration | undefined;
  readonly "only below nitrite"?: Concentration | undefined;
}

/** The readings below which a dose is given [g N/m³]; null = always. */
export function onlyBelow(
  written: Limits,
  nitrogen: EventSetting["nitrogen"],
): { readonly tan: number; readonly no2: number } | null {
  const { "only below ammonia": tan, "only below nitrite": no2 } = written;
  if (!tan && !no2) return null;
  return { tan: tan ? nitrogen("ammonia", tan) : NO_LIMIT, no2: no2 ? nitrogen("nitrite", no2) : NO_LIMIT };
}

/** A dose up to a level, or by a rise in all the water [g N, eq or g Cl per m³]. */
export function doseOf(
  substance: DoseSubstance,
  to: number | undefined,
  rise: number | undefined,
  waterM3: number,
  below: { readonly tan: number; readonly no2: number } | null,
): EventBody {
  return { kind: "dose", substance, amount: rise === undefined ? null : rise * waterM3, toLevel: to ?? null, onlyBelow: below };
}

/** Nitrogen of ammonia and of ammonium chloride, g/g (molar masses). */
const N_OF_NH3 = NITROGEN_G_PER_MOL / AMMONIA_G_PER_MOL;
const N_OF_NH4CL = NITROGEN_G_PER_MOL / (AMMONIUM_G_PER_MOL + 35.45);

/** Density of ammonia water [g/mL] by its mass share: 0.957 at 10 %, 0.907 at 25 % (handbook values, from memory; a parabola through them). */
const ammoniaWaterGPerMl = (massShare: number): number => 1 - 0.469 * massShare + 0.388 * massShare * massShare;

export const doseAmmonia = eventFormat({
  name: "dose ammonia",
  about: "Ammonia from a bottle.",
  keys: {
    bottle,
    to: ammonia("level to which it is raised").optional(),
    add: ammonia("how much it rises").optional(),
    volume: volume({
      about: "volume taken from a bottle whose strength is given",
      within: ["0.1 mL", "100 L"],
      example: "15 mL",
    }).optional(),
    strength: share({
      about: "mass of ammonia, or of ammonium chloride, in the mass of the bottle's contents",
      within: ["0.1 %", "40 %"],
      example: "10 %",
    }).optional(),
    mass: mass({
      about: "grams of ammonium chloride, for a salt by the spoon",
      within: ["0.01 g", "10 kg"],
      example: "2 g",
    }).optional(),
    ...limits,
  },
  build: (e, { nitrogen, waterM3 }) => {
    const below = onlyBelow(e, nitrogen);
    const grams = (substance: DoseSubstance, amount: number): EventBody => ({
      kind: "dose",
      substance,
      amount,
      toLevel: null,
      onlyBelow: below,
    });
    if (e.mass !== undefined)
      return { body: grams("ammonium", N_OF_NH4CL * e.mass), label: `${format.plain(e.mass)} g of ammonium chloride` };
    if (e.volume !== undefined && e.strength !== undefined) {
      const ml = e.volume * 1e6;
      // A solution of a salt of a few per cent weighs about as much as water.
      const amount =
        e.bottle === "ammonia solution"
          ? ml * ammoniaWaterGPerMl(e.strength) * e.strength * N_OF_NH3
          : ml * e.strength * N_OF_NH4CL;
      return {
        body: grams(substanceOf(e.bottle), amount),
        label: `${format.plain(ml)} mL of ${format.share(e.strength)} ${e.bottle}`,
      };
    }
    const [to, rise] = [e.to && nitrogen("ammonia", e.to), e.add && nitrogen("ammonia", e.add)];
    return {
      body: doseOf(substanceOf(e.bottle), to, rise, waterM3, below),
      label: e.to ? `ammonia to ${levelText(e.to)}` : `ammonia + ${levelText(e.add!)}`,
    };
  },
  inWords: (e) => (e.to === undefined ? `Ammonia raised by ${e.add ?? "some"}` : `Ammonia brought up to ${e.to}`),
});

export const doseNitrite = eventFormat({
  name: "dose nitrite",
  about: "Nitrite from a bottle.",
  keys: {
    to: nitrite("level to which it is raised").optional(),
    add: nitrite("how much it rises").optional(),
    ...limits,
  },
  build: (e, { nitrogen, waterM3 }) => {
    const [to, rise] = [e.to && nitrogen("nitrite", e.to), e.add && nitrogen("nitrite", e.add)];
    return {
      body: doseOf("nitrite", to, rise, waterM3, onlyBelow(e, nitrogen)),
      label: e.to ? `nitrite to ${levelText(e.to)}` : `nitrite + ${levelText(e.add!)}`,
    };
  },
  inWords: (e) => (e.to === undefined ? `Nitrite raised by ${e.add ?? "some"}` : `Nitrite brought up to ${e.to}`),
});

export const addBicarbonate = eventFormat({
  name: "add bicarbonate",
  about: "Bicarbonate to raise the alkalinity.",
  keys: {
    to: kh("level to which it is raised").optional(),
    add: kh("how much it rises").optional(),
    mass: mass({ about: "grams of sodium bicarbonate", within: ["0.1 g", "50 kg"], example: "10 g" }).optional(),
  },
  build: (e, { waterM3 }) => {
    const rise = e.mass === undefined ? e.add : e.mass / SODIUM_BICARBONATE_G_PER_MOL / waterM3;
    return {
      body: doseOf("bicarbonate", e.to, rise, waterM3, null),
      label:
        e.to !== undefined
          ? `KH to ${format.plain(e.to / EQ_PER_M3_PER_DKH)} dKH`
          : `KH + ${format.plain(rise! / EQ_PER_M3_PER_DKH)} dKH`,
    };
  },
  inWords: (e) =>
    e.mass !== undefined
      ? `${e.mass} of bicarbonate`
      : e.to !== undefined
        ? `KH brought up to ${e.to}`
        : `KH raised by ${e.add ?? "some"}`,
});

export const addChloride = eventFormat({
  name: "add chloride",
  about: "Salt, counted as chloride.",
  keys: {
    to: chloride("level to which it is raised").optional(),
    add: chloride("how much it rises").optional(),
  },
  build: (e, { waterM3 }) => ({
    body: doseOf("chloride", e.to?.gPerM3, e.add?.gPerM3, waterM3, null),
    label: `chloride ${e.to ? `to ${levelText(e.to)}` : `+ ${levelText(e.add!)}`}`,
  }),
  inWords: (e) => (e.to === undefined ? `Chloride raised by ${e.add ?? "some"}` : `Chloride brought up to ${e.to}`),
});
