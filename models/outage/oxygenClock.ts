// Fish air: dissolved oxygen of the displays through a cut, and when it reaches published limits.
import { STILL_SURFACE_K600_M_PER_DAY, surfaceVelocityMPerDay } from "../gas/surfaceExchange.ts";
import { restingOxygenGPerDay } from "../life/respiration.ts";
import type { AnimalGroup, AnimalKind } from "../nitrogen/plan.ts";
import { displayPlanM2 } from "../rig.ts";
import { openSurfaceCoefficientMPerS } from "../tower/masstransfer.ts";
import { OXYGEN_EFFECT_LADDER_G_PER_M3, OXYGEN_LIMITS_G_PER_M3 } from "../water/criteria.ts";
import { diffusivityM2PerS } from "../water/diffusivity.ts";
import { liquidAt } from "../water/liquid.ts";
import { oxygenSaturationGPerM3 } from "../water/oxygen.ts";
import { airPressurePa } from "../water/pressure.ts";
import { batteryAirPerDay, pouringShare } from "./airSupply.ts";
import { type AtRest, type Clock, type Cut, cellsOf, firstCrossingH, rangeH } from "./cut.ts";
import { filmUseGPerM2Day, type Spread, wettedSurfaces } from "./filmUse.ts";
import type { TemperatureCurve } from "./temperature.ts";

const STEP_H = 0.05;
const SECONDS_PER_DAY = 86400;

/** One of the three ways a cut may go: more or less use and supply than likely. */
export type Case = "low" | "likely" | "high";

/**
 * Oxygen use of animals over the resting rate (range 1-2.5): in a dark, unfed tank close to rest, within about six hours of a meal up to the
 * daily factor of fed, active animals (common practice, no published source; 6 h is where gut passage peaks, `gutStageRatePerDay`).
 */
export const ACTIVITY_IN_CUT = {
  fed: { low: 1.5, likely: 2, high: 2.5 },
  unfed: { low: 1, likely: 1.5, high: 2 },
  unknown: { low: 1, likely: 1.5, high: 2.5 },
} as const;

/** Single species stray from Clarke & Johnston's law by a factor 2; in a mixed stock part of it evens out: 1.4 is taken (modelling assumption). */
const SPECIES_FACTOR = 1.4;

/** Use over the resting rate: activity and species are independent, so their logarithms add in quadrature. */
export function useOverResting(fed: boolean | null, which: Case): number {
  const activity = ACTIVITY_IN_CUT[fed === null ? "unknown" : fed ? "fed" : "unfed"];
  if (which === "likely") return activity.likely;
  const spread = Math.hypot(Math.log(activity[which] / activity.likely), Math.log(SPECIES_FACTOR));
  return activity.likely * Math.exp(which === "high" ? spread : -spread);
}

/** A still surface indoors against the lake value of Cole & Caraco (1998): a factor 1.4 either way (modelling assumption). Low use goes with high supply. */
const SUPPLY_FACTOR = { low: 1.4, likely: 1, high: 1 / 1.4 } as const;
/** A running, stocked tank stands a little under saturation (modelling assumption: 95 %). */
const RUNNING_SATURATION_SHARE = 0.95;

export interface OxygenLimits {
  readonly amberGPerM3: number;
  readonly redGPerM3: number;
  readonly source: string;
}

