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
import { type AtRest, type Clock, type Cut, cellsOf, firstCrossingH, HORIZON_H, rangeH } from "./cut.ts";
import type { TemperatureCurve } from "./temperature.ts";

const STEP_H = 0.05;

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
/**
 * Oxygen that bacteria use per food [g/g]: what is left of 0.4-1.0 g/g for the whole system after the animals' own 0.25-0.5 (culture practice,
 * from memory). In the display they are the share that its surfaces have of all wetted surface; without food for hours this overstates it.
 */
export const BACTERIA_USE_PER_FOOD = { low: 0.15, likely: 0.3, high: 0.5 } as const;
/** Temperature of the figures above [°C] and the temperature factor per K (1.07, Henze et al. 2000, from memory). */
const BACTERIA_AT_C = 25;
const BACTERIA_THETA = 1.07;
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

/**
 * Dissolved oxygen of the displays, taken as one body, every three minutes [g/m3]. Each step is the exact solution of
 * dO/dt = k (O_s - O) - D with the step's temperature; use does not slow as oxygen falls (animals keep it up until near the
 * lethal level), so the curve stops at zero. Only what drew on the display's water counts: the drained tower has its own air.
 */
export function oxygenCurve(rest: AtRest, cut: Cut, question: OxygenQuestion, which: Case, hours: number): Float64Array {
  const { rig, husbandry } = rest;
  const displays = cellsOf(rest, "display");
  const volume = displays.reduce((sum, c) => sum + rest.volumesM3[c], 0);
  const surfaceM2 = rig.displays.reduce((sum, display) => sum + displayPlanM2(display), 0);
  const pressure = airPressurePa(rig.room.altitudeM);
  const salt = rig.salinityGPerKg;
  const overResting = useOverResting(question.fed, which);
  const food = question.groups.reduce((sum, group) => sum + group.foodGPerDay, 0);
  const bacteria = BACTERIA_USE_PER_FOOD[which] * food * displaySurfaceShare(rest);
  const stone = cut.everythingOff ? 0 : husbandry.airStonePerDay;
  const count = Math.ceil(hours / STEP_H);
  const curve = new Float64Array(count + 1);
  const startC = husbandry.temperatureC;
  curve[0] = question.startGPerM3 ?? RUNNING_SATURATION_SHARE * oxygenSaturationGPerM3(startC, salt, pressure);
  let nextPour = cut.stirEveryHours ?? Number.POSITIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    const temperatureC = displayTemperature(question.temperatures, displays, rest.volumesM3, i * STEP_H);
    const saturation = oxygenSaturationGPerM3(temperatureC, salt, pressure);
    const still = surfaceVelocityMPerDay("oxygen", temperatureC, salt, STILL_SURFACE_K600_M_PER_DAY) * SUPPLY_FACTOR[which];
    const battery = cut.batteryAir ? batteryAirPerDay(volume, surfaceM2, temperatureC, salt) * SUPPLY_FACTOR[which] : 0;
    const perDay = (surfaceM2 / volume) * still + battery + stone;
    const animals = question.groups.reduce(
      (sum, group) => sum + group.count * restingOxygenGPerDay(group.massG, temperatureC),
      0,
    );
    // Still water hands a film no more than diffuses through its layer.
    const diffusing = openSurfaceCoefficientMPerS(
      liquidAt(temperatureC, salt),
      0,
      1,
      diffusivityM2PerS("oxygen", temperatureC, salt),
    );
    const films = Math.min(
      bacteria * BACTERIA_THETA ** (temperatureC - BACTERIA_AT_C),
      diffusing * 86400 * curve[i] * husbandry.surfaces.displayM2,
    );
    const use = (animals * overResting + films) / volume;
    let oxygen = relax(curve[i], saturation, perDay, use, STEP_H / 24);
    if ((i + 1) * STEP_H >= nextPour) {
      oxygen += pouringShare(temperatureC) * Math.max(0, saturation - oxygen);
      nextPour += cut.stirEveryHours ?? Number.POSITIVE_INFINITY;
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

/** Share of all wetted surface that lies in the displays. */
function displaySurfaceShare({ rig, husbandry, wettedShare }: AtRest): number {
  const { displayM2 } = husbandry.surfaces;
  const towers = rig.towers.reduce((sum, tower, t) => {
    const bed = tower.lengthM * tower.widthM * tower.mediaDepthM;
    return sum + bed * tower.media.specificSurfaceM2PerM3 * wettedShare[t];
  }, 0);
  const submerged = rig.sump.chambers.reduce(
    (sum, { submergedMedia: media }) => sum + (media ? media.volumeM3 * media.specificSurfaceM2PerM3 : 0),
    0,
  );
  return displayM2 > 0 ? displayM2 / (displayM2 + towers + submerged) : 0;
}

function displayTemperature(curve: TemperatureCurve, displays: readonly number[], volumes: readonly number[], h: number): number {
  const at = curve.at(h);
  let heat = 0;
  let volume = 0;
  for (const c of displays) {
    heat += at[c] * volumes[c];
    volume += volumes[c];
  }
  return heat / volume;
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
  const curves = {
    early: oxygenCurve(rest, cut, question, "high", HORIZON_H),
    likely: oxygenCurve(rest, cut, question, "likely", HORIZON_H),
    late: oxygenCurve(rest, cut, question, "low", HORIZON_H),
  };
  return kinds.map((kind): Clock => {
    const limits = oxygenLimits(kind, rest.rig.salinityGPerKg);
    const when = (curve: Float64Array, level: number) => firstCrossingH(STEP_H, curve, level, -1);
    const range = (level: number) => rangeH(when(curves.early, level), when(curves.late, level));
    const likely = when(curves.likely, limits.redGPerM3);
    const help = cut.batteryAir
      ? "with battery air"
      : cut.stirEveryHours !== null
        ? `with water poured every ${cut.stirEveryHours} h`
        : "with nothing but the still surface";
    const rate = (curves.likely[0] - curves.likely[Math.round(1 / STEP_H)]).toFixed(1);
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

/** Hours until oxygen falls to a level in one of the three cases; null when it does not within the horizon. */
export function hoursToOxygen(rest: AtRest, cut: Cut, question: OxygenQuestion, which: Case, levelGPerM3: number): number | null {
  return firstCrossingH(STEP_H, oxygenCurve(rest, cut, question, which, HORIZON_H), levelGPerM3, -1);
}
