// Effects of the water on the animals, and what runs out: published limits, and the day on which they are exceeded.

import { stillHours } from "../../models/nitrogen/operation/outage-record.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { oxygenLimits } from "../../models/outage/oxygen-clock.ts";
import {
  chlorideToNitrite,
  freshAmmoniaCriteria,
  SALT_UNIONISED_ACUTE_G_NH3_PER_M3,
  SALT_UNIONISED_CHRONIC_G_NH3_PER_M3,
  SHIELDING_CHLORIDE_TO_NITRITE,
} from "../../models/water/criteria.ts";
import { EQ_PER_M3_PER_DKH } from "../../models/water/molar-mass.ts";
import { alkalinityGone, daysAbove, peakOf, SPENT_ALKALINITY, track, unionised } from "../analysis/series.ts";
import type { Range, Spread } from "../model/likelihood.ts";
import { CLEARED_TAN } from "../model/readiness.ts";
import type { NitrogenResult } from "../result/result.ts";
import type { Statement } from "../result/statement.ts";
import { concentration, day, lasting, number, sentence } from "../text/message.ts";
import { lossOfAnimals } from "./loss.ts";

const SALT_FROM_G_PER_KG = 5;
/** Strictest oxygen limits of the animals present [g/m³]; none without animals. */
function oxygenLimitsOf(run: Run): { readonly watch: number; readonly alarm: number; readonly sources: string } {
  const { groups, start } = run.aquarium.management;
  const limits = groups.map((group) => oxygenLimits(group.kind, start.salinityGPerKg));
  return {
    watch: Math.max(0, ...limits.map((l) => l.amberGPerM3)),
    alarm: Math.max(0, ...limits.map((l) => l.redGPerM3)),
    sources: [...new Set(limits.map((l) => l.source))].join("; "),
  };
}

/**
 * Nitrite that kills many fresh-water fish within days with little chloride [g N/m³]; 16 mg/L as NO2, a level that
 * keepers also fear (common practice, no published source).
 */
const NITRITE_DEADLY = 5;

/** Nitrite above which fresh-water fish are stressed [g N/m³] (FAO/Eurofish guide 2022: 0-0.5 normal, over 0.5 bad). */
const NITRITE_STRESS = 0.5;

/** Day on which the first animals are in the water; null when there are none. */
const animalsFrom = (run: Run): number | null =>
  run.aquarium.management.groups.length === 0
    ? null
    : Math.min(...run.aquarium.management.groups.map((group) => group.arrivesDay));

export function waterFindings(run: Run, spread: Spread | null): Statement[] {
  return [
    ...alkalinity(run, spread?.lowestAlkalinity ?? null),
    ...ammoniaHarm(run),
    ...nitriteHarm(run),
    ...oxygen(run),
    ...nitrateBalance(run),
  ];
}

/** Share of the water to change when alkalinity has run out (common practice, no published source). */
const RESCUE_CHANGE = 0.5;

function alkalinity(run: Run, range: Range | null): Statement[] {
  const alk = track(run, "alk");
  const gone = alkalinityGone(run);
  const lowest = Math.min(...alk.values);
  const { tap } = run.aquarium.management;
  const stocked = animalsFrom(run) !== null;
  if (gone !== null)
    return [
      {
        id: "alkalinity",
        topic: "water",
        consequence: "harm",
        likelihood: "planned",
        word: "STOP",
        text: sentence`Alkalinity (KH) is used up on ${day(gone)}: pH falls to about ${number(Math.min(...run.ph.map((p) => p[run.aquarium.displayCells[0]])))} and the bacteria stop working.`,
        value: gone,
        unit: "day",
        brief: sentence`The bacteria stop when the alkalinity (KH) is used up on ${day(gone)}; water with alkalinity, or bicarbonate in small steps, starts them again.`,
        advice: sentence`Stop dosing${stocked ? " and feed less" : ""}. ${
          tap.alkalinityEqPerM3 > 2 * SPENT_ALKALINITY
            ? sentence`Change ${Math.round(100 * RESCUE_CHANGE)} % of the water on that day: with your tap water that brings about ${number((RESCUE_CHANGE * tap.alkalinityEqPerM3) / EQ_PER_M3_PER_DKH)} dKH back.`
            : sentence`Your tap water brings no alkalinity, so a water change does not help: add bicarbonate.`
        }${stocked ? " With animals in, go in small steps: a sudden rise of pH frees ammonia." : ""}`,
      },
    ];
  const low = range === null ? lowest : Math.min(lowest, range[0]);
  const dkh = (eqPerM3: number) => number(eqPerM3 / EQ_PER_M3_PER_DKH);
  const runs = range === null ? "" : sentence` (nine runs in ten: ${dkh(range[0])} to ${dkh(range[1])} dKH)`;
  const worst =
    low < SPENT_ALKALINITY ? " In the worst of these runs it is used up: the bacteria stop, and ammonia stays in the water." : "";
  if ((lowest < 0.5 * run.aquarium.management.start.alkalinityEqPerM3 && lowest < 1) || low < SPENT_ALKALINITY)
    return [
      {
        id: "alkalinity",
        topic: "water",
        consequence: "harm",
        likelihood: "planned",
        word: "LOW KH",
        text: sentence`Alkalinity (KH) falls to ${dkh(lowest)} dKH${runs}, lowest on ${day(alk.days[alk.values.indexOf(lowest)])}.${worst} Test it every week.`,
        value: lowest,
        unit: "meq/L",
        brief: sentence`The bacteria slow down as alkalinity (KH) falls to ${dkh(lowest)} dKH by ${day(alk.days[alk.values.indexOf(lowest)])}; water with alkalinity, or bicarbonate in small steps, brings them back.`,
      },
    ];
  return [];
}