/** Limits by kind of animal. Below about 5 g/kg of salt the fresh-water ladder holds for invertebrates. */
export function oxygenLimits(kind: AnimalKind, salinityGPerKg: number): OxygenLimits {
  const { otherFish, salmonid, invertebrate } = OXYGEN_EFFECT_LADDER_G_PER_M3;
  const { warmFresh, coldFresh, salt } = OXYGEN_LIMITS_G_PER_M3;
  const marine =
    "amber: growth limit, US EPA (2000) salt water; red: survival limit, US EPA (2000); half of the species tested suffer above 2 mg/L, Vaquer-Sunyer & Duarte (2008)";
  if (kind === "marine fish") return { amberGPerM3: salt.growth, redGPerM3: salt.survival, source: marine };
  if (kind === "cold-water fish")
    return {
      amberGPerM3: salmonid.slight,
      redGPerM3: coldFresh.oneDayMinimum,
      source: "US EPA (1986): slight effect, and one-day minimum for cold water",
    };
  if (kind === "invertebrate")
    return salinityGPerKg > 5
      ? {
          amberGPerM3: salt.growth,
          redGPerM3: CRUSTACEAN_LC50_G_PER_M3,
          source: `${marine}; red for crustaceans: their mean lethal level`,
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

/** Mean lethal oxygen of crustaceans [g/m3], Vaquer-Sunyer & Duarte (2008), PNAS 105:15452 (from memory; fish 1.5, molluscs 0.9). */
const CRUSTACEAN_LC50_G_PER_M3 = 2.5;

export interface OxygenQuestion {
  readonly groups: readonly AnimalGroup[];
  /** Whether the animals ate within about six hours before the cut; null = not known. */
  readonly fed: boolean | null;
  /** Oxygen when the power goes [g/m3]; null = 95 % of saturation. */
  readonly startGPerM3: number | null;
  readonly temperatures: TemperatureCurve;
}

/** What drives the oxygen of the displays, at each sample of the temperatures. */
interface Drive {
  readonly saturation: number;
  /** Still surface, and what air stones add [1/d]. */
  readonly surfacePerDay: number;
  readonly stonesPerDay: number;
  /** Animals at rest [g/(m3 d)]. */
  readonly restingUse: number;
  /** Films by their food [g/(m3 d)], and at most, per oxygen in the water [1/d]. */
  readonly filmUse: Spread;
  readonly filmsAtMostPerDay: number;
  readonly pouring: number;
}

function drives(rest: AtRest, cut: Cut, { groups, temperatures }: OxygenQuestion): Drive[] {
  const { rig, husbandry } = rest;
  const displays = cellsOf(rest, "display");
  const volume = displays.reduce((sum, c) => sum + rest.volumesM3[c], 0);
  const surfaceM2 = rig.displays.reduce((sum, display) => sum + displayPlanM2(display), 0);
  const pressure = airPressurePa(rig.room.altitudeM);
  const salt = rig.salinityGPerKg;
  const mains = cut.everythingOff ? 0 : husbandry.airStonePerDay;
  const filmsPerVolume = wettedSurfaces(rest).displaysM2 / volume;
  return temperatures.samples.map((sample) => {
    const temperatureC = displays.reduce((sum, c) => sum + sample[c] * rest.volumesM3[c], 0) / volume;
    const velocity = surfaceVelocityMPerDay("oxygen", temperatureC, salt, STILL_SURFACE_K600_M_PER_DAY);
    const battery = cut.batteryAir ? batteryAirPerDay(volume, surfaceM2, temperatureC, salt) : 0;
    const resting = groups.reduce((sum, group) => sum + group.count * restingOxygenGPerDay(group.massG, temperatureC), 0);
    const use = filmUseGPerM2Day(rest, groups, temperatureC);
    // Still water hands a film no more than diffuses through its layer.
    const oxygen = diffusivityM2PerS("oxygen", temperatureC, salt);
    const diffusing = openSurfaceCoefficientMPerS(liquidAt(temperatureC, salt), 0, 1, oxygen) * SECONDS_PER_DAY;
    return {
      saturation: oxygenSaturationGPerM3(temperatureC, salt, pressure),
      surfacePerDay: (surfaceM2 / volume) * velocity,
      stonesPerDay: mains + battery,
      restingUse: resting / volume,
      filmUse: { low: use.low * filmsPerVolume, likely: use.likely * filmsPerVolume, high: use.high * filmsPerVolume },
      filmsAtMostPerDay: diffusing * filmsPerVolume,
      pouring: pouringShare(temperatureC),
    };
  });
}

/**
 * Dissolved oxygen of the displays, taken as one body, every three minutes [g/m3], as long as the question's temperatures reach. Each step is
 * the exact solution of dO/dt = k (O_s - O) - D for the quarter of an hour's temperature; animals do not use less as oxygen falls (they keep it
 * up until near the lethal level), so the curve stops at zero. Only the displays' own water counts: the drained tower has its own air.
 */
export function oxygenCurve(rest: AtRest, cut: Cut, question: OxygenQuestion, which: Case): Float64Array {
  return follow(drives(rest, cut, question), cut, question, which);
}

function follow(drive: readonly Drive[], cut: Cut, question: OxygenQuestion, which: Case): Float64Array {
  const perSample = Math.round(question.temperatures.stepH / STEP_H);
  const curve = new Float64Array((drive.length - 1) * perSample + 1);
  curve[0] = question.startGPerM3 ?? RUNNING_SATURATION_SHARE * drive[0].saturation;
  const overResting = useOverResting(question.fed, which);
  let pours = 1;
  for (let i = 0; i < curve.length - 1; i++) {
    const now = drive[Math.floor(i / perSample)];
    const perDay = (now.surfacePerDay + now.stonesPerDay) * SUPPLY_FACTOR[which];
    const films = Math.min(now.filmUse[which], now.filmsAtMostPerDay * curve[i]);
    let oxygen = relax(curve[i], now.saturation, perDay, now.restingUse * overResting + films, STEP_H / 24);
    if (cut.stirEveryHours !== null && (i + 1) * STEP_H >= pours * cut.stirEveryHours) {
      oxygen += now.pouring * Math.max(0, now.saturation - oxygen);
      pours++;
    }
    curve[i + 1] = oxygen;
  }
  return curve;
}

/** Exact solution of dO/dt = k (S - O) - D over a time, never below zero. Any consistent units. */
export function relax(oxygen: number, saturation: number, k: number, use: number, time: number): number {
  if (k <= 0) return Math.max(0, oxygen - use * time);
  const target = saturation - use / k;
  return Math.max(0, target + (oxygen - target) * Math.exp(-k * time));
}

const KIND_WORDS: Readonly<Record<AnimalKind, readonly [id: string, name: string]>> = {
  "warm-water fish": ["fish-air", "Air for the fish"],
  "cold-water fish": ["fish-air-trout", "Air for fish of the trout kind"],
  "marine fish": ["fish-air-sea", "Air for the sea fish"],
  invertebrate: ["fish-air-invertebrates", "Air for shrimps, snails and corals"],
};

/** One clock for each kind of animal present; none when there are no animals. */
export function oxygenClocks(rest: AtRest, cut: Cut, question: OxygenQuestion): Clock[] {
  const kinds = [...new Set(question.groups.map((group) => group.kind))];
  if (kinds.length === 0) return [];
  const drive = drives(rest, cut, question);
  const [early, middle, late] = (["high", "likely", "low"] as const).map((which) => follow(drive, cut, question, which));
  return kinds.map((kind): Clock => {
    const limits = oxygenLimits(kind, rest.rig.salinityGPerKg);
    const when = (curve: Float64Array, level: number) => firstCrossingH(STEP_H, curve, level, -1);
    const range = (level: number) => rangeH(when(early, level), when(late, level));
    const likely = when(middle, limits.redGPerM3);
    const help = cut.batteryAir
      ? "with battery air"
      : cut.stirEveryHours !== null
        ? `with water poured every ${cut.stirEveryHours} h`
        : "with nothing but the still surface";
    const rate = (middle[0] - middle[Math.round(1 / STEP_H)]).toFixed(1);
    return {
      id: KIND_WORDS[kind][0],
      name: KIND_WORDS[kind][1],
      amberH: range(limits.amberGPerM3),
      redH: range(limits.redGPerM3),
      why: `Oxygen falls by ${rate} mg/L in the first hour ${help}; ${limits.amberGPerM3} mg/L is amber, ${limits.redGPerM3} mg/L red, ${likely === null ? "which it is not likely to reach" : `likely after ${likely.toFixed(1)} h`}.`,
      source: `${limits.source}; use by animals: Clarke & Johnston (1999) times activity; still surface: Cole & Caraco (1998)`,
    };
  });
}

/** Hours until oxygen falls to a level in one of the three cases; null when it does not while the temperatures last. */
export function hoursToOxygen(rest: AtRest, cut: Cut, question: OxygenQuestion, which: Case, levelGPerM3: number): number | null {
  return firstCrossingH(STEP_H, oxygenCurve(rest, cut, question, which), levelGPerM3, -1);
}
