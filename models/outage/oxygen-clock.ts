// When the dissolved oxygen of the displays reaches published limits during an outage.

import type { AnimalGroup, AnimalKind } from "../nitrogen/management.ts";
import type { OutageRecord } from "../nitrogen/operation/outage-record.ts";
import { OXYGEN_EFFECT_LADDER_G_PER_M3, OXYGEN_LIMITS_G_PER_M3 } from "../water/criteria.ts";
import { type Clock, type Cut, rangeH } from "./cut.ts";
import { firstBelowH, type OutageTrial } from "./outage-trial.ts";

export interface OxygenLimits {
  readonly amberGPerM3: number;
  readonly redGPerM3: number;
  readonly source: string;
}

/** Oxygen limits by kind of animal. Below about 5 g/kg of salt, invertebrates have the fresh-water limits. */
export function oxygenLimits(kind: AnimalKind, salinityGPerKg: number): OxygenLimits {
  const { otherFish, salmonid, invertebrate } = OXYGEN_EFFECT_LADDER_G_PER_M3;
  const { warmFresh, coldFresh, salt } = OXYGEN_LIMITS_G_PER_M3;
  const marine =
    "US EPA (2000), salt water: limits of growth and of survival; half of the species tested suffer above 2 mg/L, Vaquer-Sunyer & Duarte (2008)";
  if (kind === "marine fish") return { amberGPerM3: salt.growth, redGPerM3: salt.survival, source: marine };
  if (kind === "cold-water fish")
    return {
      amberGPerM3: salmonid.slight,
      redGPerM3: coldFresh.oneDayMinimum,
      source: "US EPA (1986): slight effect, and one-day minimum for cold water",
    };
  if (kind === "mollusc" && salinityGPerKg > 5)
    return {
      amberGPerM3: salt.growth,
      redGPerM3: MOLLUSC_LC50_G_PER_M3,
      source: `${marine}; for molluscs, what kills half of them`,
    };
  if (kind === "invertebrate" || kind === "crustacean" || kind === "mollusc" || kind === "cephalopod")
    return salinityGPerKg > 5
      ? {
          amberGPerM3: salt.growth,
          redGPerM3: CRUSTACEAN_LC50_G_PER_M3,
          source: `${marine}; for crustaceans, what kills half of them`,
        }
      : {
          amberGPerM3: invertebrate.moderate,
          redGPerM3: invertebrate.lethal,
          source: "US EPA (1986): moderate effect and lethal level, invertebrates",
        };
  return {
    amberGPerM3: otherFish.slight,
    redGPerM3: warmFresh.oneDayMinimum,
    source: "US EPA (1986): slight effect, and one-day minimum for warm water",
  };
}

/**
 * Mean lethal oxygen concentration of crustaceans [g/m³], Vaquer-Sunyer & Duarte (2008), PNAS 105:15452 (from memory;
 * fish 1.5, molluscs 0.9).
 */
const CRUSTACEAN_LC50_G_PER_M3 = 2.5;
/** Mean lethal oxygen of molluscs [g/m3], from the same source and as unsure; cephalopods, who use far more, are taken as crustaceans (modelling assumption). */
const MOLLUSC_LC50_G_PER_M3 = 0.9;

const KIND_WORDS: Readonly<Record<AnimalKind, readonly [id: string, name: string]>> = {
  "warm-water fish": ["fish-air", "Air for the fish"],
  "cold-water fish": ["fish-air-trout", "Air for fish of the trout kind"],
  "marine fish": ["fish-air-sea", "Air for the sea fish"],
  crustacean: ["fish-air-crustaceans", "Air for shrimps and crabs"],
  mollusc: ["fish-air-molluscs", "Air for snails and mussels"],
  cephalopod: ["fish-air-cephalopods", "Air for squid and octopus"],
  invertebrate: ["fish-air-invertebrates", "Air for shrimps, snails and corals"],
};

/** The lowest oxygen of all displays at a sample of a record [g/m³]. */
export const displayOxygen =
  (record: OutageRecord, displayCells: readonly number[]) =>
  (sample: number): number =>
    Math.min(...displayCells.map((c) => record.oxygen[sample][c]));

/** One clock per kind of animal present; none without animals. Earliest: high uptake and low supply; latest: the opposite. */
export function oxygenClocks(trial: OutageTrial, cut: Cut, groups: readonly AnimalGroup[]): Clock[] {
  const { displayCells, rig } = trial.aquarium;
  const curve = displayOxygen(trial.likely, displayCells);
  return [...new Set(groups.map((group) => group.kind))].map((kind): Clock => {
    const limits = oxygenLimits(kind, rig.salinityGPerKg);
    const when = (which: "low" | "likely" | "high", level: number) =>
      firstBelowH(trial[which], displayOxygen(trial[which], displayCells), level);
    const range = (level: number) => rangeH(when("high", level), when("low", level));
    const likely = when("likely", limits.redGPerM3);
    const help = cut.batteryAir
      ? "with an air pump on a battery"
      : cut.stirEveryHours !== null
        ? `with water poured from a jug every ${cut.stirEveryHours} hours`
        : "with only the still surface to take up air";
    const anHour = trial.likely.hours.findIndex((h) => h >= 1);
    const fall = (curve(0) - curve(anHour)).toFixed(1);
    return {
      id: KIND_WORDS[kind][0],
      name: KIND_WORDS[kind][1],
      amberH: range(limits.amberGPerM3),
      redH: range(limits.redGPerM3),
      why: [
        `From ${curve(0).toFixed(1)} mg/L oxygen falls by ${fall} mg/L in the first hour, ${help}. Below ${limits.amberGPerM3} mg/L animals begin to suffer; below ${limits.redGPerM3} mg/L some may die, ${likely === null ? "but it is not likely to fall so far" : `most likely after ${likely.toFixed(likely < 10 ? 1 : 0)} hours`}.`,
      ],
      source: `${limits.source}; use by animals: Clarke & Johnston (1999) times activity; still surface: Cole & Caraco (1998)`,
    };
  });
}
