// "Ready on about day 34 (nine of ten runs: day 25 to 44), for up to 7 g of food a day." When animals may come, and how to keep the filter fed until then.
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { alkalinityGone, clearedAfterPeak, daysAbove, firstPeakOf, peakOf, track } from "../analysis/series.ts";
import type { ScenarioFormatter } from "../build/scenario-formatter.ts";
import type { Spread } from "../model/likelihood.ts";
import { CLEARED_NO2, CLEARED_TAN, foodFor, type Readiness } from "../model/readiness.ts";
import type { Statement } from "../result/statement.ts";
import { count } from "../text/format.ts";
import { capitalised, concentration, day, lasting, type Message, number, type Quantity, sentence } from "../text/message.ts";
import { between } from "./ranges.ts";

export const USUAL_PROTEIN = 0.42;
/** Ratio of capacity to planned food from which there is room for more. */
const ROOM_FROM = 1.3;
/** Below this ratio of capacity to food a filter is too small; between it and one, readings stay at the first step of a kit. */
const CLEARLY_SHORT = 0.8;
/** Number of days without food before the animals arrive that is reported. */
const STARVED_DAYS = 5;

export const grams = (g: number): Quantity => number(g, 2);

/** Capacity of the filter on the relevant day, as ammonia [g N/d]: see `Answers.capacity`. */
export interface FilterCapacity {
  readonly carriesGNPerDay: number;
  /** On day 0, with the inoculum; null when there was none. */
  readonly atStartGNPerDay: number | null;
  /** Days without food after which the capacity has halved; null when longer than simulated. */
  readonly halvesAfterDays: number | null;
}

/** Findings for a filter run in without animals. */
export function cycleFindings(
  words: ScenarioFormatter,
  run: Run,
  ready: Readiness,
  handling: FilterCapacity,
  spread: Spread | null,
): Statement[] {
  const { resolved } = words;
  const protein = resolved.food?.proteinShare ?? USUAL_PROTEIN;
  const volume = run.aquarium.exchange.volumesM3.reduce((a, b) => a + b, 0);
  const dosed = foodFor(resolved.ask.tanGPerM3 * volume, protein);
  const carries = foodFor(handling.carriesGNPerDay, protein);
  const last = run.aquarium.management.days;
  const within = count(Math.round(resolved.ask.withinDays * 24), "hour");
  const test = sentence`${resolved.ask.words} within ${within}${resolved.ask.times > 1 ? `, ${TIMES[resolved.ask.times] ?? `${resolved.ask.times} times`} in a row` : ""}`;
  const gone = alkalinityGone(run);
  const base = { id: "ready", topic: "cycle", likelihood: "planned" } as const;
  if (ready.day === null) {
    const why = gone === null ? "" : sentence` Alkalinity is used up on ${day(gone)}, and without it the bacteria stop.`;
    return [
      {
        ...base,
        consequence: "harm",
        word: "NOT YET",
        text: sentence`Not ready within ${count(last, "day")}: it never clears ${test}.${why} At the end it can handle about ${grams(carries)} g of food a day.`,
        value: carries,
        unit: "g food/day",
        brief:
          gone === null
            ? sentence`The filter is not ready within ${count(last, "day")}.`
            : sentence`The filter stops when its alkalinity is used up on ${day(gone)}; water with alkalinity (KH) starts it again.`,
        advice: gone === null ? "Keep testing every few days. Check alkalinity and temperature before you add anything." : RESCUE,
      },
    ];
  }
  // No more than the test has shown, and no more than keeps the readings clear: a dose is cleared at high ammonia, food
  // must be processed at low ammonia.
  const food = Math.min(carries, dosed);
  const wanted = resolved.food?.gPerDay ?? null;
  if (gone !== null && gone > ready.day)
    return [
      {
        ...base,
        consequence: "harm",
        word: "STALLS",
        text: sentence`It passes the test on ${day(ready.day)}, but alkalinity is used up on ${day(gone)} and the filter stops working. Do not count it as ready.`,
        value: ready.day,
        unit: "day",
        brief: sentence`The filter stops when its alkalinity is used up on ${day(gone)}; water with alkalinity (KH) starts it again.`,
        advice: RESCUE,
      },
    ];
  const atOnce =
    handling.atStartGNPerDay !== null && ready.day > 1
      ? sentence` From the start it can handle about ${grams(foodFor(handling.atStartGNPerDay, protein))} g a day.`
      : "";
  const short = wanted !== null && food < wanted;
  return [
    {
      ...base,
      consequence: short ? "harm" : "none",
      word: "READY",
      text: sentence`${capitalised(readyOn(ready.day, resolved.ask, spread, last))}, for up to ${grams(food)} g of food a day (${Math.round(protein * 100)} % protein).${planned(wanted, food)}${atOnce}`,
      value: ready.day,
      unit: "day",
      brief: sentence`The filter is ${readyOn(ready.day, resolved.ask, spread, last)}, for up to ${grams(food)} g of food a day.`,
      advice:
        carries < dosed
          ? sentence`Ready means that it clears ${test}. That dose equals ${grams(dosed)} g of food, but bacteria work more slowly at the near-zero levels fish need, so we give the lower figure. The bacteria grow into more food within one to two weeks.`
          : sentence`Ready means that it clears ${test}. That dose equals ${grams(dosed)} g of food. The bacteria grow into more food within one to two weeks.`,
    },
    ...keepFed(run, handling),
  ];
}

