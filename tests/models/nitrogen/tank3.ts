// A published start-up with daily data: tank 3 of Day et al. (2021), PLOS ONE 16:e0247534, fresh water, 20.5 °C, two tilapia.
// Volume, media and pellet mass were not published, so only the timing of its concentrations is used.

import { CARCASS_NITROGEN_SHARE, TAN_PER_PROTEIN } from "../../../models/life/excretion.ts";
import type { ManagementEvent } from "../../../models/nitrogen/events/all.ts";
import type { ParameterId } from "../../../models/nitrogen/kinetics/parameters.ts";
import { type PlannedModel, type Run, runSimulation } from "../../../models/nitrogen/simulation/simulation.ts";
import { inoculatedStock, matureStock } from "../../../models/nitrogen/tank/biofilm-stock.ts";
import { csvRecords } from "../../data/reference-rows.ts";
import { comparedCourse } from "../../validation/compared.ts";
import { asN, group, seen, tank } from "./cases.ts";

const rows = csvRecords("startup_day2021_tank3.csv");
const LITRES = 400;
const PROTEIN = 0.4;
const FIRST_PELLETS = 20;
const pellets = rows.flatMap((row) => {
  const count = /feed=(\d+) pellets/.exec(row.notes!)?.[1];
  return count ? [{ day: Number(row.day), count: Number(count) }] : [];
});
/** Days on which the keepers observed a landmark: low and high, as published. */
export const landmarks = csvRecords("startup_landmarks.csv")
  .filter((row) => row.case === "day2021_tank3")
  .map((row) => ({ event: row.event!, low: Number(row.day_low), high: Number(row.day_high) }));

/** What the record does not tell of its nitrogen. */
export interface Unknown {
  /** Nitrogen that came, over what lay in the water on day 28. */
  readonly load: number;
  /** Share of it that came from the two fish that died, the rest from pellets. */
  readonly fromDead: number;
  /** Share of the nitrogen of the last feeding that the plants take up from day 26 on. */
  readonly plants: number;
}

/** Two fish of this size could hold all of it; pellets were eaten too, so a quarter at least is taken to be theirs (modelling assumption). */
export const MOST_FROM_DEAD = 0.75;
/** As in the fit: all of day 28's nitrogen from pellets, and nothing lost. */
const AS_SEEN: Unknown = { load: 1, fromDead: 0, plants: 0 };
/** Day until which the nitrogen is balanced, and the days on which a fish died. */
const UNTIL = 28;
const DEATHS = [5, 12];
const PLANTS_FROM = 26;

/** Nitrogen in the water on day 28 [g N/m³], read on a scale of ions (10 NO2 and 20 NO3): a balance of the data, not fitted. */
const IN_WATER = 10 * asN.NO2 + 20 * asN.NO3;

/** Nitrogen released per pellet and volume [g N/m³]: that of day 28 divided by the pellets fed until then. */
function nitrogenPerPellet({ load, fromDead }: Unknown): number {
  let fed = 0;
  for (const [i, { day, count }] of pellets.entries()) {
    if (day >= UNTIL) break;
    fed += count * (Math.min(UNTIL, pellets[i + 1]?.day ?? UNTIL) - day);
  }
  return (load * (1 - fromDead) * IN_WATER) / fed;
}

/** The tank with what is not known of its load and losses. */
export function tank3(changes: Partial<Record<ParameterId, number>> = {}, unknown: Unknown = AS_SEEN): PlannedModel {
  const perPellet = nitrogenPerPellet(unknown) * (LITRES / 1000);
  const nitrogenPerDay = perPellet * FIRST_PELLETS;
  const fed = pellets.map(
    ({ day, count }): ManagementEvent => ({
      day,
      label: `${count} pellets`,
      kind: "feed",
      group: null,
      factor: count / FIRST_PELLETS,
      extraGPerDay: 0,
    }),
  );
  const bodyG = (unknown.load * unknown.fromDead * IN_WATER * (LITRES / 1000)) / DEATHS.length / CARCASS_NITROGEN_SHARE;
  const died = DEATHS.map((day): ManagementEvent => ({ day, label: "a fish died", kind: "death", massG: bodyG, foundDay: null }));
  const planted: ManagementEvent = {
    day: PLANTS_FROM,
    label: "plants",
    kind: "plants",
    uptakeGNPerDay: unknown.plants * perPellet * pellets[pellets.length - 1].count,
  };
  const events = [...fed, ...(unknown.fromDead > 0 ? died : []), ...(unknown.plants > 0 ? [planted] : [])].sort(
    (a, b) => a.day - b.day,
  );
  return tank({
    litres: LITRES,
    mediaLitres: 25,
    temperatureC: 20.5,
    ph: 7.7,
    dKh: 6,
    co2Share: 3e-3,
    days: 61,
    groups: [
      group(nitrogenPerDay / (TAN_PER_PROTEIN * PROTEIN), { proteinShare: PROTEIN, count: 2, massG: 150, growthPerDay: 0 }),
    ],
    events,
    changes,
  });
}