function ammoniaHarm(run: Run): Statement[] {
  const from = animalsFrom(run);
  if (from === null) return [];
  const { displayCells, management } = run.aquarium;
  const c = displayCells[0];
  const until = lossOfAnimals(run)?.day ?? Number.POSITIVE_INFINITY;
  const tan = track(run, "tan");
  const salty = management.start.salinityGPerKg >= SALT_FROM_G_PER_KG;
  const salmonids = management.groups.some((group) => group.kind === "cold-water fish");
  const limitsAt = (n: number): { readonly chronic: number; readonly acute: number } => {
    if (salty) return { chronic: SALT_UNIONISED_CHRONIC_G_NH3_PER_M3, acute: SALT_UNIONISED_ACUTE_G_NH3_PER_M3 };
    const { chronicTanGPerM3, acuteTanGPerM3 } = freshAmmoniaCriteria(run.ph[n][c], run.operating[n].temperatureC[c], salmonids);
    return { chronic: chronicTanGPerM3, acute: acuteTanGPerM3 };
  };
  let nearest = { share: 0, day: 0, tan: 0, nh3: 0 };
  let acute = 0;
  let days = 0;
  let firstDay: number | null = null;
  tan.days.forEach((at, n) => {
    if (at < from || at > until) return;
    const nh3 = unionised(run, n);
    const reading = salty ? nh3 : tan.values[n];
    const limits = limitsAt(n);
    const share = reading / limits.chronic;
    acute = Math.max(acute, reading / limits.acute);
    if (share > nearest.share) nearest = { share, day: at, tan: tan.values[n], nh3 };
    if (share > 1 && n > 0) {
      days += at - tan.days[n - 1];
      firstDay ??= at;
    }
  });
  if (nearest.tan < CLEARED_TAN * 0.5) return [];
  const over = days > 0.2 && firstDay !== null;
  const kills = acute > 1;
  const source = salty
    ? `Limits for salt water (US EPA 1989): ${SALT_UNIONISED_CHRONIC_G_NH3_PER_M3} mg/L of un-ionised ammonia for long, ${SALT_UNIONISED_ACUTE_G_NH3_PER_M3} mg/L for an hour.`
    : "The long-term limit (US EPA 2013, fresh water) depends on pH and temperature; mussels set it, so it is strict for fish.";
  return [
    {
      id: "ammonia-harm",
      topic: "water",
      consequence: kills ? "loss" : over ? "harm" : "none",
      likelihood: "planned",
      word: over || kills ? "AMMONIA" : "NOTE",
      text: kills
        ? sentence`Ammonia goes above the level that kills fish within hours: ${concentration("ammonia", nearest.tan)} on ${day(nearest.day)}.`
        : over
          ? sentence`Ammonia is above the long-term limit for ${lasting(days)} from ${day(firstDay!)} on; it is furthest above it on ${day(nearest.day)}, at ${concentration("ammonia", nearest.tan)}.`
          : nearest.share > 1
            ? sentence`Ammonia is above the long-term limit for a few hours only; it is highest against it on ${day(nearest.day)}, at ${concentration("ammonia", nearest.tan)}.`
            : sentence`Ammonia stays below the long-term limit; it comes nearest on ${day(nearest.day)}, with ${concentration("ammonia", nearest.tan)}, ${Math.floor(nearest.share * 100)} % of it.`,
      value: nearest.tan,
      unit: "g N/m3",
      advice: sentence`${over ? "Feed less, change water in small steps (a rise of pH frees ammonia), and test every day. " : ""}${number(nearest.nh3 * 1000)} µg/L of it is un-ionised, the harmful part. ${source}`,
      ...(kills
        ? {
            remedy:
              "Cheapest cure: let the filter mature before the animals come, or bring fewer of them. Half the food halves the ammonia.",
          }
        : {}),
    },
  ];
}

