// What the water does to the animals, and what runs out: published limits first, then the day they are passed.

import { stillHours } from "../../models/nitrogen/operation/outage-record.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { oxygenLimits } from "../../models/outage/oxygen-clock.ts";
import { freeAmmoniaNGPerM3 } from "../../models/water/ammonia.ts";
import {
  chlorideToNitrite,
  freshAmmoniaCriteria,
  SALT_UNIONISED_ACUTE_G_NH3_PER_M3,
  SALT_UNIONISED_CHRONIC_G_NH3_PER_M3,
  SHIELDING_CHLORIDE_TO_NITRITE,
} from "../../models/water/criteria.ts";
import { CLEARED_TAN } from "../model/readiness.ts";
import type { NitrogenResult } from "../result/result.ts";
import type { Statement } from "../result/statement.ts";
import { concentration, lasting, number, sentence } from "../text/message.ts";
import { above, peakOf, track } from "./cycle.ts";

const SALT_FROM_G_PER_KG = 5;
/** Alkalinity under which nitrification starves [eq/m3] (about 0.5 dKH; the half-saturation of the model). */
const SPENT_ALKALINITY = 0.1;
/** Strictest oxygen limits of the animals kept [g/m3]; none when there are none. */
function oxygenLimitsOf(run: Run): { readonly watch: number; readonly alarm: number; readonly sources: string } {
  const { groups, start } = run.aquarium.management;
  const limits = groups.map((group) => oxygenLimits(group.kind, start.salinityGPerKg));
  return {
    watch: Math.max(0, ...limits.map((l) => l.amberGPerM3)),
    alarm: Math.max(0, ...limits.map((l) => l.redGPerM3)),
    sources: [...new Set(limits.map((l) => l.source))].join("; "),
  };
}

/** Nitrite above which fresh-water fish are under stress [g N/m3] (FAO/Eurofish guide 2022: 0-0.5 normal, over 0.5 bad). */
const NITRITE_STRESS = 0.5;

/** First moment animals are in the water; null when there are none. */
const animalsFrom = (run: Run): number | null =>
  run.aquarium.management.groups.length === 0
    ? null
    : Math.min(...run.aquarium.management.groups.map((group) => group.arrivesDay));

export function waterFindings(run: Run): Statement[] {
  return [...alkalinity(run), ...ammoniaHarm(run), ...nitriteHarm(run), ...oxygen(run), ...nitrateBalance(run)];
}

function alkalinity(run: Run): Statement[] {
  const alk = track(run, "alk");
  const n = alk.values.findIndex((value) => value < SPENT_ALKALINITY);
  const lowest = Math.min(...alk.values);
  if (n >= 0)
    return [
      {
        id: "alkalinity",
        topic: "water",
        level: "alarm",
        word: "STOP",
        text: sentence`Alkalinity is used up on day ${Math.round(alk.days[n])}: pH falls to about ${number(Math.min(...run.ph.map((p) => p[run.aquarium.displayCells[0]])))} and nitrification stalls.`,
        value: alk.days[n],
        unit: "day",
        advice:
          "Change water with a buffered supply, or bring alkalinity up in small steps (bicarbonate shifts pH; with animals in, go slowly).",
      },
    ];
  if (lowest < 0.5 * run.aquarium.management.start.alkalinityEqPerM3 && lowest < 1)
    return [
      {
        id: "alkalinity",
        topic: "water",
        level: "watch",
        word: "WATCH",
        text: sentence`Alkalinity falls to ${number(lowest / 0.357)} dKH (${number(lowest)} meq/L): test it weekly.`,
        value: lowest,
        unit: "meq/L",
      },
    ];
  return [];
}

function ammoniaHarm(run: Run): Statement[] {
  const from = animalsFrom(run);
  if (from === null) return [];
  const { displayCells, management } = run.aquarium;
  const c = displayCells[0];
  const tan = track(run, "tan");
  const salty = management.start.salinityGPerKg >= SALT_FROM_G_PER_KG;
  let worst = { ratio: 0, day: 0, nh3: 0, tan: 0 };
  let days = 0;
  let firstDay = Number.NaN;
  tan.days.forEach((day, n) => {
    if (day < from) return;
    const ph = run.ph[n][c];
    const { temperatureC, salinityGPerKg } = run.operating[n];
    const nh3 = freeAmmoniaNGPerM3(tan.values[n], ph, temperatureC[c], salinityGPerKg) * (17.031 / 14.007);
    const limit = salty
      ? SALT_UNIONISED_CHRONIC_G_NH3_PER_M3
      : freshAmmoniaCriteria(
          ph,
          temperatureC[c],
          management.groups.some((group) => group.kind === "cold-water fish"),
        ).chronicTanGPerM3;
    const ratio = (salty ? nh3 : tan.values[n]) / limit;
    if (ratio > worst.ratio) worst = { ratio, day, nh3, tan: tan.values[n] };
    if (ratio > 1 && n > 0) {
      days += day - tan.days[n - 1];
      if (Number.isNaN(firstDay)) firstDay = day;
    }
  });
  if (worst.tan < CLEARED_TAN * 0.5) return [];
  const source = salty
    ? `Limits: US EPA (1989) for salt water, ${SALT_UNIONISED_CHRONIC_G_NH3_PER_M3} mg/L un-ionised long-term, ${SALT_UNIONISED_ACUTE_G_NH3_PER_M3} short-term.`
    : "Limit: US EPA (2013) chronic criterion for fresh water, set by mussels and so strict for fish.";
  const over = days > 0.2;
  const highest = sentence`highest ${concentration("ammonia", worst.tan)} on day ${Math.round(worst.day)}`;
  return [
    {
      id: "ammonia-harm",
      topic: "water",
      level: over ? "alarm" : worst.ratio > 0.5 ? "watch" : "info",
      word: over ? "AMMONIA" : "NOTE",
      text: over
        ? sentence`With animals in, ammonia is above the long-term limit for ${lasting(days)} from day ${Math.round(firstDay)}; ${highest}.`
        : sentence`With animals in, ammonia reaches ${Math.round(worst.ratio * 100)} % of the long-term limit; ${highest}.`,
      value: worst.tan,
      unit: "g N/m3",
      advice: sentence`${over ? "Feed less, change water in small steps (a rise of pH frees ammonia), test daily. " : ""}${number(worst.nh3 * 1000)} µg/L of it is un-ionised NH3. ${source}`,
    },
  ];
}

