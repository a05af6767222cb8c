// A stocking plan in sentences, as a calendar, and as changes of the scenario file.
import type { ResolvedScenario } from "../build/build.ts";
import { ScenarioFormatter } from "../build/scenario-formatter.ts";
import { USUAL_PROTEIN } from "../findings/ready.ts";
import { type Edit, type Plain, valueAt } from "../load/edits.ts";
import { foodFor } from "../model/readiness.ts";
import type { RunResult } from "../result/result.ts";
import * as format from "../text/format.ts";
import { concentration, formatMessage, number, sentence, volume } from "../text/message.ts";
import type { PlanRequest, StockingPlan } from "./plan.ts";
import { surer } from "./promise.ts";

export interface PlanWords {
  /** The promise of the plan, or the reason why there is none; the first sentence is the answer. */
  readonly sentences: readonly string[];
  readonly calendar: RunResult["calendar"];
  readonly lots: readonly {
    readonly day: number;
    readonly animals: string;
    readonly foodGPerDay: number;
    readonly allFoodGPerDay: number;
  }[];
  /** Whether all animals are placed and the check with fresh members passed. */
  readonly holds: boolean;
}

const percent = (share: number): string => `${Math.round(100 * share)} %`;

export function planWords(
  resolved: ResolvedScenario,
  { limits, confidence, slotDays }: PlanRequest,
  plan: StockingPlan,
): PlanWords {
  const words = new ScenarioFormatter(resolved);
  const { groups, days } = resolved.management;
  const sure = `in ${Math.round(100 * confidence)} tanks of 100`;
  const nitrite = formatMessage(sentence`${concentration("nitrite", limits.no2GPerM3)}`, words);
  const free = `${format.plain(limits.nh3GPerM3, 2)} mg/L`;
  const kept = plan.promised;
  let fed = 0;
  const lots = plan.lots.map(({ day, group, count }) => {
    const { name, foodGPerDay, count: all } = groups[group];
    const own = (foodGPerDay * count) / all;
    fed += own;
    return { day: format.dayOf(day), animals: `${count} ${name}`, foodGPerDay: own, allFoodGPerDay: fed };
  });
  const leftOver = plan.left.flatMap((count, group) => (count > 0 ? [`${count} ${groups[group].name}`] : []));
  const sentences: string[] = [];
  if (plan.readyDay !== null && !Number.isFinite(plan.readyDay))
    sentences.push(
      `No day can be promised: the filter is not ready within ${days} days ${sure}. Give it more days, more seed, or ask for less confidence.`,
    );
  else if (plan.lots.length === 0)
    sentences.push(
      `No animals can be promised a day: even one passes a limit too often. See what the limits ask: nitrite ${nitrite}, un-ionised ammonia ${free}.`,
    );
  else {
    const last = lots[lots.length - 1].day;
    sentences.push(
      leftOver.length > 0
        ? `Until day ${last} there is room for ${lots.map(({ animals }) => animals).join(", ")}; ${leftOver.join(" and ")} found no day within ${days} days.`
        : `All animals are in by day ${last}, the first on day ${lots[0].day}. Nitrite then stays below ${nitrite} and un-ionised ammonia below ${free} ${sure}.`,
    );
    sentences.push(
      kept
        ? `Tried again with other inputs and with meals: the limits were kept in ${percent(plan.fresh.share)} of the runs${plan.putOff > 0 ? `, after the calendar had been put off by ${plan.putOff * slotDays} days` : ""}.`
        : `It does not hold: tried again with other inputs and with meals, the limits were kept in ${percent(plan.fresh.share)} of the runs, and a promise of ${percent(confidence)} wants ${percent(surer(confidence))} there. Ask for less confidence, or stock more slowly.`,
    );
    const protein = resolved.food?.proteinShare ?? USUAL_PROTEIN;
    const [low, likely] = plan.handles.map((gN) => formatMessage(sentence`${number(foodFor(gN, protein))} g`, words));
    sentences.push(
      `At the end the filter can handle ${likely} of food a day, in nine tanks of ten at least ${low}; the plan feeds ${format.plain(fed, 2)} g.`,
    );
  }
  const { leastMedia } = plan;
  if (kept && leastMedia !== null) {
    const m3 = resolved.rig.towers.reduce((sum, { lengthM, widthM, mediaDepthM }) => sum + lengthM * widthM * mediaDepthM, 0);
    const size = (share: number): string => formatMessage(sentence`${volume(m3 * share)}`, words);
    sentences.push(
      leastMedia > 0.95
        ? `The calendar needs all ${size(1)} of media in the tower.`
        : leastMedia <= 1 / 32
          ? `The calendar holds with ${size(leastMedia)} of media in the tower and probably with less: other surfaces do the work. Built: ${size(1)}.`
          : `The least media in the tower with which the same calendar holds is about ${size(leastMedia)}; built: ${size(1)}.`,
    );
  }
  return {
    sentences,
    calendar: calendarOf(resolved, plan, lots),
    lots,
    holds: kept && plan.lots.length > 0 && leftOver.length === 0,
  };
}