function nitriteHarm(run: Run): Statement[] {
  const from = animalsFrom(run);
  if (from === null) return [];
  const { management } = run.aquarium;
  const until = lossOfAnimals(run)?.day ?? Number.POSITIVE_INFINITY;
  const whole = track(run, "no2");
  const no2 = { days: whole.days, values: whole.values.map((value, n) => (whole.days[n] > until ? 0 : value)) };
  const peak = peakOf(no2, from);
  if (peak.value < 0.05) return [];
  const base = { id: "nitrite-harm", topic: "water", likelihood: "planned", value: peak.value, unit: "g N/m3" } as const;
  if (management.start.salinityGPerKg >= SALT_FROM_G_PER_KG)
    return [
      {
        ...base,
        consequence: "none",
        word: "PROGRESS",
        text: sentence`Nitrite is highest on ${day(peak.day)}, at ${concentration("nitrite", peak.value)}. In salt water it hardly harms, because chloride keeps it out of the gills; it only shows how far the filter has come. Watch ammonia instead.`,
      },
    ];
  const n = run.days.indexOf(peak.day);
  const ratio = chlorideToNitrite(run.chloride[Math.max(0, n)], peak.value);
  const days = daysAbove(no2, NITRITE_STRESS, from);
  const shielded = ratio >= SHIELDING_CHLORIDE_TO_NITRITE.soft;
  const kills = peak.value >= NITRITE_DEADLY && !shielded;
  const long = days > 0.5;
  return [
    {
      ...base,
      consequence: kills ? "loss" : long && !shielded ? "harm" : "none",
      word: "NITRITE",
      text: kills
        ? sentence`Nitrite reaches ${concentration("nitrite", peak.value)} on ${day(peak.day)}, a level that kills many fish.`
        : long
          ? sentence`Nitrite is above ${concentration("nitrite", NITRITE_STRESS)}, the level at which fish farmers act, for ${lasting(days)}; it is highest on ${day(peak.day)}, at ${concentration("nitrite", peak.value)}.`
          : sentence`Nitrite is highest on ${day(peak.day)}, at ${concentration("nitrite", peak.value)}, with animals in.`,
      advice: sentence`The water then holds ${number(ratio)} times as much chloride as nitrite nitrogen; ${SHIELDING_CHLORIDE_TO_NITRITE.soft} times shields fish in soft water and ${SHIELDING_CHLORIDE_TO_NITRITE.hard} times in hard water. This is information, not a dose: some species do not tolerate salt. Ask a vet.`,
      ...(kills
        ? {
            remedy:
              "Cheapest cure: change half of the water each day until nitrite is off the top of the scale, and feed little. Next time let the filter mature first.",
          }
        : {}),
    },
  ];
}

function oxygen(run: Run): Statement[] {
  const o2 = track(run, "o2");
  const until = lossOfAnimals(run)?.day ?? Number.POSITIVE_INFINITY;
  let lowest = { day: 0, value: Number.POSITIVE_INFINITY };
  // Outages have their own findings, with more samples.
  const inCut = (at: number): boolean =>
    run.cuts.some(({ event }) => at >= event.day && at <= event.day + stillHours(event) / 24);
  o2.days.forEach((at, n) => {
    if (at <= until && o2.values[n] < lowest.value && !inCut(at)) lowest = { day: at, value: o2.values[n] };
  });
  const { watch, alarm, sources } = oxygenLimitsOf(run);
  if (lowest.value >= watch) return [];
  const kills = lowest.value < alarm;
  return [
    {
      id: "oxygen",
      topic: "water",
      consequence: kills ? "loss" : "harm",
      likelihood: "planned",
      word: "OXYGEN",
      text: sentence`Oxygen falls to ${number(lowest.value)} mg/L on ${day(lowest.day)}${kills ? sentence`, below the ${alarm} mg/L that grown fish survive for long` : sentence`; below ${watch} mg/L fish begin to suffer`}.`,
      value: lowest.value,
      unit: "mg/L",
      advice: sentence`An air stone costs little. Look at the feeding first: rotting food uses the most. Limits: ${sources}.`,
      ...(kills ? { remedy: "Cheapest cure: an air stone that runs day and night, and less food." } : {}),
    },
  ];
}

function nitrateBalance(run: Run): Statement[] {
  const no3 = track(run, "no3");
  const days = no3.days[no3.days.length - 1] - no3.days[0];
  const fed = run.ledger.in.get("food") ?? 0;
  if (fed === 0 || days < 14) return [];
  const total = run.aquarium.exchange.volumesM3.reduce((a, b) => a + b, 0);
  const end = no3.values[no3.values.length - 1];
  return [
    {
      id: "nitrate",
      topic: "water",
      consequence: "none",
      likelihood: "planned",
      word: "NITRATE",
      text: sentence`The food could add ${concentration("nitrate", (fed / days / total) * 7)} of nitrate a week; nitrate ends at ${concentration("nitrate", end)}. It comes from the food, not from the media: only water changes, plants, and dirt you take out lower it.`,
      value: end,
      unit: "g N/m3",
    },
  ];
}

/** Limit lines of the charts. */
export function limitLines(run: Run): NitrogenResult["limits"] {
  const { watch, alarm, sources } = oxygenLimitsOf(run);
  if (watch === 0) return [];
  return [
    {
      panel: "oxygen",
      value: watch,
      label: "slight effect",
      source: sources,
    },
    {
      panel: "oxygen",
      value: alarm,
      label: "daily minimum",
      source: sources,
    },
  ];
}