const TIMES: Readonly<Record<number, string>> = { 2: "twice", 3: "three times" };
const RESCUE =
  "Stop dosing. Change half of the water for water with alkalinity (KH), or add bicarbonate in small steps; it starts again within days.";

function readyOn(
  likely: number,
  ask: { readonly withinDays: number; readonly times: number },
  spread: Spread | null,
  last: number,
): Message {
  if (likely <= ask.withinDays + ask.times) return sentence`ready from the start`;
  if (spread === null) return sentence`ready on about ${day(likely)}`;
  const [early, late] = spread.ready;
  if (late === null)
    return sentence`ready on about ${day(likely)}, ${early === null ? "" : sentence`from ${day(early)} at best, `}but in one run of ten not within ${count(last, "day")}`;
  if (early === null || Math.floor(late) - Math.floor(early) < 1) return sentence`ready on about ${day(likely)}`;
  return sentence`ready on about ${day(likely)} (nine runs in ten: between ${day(early)} and ${day(late)})`;
}

function planned(wanted: number | null, food: number): Message | string {
  if (wanted === null) return "";
  const share = Math.round((100 * wanted) / food);
  return food >= wanted
    ? sentence` Your plan of ${grams(wanted)} g a day is ${share} % of that.`
    : sentence` Your plan of ${grams(wanted)} g a day is more: start with ${grams(food)} g.`;
}

/** Between readiness and the arrival of the animals the bacteria starve unless they are fed. */
function keepFed(run: Run, { halvesAfterDays }: FilterCapacity): Statement[] {
  if (run.aquarium.management.groups.length > 0 || halvesAfterDays === null) return [];
  return [
    {
      id: "keep-fed",
      topic: "cycle",
      consequence: "nuisance",
      likelihood: "planned",
      word: "KEEP IT FED",
      text: sentence`Keep feeding the bacteria until the animals come: without food the filter can handle only half as much after ${number(halvesAfterDays)} days.`,
      value: halvesAfterDays,
      unit: "d",
      advice: `Give half the dose every other day, as this run does, and stop a day before the animals come. Write the day they arrive under stock to simulate it.`,
    },
  ];
}

/** First day from which neither ammonia nor nitrite is measurable, up to a day; null when they are measurable until then. */
export function clearSince(run: Run, from: number, until: number): number | null {
  const [tan, no2] = [track(run, "tan"), track(run, "no2")];
  let since: number | null = null;
  run.days.forEach((at, n) => {
    if (at < from || at > until) return;
    const clear = tan.values[n] < CLEARED_TAN && no2.values[n] < CLEARED_NO2;
    since = clear ? (since ?? at) : null;
  });
  return since;
}