export function runTank3(aquarium: PlannedModel, mature: ReturnType<typeof matureStock>, inoculumShare: number): Run {
  return runSimulation(aquarium, {
    outputsPerDay: 4,
    relative: 1e-3,
    begin: inoculatedStock(aquarium, mature, inoculumShare, "everywhere"),
    stop: null,
  });
}

export const landmarkNames = ["ammonia_near_zero", "nitrite_first_seen", "nitrite_peak", "nitrite_near_zero"] as const;
export type LandmarkDays = Readonly<Record<(typeof landmarkNames)[number], number>>;

/**
 * Days of four landmarks in a run. Gone: 0.25 mg/L or less on the kit; first seen: 2 mg/L, as in the record; peak: the
 * first day within one step of the maximum (8 of 10), where the record's plateau begins. The fifth landmark of the
 * record, highest ammonia on day 7, does not test the bacteria: the feed was halved and a fish died just before.
 */
export function landmarkDays(run: Run): LandmarkDays {
  const tan = seen(run, "tan");
  const no2 = seen(run, "no2");
  const top = (series: typeof tan) => series.reduce((best, p) => (p.value > best.value ? p : best));
  const first = (series: typeof tan, after: number, holds: (value: number) => boolean) =>
    series.find((p) => p.day > after && holds(p.value))?.day ?? Number.POSITIVE_INFINITY;
  const peak = top(no2);
  return {
    ammonia_near_zero: first(tan, top(tan).day, (value) => value <= 0.25 * asN.NH3),
    nitrite_first_seen: first(no2, 0, (value) => value >= 2 * asN.NO2),
    nitrite_peak: first(no2, 0, (value) => value >= 0.8 * peak.value),
    nitrite_near_zero: first(no2, peak.day, (value) => value <= 0.25 * asN.NO2),
  };
}

/** Sum of squares of the days by which a run misses the landmarks. */
export function inconsistency(days: LandmarkDays): number {
  return landmarks
    .filter(({ event }) => event in days)
    .reduce((sum, { event, low, high }) => {
      const day = Math.min(days[event as keyof LandmarkDays], 100);
      return sum + Math.max(low - day, 0, day - high) ** 2;
    }, 0);
}

/**
 * The inoculum, as a share of the mature biomass, that misses the landmarks least: a scan of 1e-6 to 1e-2.
 * @param step of the scan [decades]
 */
export function fitInoculum(
  unknown: Unknown = AS_SEEN,
  step = 0.1,
): { readonly share: number; readonly inconsistency: number; readonly days: LandmarkDays } {
  const aquarium = tank3({}, unknown);
  // The seed is a share of one mature filter, whatever the load: it came before the food.
  const mature = matureStock(tank3());
  let best = { share: 0, inconsistency: Number.POSITIVE_INFINITY, days: {} as LandmarkDays };
  for (let exponent = -6; exponent <= -2; exponent += step) {
    const share = 10 ** exponent;
    const days = landmarkDays(runTank3(aquarium, mature, share));
    const value = inconsistency(days);
    if (value < best.inconsistency) best = { share, inconsistency: value, days };
  }
  return best;
}

const quantile = (sorted: readonly number[], q: number): number =>
  sorted[Math.min(sorted.length - 1, Math.round(q * (sorted.length - 1)))];

/** Writes the course of the record beside the runs of an ensemble, for the validation page; concentrations as on the record's scale of ions. */
export function compareTank3(runs: readonly Run[]): void {
  const columns = { tan: ["ammonia as NH3", 1 / asN.NH3], no2: ["nitrite as NO2", 1 / asN.NO2] } as const;
  for (const [substance, [what, perN]] of Object.entries(columns) as [
    keyof typeof columns,
    (typeof columns)[keyof typeof columns],
  ][]) {
    const key = Object.keys(rows[0]).find((name) => name.startsWith(substance))!;
    const times = rows.map((row) => Number(row.day));
    const series = runs.map((run) => seen(run, substance));
    const at = (n: number) =>
      series
        .map((of) => of.reduce((best, p) => (Math.abs(p.day - times[n]) < Math.abs(best.day - times[n]) ? p : best)).value * perN)
        .sort((a, b) => a - b);
    const all = times.map((_, n) => at(n));
    comparedCourse({
      set: "Tank 3 day by day",
      what,
      unit: "mg/L",
      source: "Day et al. (2021), read from a kit or strip",
      note: "Only the seed is fitted. Volume, media and pellets are not published, two fish died, and its nitrogen is 4 to 10 times that of the tanks beside it: the record tells when, not how much. The band varies the seed by a factor 10, two growth rates by 10 %, the nitrogen from 0.5 to 1.4 times, its share from the dead fish from 0 to 75 %, and the plants' share of the last feeding from 0 to 100 %: fits with any of these miss the four landmarks by 2 to 5 days in all, and seeds from 3e-6 to 1e-4 of a mature filter go with them. Twice the nitrogen does not fit: alkalinity runs out.",
      per: "days",
      times,
      measured: rows.map((row) => (row[key] === "" ? null : Number(row[key]))),
      model: all.map((values) => quantile(values, 0.5)),
      low: all.map((values) => quantile(values, 0.05)),
      high: all.map((values) => quantile(values, 0.95)),
    });
  }
}
