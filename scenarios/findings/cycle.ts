// "Ready between day 29 and 44, likely 35, for up to 7.7 g of food a day."
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import type { ScenarioFormatter } from "../build/scenario-formatter.ts";
import { type Capacity, CLEARED_NO2, CLEARED_TAN, foodFor, type Readiness } from "../model/readiness.ts";
import type { Statement } from "../result/statement.ts";
import { concentration, lasting, type Message, number, type Quantity, sentence } from "../text/message.ts";

/** Readings of one substance in the first display over a run. */
export interface Track {
  readonly days: readonly number[];
  readonly values: readonly number[];
}

export function track(run: Run, substance: "tan" | "no2" | "no3" | "o2" | "alk"): Track {
  const i = run.aquarium.layout.cellIndex(run.aquarium.displayCells[0], substance);
  return { days: run.days, values: run.states.map((y) => y[i]) };
}

/** Doses and meals lift a reading to nearly the same height many times; what counts is the first time it stands there. */
const AS_GOOD_AS_HIGHEST = 0.98;

/** Highest value from a day on, and the first day on which it is as good as reached. */
export function peakOf(t: Track, from = 0): { readonly day: number; readonly value: number } {
  let value = Number.NEGATIVE_INFINITY;
  t.days.forEach((day, n) => {
    if (day >= from) value = Math.max(value, t.values[n]);
  });
  const first = t.days.findIndex((day, n) => day >= from && t.values[n] >= AS_GOOD_AS_HIGHEST * value);
  return { day: first < 0 ? from : t.days[first], value };
}

/** Days spent above a level, and the dose above it [d, value x d]. */
export function above(t: Track, level: number, from = 0): { readonly days: number; readonly dose: number } {
  let days = 0;
  let dose = 0;
  for (let n = 1; n < t.days.length; n++) {
    if (t.days[n] <= from || t.values[n] <= level) continue;
    const step = t.days[n] - t.days[n - 1];
    days += step;
    dose += step * (t.values[n] - level);
  }
  return { days, dose };
}

/** First day after the peak at which the level has fallen under `level`; null when it does not. */
export function clearedAfterPeak(t: Track, level: number): number | null {
  const peak = peakOf(t);
  const n = t.days.findIndex((day, i) => day > peak.day && t.values[i] < level);
  return n < 0 ? null : t.days[n];
}

const USUAL_PROTEIN = 0.42;

const grams = (g: number): Quantity => number(g, 2);

/** @param early late readiness of the 5 % and 95 % cases; null = not within the run */
export function cycleFindings(
  words: ScenarioFormatter,
  run: Run,
  likely: Readiness,
  capacity: Capacity,
  early: number | null,
  late: number | null,
): Statement[] {
  const { resolved } = words;
  const findings: Statement[] = [];
  const protein = resolved.food?.proteinShare ?? USUAL_PROTEIN;
  const volume = run.aquarium.exchange.volumesM3.reduce((a, b) => a + b, 0);
  const dosed = foodFor(resolved.ask.tanGPerM3 * volume, protein);
  // No more than the test has shown, and no more than keeps the readings clear: a dose is cleared at high ammonia, food must be at low.
  const food = Math.min(foodFor(capacity.carriesGNPerDay, protein), likely.day === null ? Number.POSITIVE_INFINITY : dosed);
  const wanted = resolved.food?.gPerDay ?? null;
  const last = run.aquarium.management.days;
  const test = sentence`clears ${resolved.ask.words} within ${Math.round(resolved.ask.withinDays * 24)} h${resolved.ask.times > 1 ? `, ${resolved.ask.times} times running` : ""}`;
  if (likely.day === null) {
    findings.push({
      id: "ready",
      topic: "cycle",
      level: "watch",
      word: "NOT YET",
      text: sentence`Not ready within the ${last} days computed: it never ${test}. At the end it would carry about ${grams(food)} g of food a day.`,
      value: food,
      unit: "g food/day",
      advice: "Test again every few days; look at the alkalinity and the temperature before adding anything.",
    });
  } else {
    const range =
      early !== null && late !== null && late - early >= 1
        ? `between day ${Math.floor(early)} and ${Math.ceil(late)}, likely day ${Math.round(likely.day)}`
        : late === null && early !== null
          ? `from day ${Math.floor(early)}, likely day ${Math.round(likely.day)}, with an unlucky seed not within ${last} days`
          : `on about day ${Math.round(likely.day)}`;
    const start = likely.day <= resolved.ask.withinDays + resolved.ask.times ? "Ready from the start" : `Ready ${range}`;
    const share =
      wanted === null
        ? ""
        : food >= wanted
          ? sentence` Your plan of ${grams(wanted)} g a day needs ${Math.round((100 * wanted) / food)} % of that.`
          : sentence` Your plan of ${grams(wanted)} g a day is more: begin with ${Math.round((100 * food) / wanted)} % of it.`;
    findings.push({
      id: "ready",
      topic: "cycle",
      level: wanted !== null && food < wanted ? "watch" : "info",
      word: "READY",
      text: sentence`${start}, for up to ${grams(food)} g of food a day (${Math.round(protein * 100)} % protein).${share}`,
      value: likely.day,
      unit: "day",
      advice: sentence`Ready means: it ${test}. So much ammonia is that of ${grams(dosed)} g of food, but food comes every day and must be cleared at readings of nothing, where bacteria work slower: hence the smaller of the two. The colony grows into more within one to two weeks.`,
    });
  }
  return findings;
}