export interface Arrival {
  /** Day on which the first animals are in the water. */
  readonly day: number;
  readonly foodGPerDay: number;
  readonly proteinShare: number;
  /** Up to the first incident after it, or the end. */
  readonly until: number;
}

/** For a tank with animals: whether the filter is ready when they arrive. */
export function stockedFinding(run: Run, arrival: Arrival, carriesGNPerDay: number): Statement {
  const food = foodFor(carriesGNPerDay, arrival.proteinShare);
  const base = { id: "ready", topic: "cycle", likelihood: "planned", value: food, unit: "g food/day" } as const;
  const needs = arrival.foodGPerDay;
  const handles = sentence`the filter can handle about ${grams(food)} g of food a day`;
  const enough = food >= needs;
  if (arrival.day > 0) {
    const fed = run.marks.findLast(({ kind, day: on }) => kind === "dose" && on < arrival.day)?.day ?? null;
    const starved = fed !== null && arrival.day - fed > STARVED_DAYS;
    return {
      ...base,
      consequence: enough ? "none" : food < CLEARLY_SHORT * needs ? "harm" : "nuisance",
      word: enough ? "READY" : "NOT READY",
      brief: enough
        ? sentence`The filter is ready for the first animals on ${day(arrival.day)}.`
        : sentence`The filter is not ready for the first animals on ${day(arrival.day)}: they get ${grams(needs)} g of food a day, and it can handle about ${grams(food)} g.`,
      text: enough
        ? sentence`Ready when the first animals come on ${day(arrival.day)}: ${handles}, and they get ${grams(needs)} g.`
        : sentence`Not ready when the first animals come on ${day(arrival.day)}: ${handles}, but they get ${grams(needs)} g.${starved ? sentence` Nothing has fed the bacteria since ${day(fed!)}.` : ""}`,
      ...(enough
        ? {}
        : {
            advice: starved
              ? "Keep dosing ammonia until the day before the animals come; write cycle: in place of the single dose to simulate it."
              : "Wait and keep dosing ammonia until the filter clears it within a day, or start with fewer animals.",
          }),
    };
  }
  const since = clearSince(run, 0, arrival.until);
  if (enough || since === null || since <= 1)
    return {
      ...base,
      consequence: enough ? "none" : "harm",
      word: enough ? "READY" : "NOT READY",
      brief: enough
        ? sentence`The filter can handle the animals' food from the start.`
        : since === null
          ? sentence`The filter is not ready for the animals that are in it.`
          : sentence`At the start the filter can handle less than the animals' food, but nothing shows on a kit.`,
      text: enough
        ? sentence`Ready from the start: ${handles}, and the animals get ${grams(needs)} g.`
        : since === null
          ? sentence`The filter is not ready for the animals that are in it: ammonia or nitrite shows until ${day(arrival.until)}.`
          : sentence`At the start ${handles}, and the animals get ${grams(needs)} g; even so nothing shows on a kit.`,
    };
  return {
    ...base,
    consequence: "harm",
    word: "FISH-IN",
    brief: sentence`The filter takes until ${day(since)} to mature, with the animals in it.`,
    text: sentence`The filter matures with the animals in it: ammonia or nitrite shows until ${day(since)}. At the start ${handles}, and they get ${grams(needs)} g.`,
    advice:
      "Test every day, feed little, and change water whenever ammonia or nitrite shows. Changing water does not slow the bacteria down: they sit on surfaces.",
  };
}