function calendarOf(resolved: ResolvedScenario, plan: StockingPlan, lots: PlanWords["lots"]): RunResult["calendar"] {
  if (lots.length === 0) return [];
  const entries: { day: number; title: string; detail: string }[] = [];
  const first = lots[0].day;
  if (plan.readyDay !== null) {
    entries.push({
      day: 0,
      title: "Start",
      detail: "Fill the system, check the alkalinity, start the pump and the heater, dose ammonia.",
    });
    for (let day = 3; day < first - 1; day += 3)
      entries.push({
        day,
        title: "Test and dose",
        detail:
          "Test ammonia and nitrite. Dose only when both are low enough, as under cycle. Once a week test alkalinity and pH.",
      });
    entries.push({
      day: first - 1,
      title: `Last test: ${resolved.ask.words}`,
      detail:
        "It must be gone within the time asked. If it is not, put the animals off by a week and run the plan again with your readings.",
    });
  }
  if (plan.change)
    entries.push({
      day: format.dayOf(plan.change.day),
      title: `Change ${percent(plan.change.share)} of the water`,
      detail: "Match the temperature. Treat chlorine and chloramine before the water goes in.",
    });
  for (const { day, animals, foodGPerDay } of lots)
    entries.push({
      day,
      title: `Put in ${animals}`,
      detail: `Feed ${format.plain(foodGPerDay, 2)} g a day for them. Test ammonia and nitrite before they go in; if either shows, wait.`,
    });
  for (const day of new Set(lots.map((lot) => lot.day)))
    for (const after of [2, 4, 7])
      entries.push({
        day: day + after,
        title: "Test ammonia and nitrite",
        detail: "Write the readings down: sumpwright fit learns from them.",
      });
  const seen = new Set<string>();
  return entries
    .sort((a, b) => a.day - b.day)
    .filter(({ day, title }) => {
      const key = `${day} ${title}`;
      if (seen.has(key)) return false;
      seen.add(key);
      return true;
    });
}

/** The scenario with the plan: its lots instead of the stock, the water change, and no doses after the animals arrive. */
export function planEdits(data: unknown, resolved: ResolvedScenario, plan: StockingPlan): readonly Edit[] {
  if (plan.lots.length === 0) return [];
  const { groups } = resolved.management;
  const written = valueAt(data, ["stock"]);
  const list = (Array.isArray(written) ? written : [written]) as readonly Readonly<Record<string, Plain>>[];
  const first = Math.min(...plan.lots.map(({ day }) => day));
  const stock = plan.lots.map(({ day, group, count }, n): Plain => {
    const { arrives: _, leaves: __, ...own } = list[group];
    const food = (groups[group].foodGPerDay * count) / groups[group].count;
    return {
      ...own,
      name: `${groups[group].name}, lot ${n + 1}`,
      count,
      food: `${Number(food.toPrecision(4))} g/day`,
      arrives: `day ${format.dayOf(day)}`,
    };
  });
  const timeline = valueAt(data, ["timeline"]);
  const next = Array.isArray(timeline) ? timeline.length : timeline === undefined ? 0 : 1;
  return [
    { do: "set", path: ["stock"], value: stock },
    ...(plan.change
      ? [
          {
            do: "insert" as const,
            path: ["timeline"],
            index: next,
            value: { at: `day ${format.dayOf(plan.change.day)} 12:00`, do: "water change", share: percent(plan.change.share) },
          },
        ]
      : []),
    ...(plan.readyDay !== null && valueAt(data, ["cycle"]) !== undefined
      ? [{ do: "set" as const, path: ["cycle", "until"], value: `day ${Math.max(0, format.dayOf(first) - 1)}` }]
      : []),
  ];
}