/** Under this share of what is fed a filter is short; between it and one, readings stand at the first step of a kit. */
const CLEARLY_SHORT = 0.8;

function given(fed: number, spare: number): Message {
  if (fed <= 0) return [];
  if (spare < CLEARLY_SHORT) return sentence`, less than the ${grams(fed)} g that is given`;
  if (spare < 1.1) return sentence`; ${grams(fed)} g is given, which is about all of it`;
  return sentence`; ${grams(fed)} g is given, and ${number(spare)} times that would begin to show on a kit`;
}

/** What a running filter takes a day at the end, against what is fed. */
export function capacityFinding(run: Run, capacity: Capacity): Statement {
  const { management } = run.aquarium;
  const fed = run.foodGPerDay[run.foodGPerDay.length - 1] ?? 0;
  const planned = management.groups.reduce((sum, group) => sum + group.foodGPerDay, 0);
  const protein =
    planned > 0
      ? management.groups.reduce((sum, group) => sum + group.foodGPerDay * group.proteinShare, 0) / planned
      : USUAL_PROTEIN;
  const food = foodFor(capacity.carriesGNPerDay, protein);
  const spare = fed > 0 ? food / fed : Number.POSITIVE_INFINITY;
  return {
    id: "capacity",
    topic: "stocking",
    level: spare < CLEARLY_SHORT ? "alarm" : spare < 1.3 ? "watch" : "info",
    word: spare < CLEARLY_SHORT ? "SHORT" : spare < 1.3 ? "TIGHT" : "CAPACITY",
    text: sentence`At the end the filter carries about ${grams(food)} g of food a day (${Math.round(protein * 100)} % protein)${given(fed, spare)}. What you have fed it decides, not the number of animals.`,
    value: food,
    unit: "g food/day",
  };
}

/** How high and how long ammonia and nitrite stand. */
export function peakFindings(words: ScenarioFormatter, run: Run): Statement[] {
  const findings: Statement[] = [];
  const tan = track(run, "tan");
  const no2 = track(run, "no2");
  const tanPeak = peakOf(tan);
  const no2Peak = peakOf(no2);
  if (tanPeak.value > CLEARED_TAN) {
    const cleared = clearedAfterPeak(tan, CLEARED_TAN);
    findings.push({
      id: "ammonia-peak",
      topic: "cycle",
      level: "info",
      word: "AMMONIA",
      text: sentence`Ammonia stands highest on day ${Math.round(tanPeak.day)} at ${concentration("ammonia", tanPeak.value)}${cleared === null ? " and is still readable at the end." : ` and is first gone on day ${Math.round(cleared)}.`}`,
      value: tanPeak.value,
      unit: "g N/m3",
    });
  }
  if (no2Peak.value > CLEARED_NO2) {
    const ceiling = words.ceiling("nitrite") / words.scale("nitrite").perN;
    const off = above(no2, ceiling).days;
    const cleared = clearedAfterPeak(no2, CLEARED_NO2);
    findings.push({
      id: "nitrite-peak",
      topic: "cycle",
      level: "info",
      word: "NITRITE",
      text: sentence`Nitrite peaks on day ${Math.round(no2Peak.day)} at ${concentration("nitrite", no2Peak.value)}${off >= 1 ? sentence`; for ${lasting(off)} it is off the top of your kit` : ""}${cleared === null ? " and is still readable at the end." : `, and is gone on day ${Math.round(cleared)}.`}`,
      value: no2Peak.value,
      unit: "g N/m3",
    });
  }
  return findings;
}