function nitriteHarm(run: Run): Statement[] {
  const from = animalsFrom(run);
  if (from === null) return [];
  const { management } = run.aquarium;
  const no2 = track(run, "no2");
  const peak = peakOf(no2, from);
  if (peak.value < 0.05) return [];
  const salty = management.start.salinityGPerKg >= SALT_FROM_G_PER_KG;
  const over = above(no2, NITRITE_STRESS, from);
  if (salty)
    return [
      {
        id: "nitrite-harm",
        topic: "water",
        level: "info",
        word: "PROGRESS",
        text: sentence`In sea water nitrite marks progress rather than danger: it reaches ${concentration("nitrite", peak.value)} on day ${Math.round(peak.day)}. Watch ammonia.`,
        value: peak.value,
        unit: "g N/m3",
      },
    ];
  const n = run.days.indexOf(peak.day);
  const ratio = chlorideToNitrite(run.chloride[Math.max(0, n)], peak.value);
  const long = over.days > 0.5;
  return [
    {
      id: "nitrite-harm",
      topic: "water",
      level: long ? "alarm" : "watch",
      word: "NITRITE",
      text: long
        ? sentence`With animals in, nitrite is above ${concentration("nitrite", NITRITE_STRESS)} for ${lasting(over.days)}; highest ${concentration("nitrite", peak.value)} on day ${Math.round(peak.day)}.`
        : sentence`With animals in, nitrite peaks at ${concentration("nitrite", peak.value)} on day ${Math.round(peak.day)}.`,
      value: peak.value,
      unit: "g N/m3",
      advice: sentence`${long ? sentence`A dose of ${number(over.dose)} mg N/L x days above the level that a fish-farming guide calls bad. ` : ""}Chloride to nitrite-nitrogen is then ${number(ratio)} : 1; ${SHIELDING_CHLORIDE_TO_NITRITE.soft} : 1 shields in soft water and ${SHIELDING_CHLORIDE_TO_NITRITE.hard} : 1 in hard. For information: some species do not bear salt, ask a vet.`,
    },
  ];
}

function oxygen(run: Run): Statement[] {
  const o2 = track(run, "o2");
  let lowest = { day: 0, value: Number.POSITIVE_INFINITY };
  // Cuts are told by themselves, from closer readings.
  const inCut = (day: number): boolean =>
    run.cuts.some(({ event }) => day >= event.day && day <= event.day + stillHours(event) / 24);
  o2.days.forEach((day, n) => {
    if (o2.values[n] < lowest.value && !inCut(day)) lowest = { day, value: o2.values[n] };
  });
  const { watch, alarm, sources } = oxygenLimitsOf(run);
  if (lowest.value >= watch) return [];
  return [
    {
      id: "oxygen",
      topic: "water",
      level: lowest.value < alarm ? "alarm" : "watch",
      word: "OXYGEN",
      text: sentence`Oxygen falls to ${number(lowest.value)} mg/L on day ${number(lowest.day, 3)} (limits ${watch} and ${alarm} mg/L).`,
      value: lowest.value,
      unit: "mg/L",
      advice: sentence`An air stone or a stronger surface stir costs little; look at the feeding first. Limits: ${sources}.`,
    },
  ];
}

function nitrateBalance(run: Run): Statement[] {
  const no3 = track(run, "no3");
  const span = no3.days[no3.days.length - 1] - no3.days[0];
  const fed = run.ledger.in.get("food") ?? 0;
  if (fed === 0 || span < 14) return [];
  const total = run.aquarium.exchange.volumesM3.reduce((a, b) => a + b, 0);
  const end = no3.values[no3.values.length - 1];
  const perWeek = (fed / span / total) * 7;
  return [
    {
      id: "nitrate",
      topic: "water",
      level: "info",
      word: "NITRATE",
      text: sentence`Food brings ${concentration("nitrate", perWeek)} worth of nitrogen a week; nitrate ends at ${concentration("nitrate", end)}. It comes from the food, not from the media: only water changes, plants and what you take out lower it.`,
      value: end,
      unit: "g N/m3",
    },
  ];
}

/** Limit lines for the charts. */
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