/** Capacity of a running filter at the end, compared with the food. */
export function capacityFinding(run: Run, carriesGNPerDay: number, spread: Spread | null): Statement {
  const { groups } = run.aquarium.management;
  const fed = run.foodGPerDay[run.foodGPerDay.length - 1] ?? 0;
  const plannedFood = groups.reduce((sum, group) => sum + group.foodGPerDay, 0);
  const protein =
    plannedFood > 0
      ? groups.reduce((sum, group) => sum + group.foodGPerDay * group.proteinShare, 0) / plannedFood
      : USUAL_PROTEIN;
  const food = foodFor(carriesGNPerDay, protein);
  const sureFood = foodFor(spread?.carries[0] ?? carriesGNPerDay, protein);
  const spare = fed > 0 ? food / fed : Number.POSITIVE_INFINITY;
  const range =
    spread === null
      ? ""
      : sentence` (nine runs in ten: ${grams(foodFor(spread.carries[0], protein))} to ${grams(foodFor(spread.carries[1], protein))} g)`;
  const against =
    fed <= 0
      ? "."
      : spare < 1
        ? sentence`. You feed ${grams(fed)} g, ${spare < CLEARLY_SHORT ? "more" : "slightly more"} than it can handle.`
        : sentence`. You feed ${grams(fed)} g${
            sureFood < fed
              ? ", more than it can handle in the worst of these runs"
              : spare < ROOM_FROM
                ? ", which leaves little room for more"
                : ""
          }.`;
  return {
    id: "capacity",
    topic: "stocking",
    consequence: spare < CLEARLY_SHORT ? "harm" : "none",
    likelihood: "planned",
    word: spare < CLEARLY_SHORT ? "TOO MUCH" : spare < ROOM_FROM || sureFood < fed ? "FULL" : "ROOM",
    text: sentence`By the end the filter can handle about ${grams(food)} g of food a day${range}${against}`,
    value: food,
    unit: "g food/day",
    brief:
      fed <= 0
        ? sentence`By the end the filter can handle about ${grams(food)} g of food a day.`
        : sentence`By the end the filter can handle about ${grams(food)} g of food a day; you feed ${grams(fed)} g.`,
    advice:
      "How much you feed matters, not how many animals you have. A filter grows into a step in food within one to two weeks.",
  };
}

/** Peak and duration of ammonia and nitrite in a run without animals. */
export function peakFindings(words: ScenarioFormatter, run: Run, spread: Spread | null): Statement[] {
  const whole = spread?.highest[0] ?? null;
  const findings: Statement[] = [];
  const tan = track(run, "tan");
  const no2 = track(run, "no2");
  const [tanPeak, no2Peak] = [firstPeakOf(tan), peakOf(no2)];
  const ends = (cleared: number | null): Message =>
    cleared === null ? sentence` and still shows at the end` : sentence` and is first gone on ${day(cleared)}`;
  const range = (of: readonly [number, number] | undefined, species: "ammonia" | "nitrite") =>
    of === undefined ? "" : between(species, of);
  const base = { topic: "cycle", consequence: "none", likelihood: "planned", unit: "g N/m3" } as const;
  if (tanPeak.value > CLEARED_TAN)
    findings.push({
      ...base,
      id: "ammonia-peak",
      word: "AMMONIA",
      text: sentence`Ammonia rises to ${concentration("ammonia", tanPeak.value)}${range(whole?.tan, "ammonia")}, first on ${day(tanPeak.day)},${ends(clearedAfterPeak(tan, CLEARED_TAN))}.`,
      value: tanPeak.value,
    });
  if (no2Peak.value > CLEARED_NO2) {
    const ceiling = words.ceiling("nitrite") / words.scale("nitrite").perN;
    const off = daysAbove(no2, ceiling);
    findings.push({
      ...base,
      id: "nitrite-peak",
      word: "NITRITE",
      text: sentence`Nitrite is highest on ${day(no2Peak.day)}, at ${concentration("nitrite", no2Peak.value)}${range(whole?.no2, "nitrite")},${ends(clearedAfterPeak(no2, CLEARED_NO2))}.${off >= 1 ? sentence` For ${lasting(off)} it is higher than your kit can show.` : ""}`,
      value: no2Peak.value,
      ...(off >= 1
        ? {
            advice:
              "Do not add ammonia while nitrite is off the scale. If it stays there for two weeks, change half of the water.",
          }
        : {}),
    });
  }
  return findings;
}
