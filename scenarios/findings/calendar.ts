// Calendar entries: when to test, to dose, to add animals, to clean.
import { ruleOf } from "../../models/nitrogen/events/all.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import type { ResolvedScenario } from "../build/build.ts";
import type { Readiness } from "../model/readiness.ts";
import type { RunResult } from "../result/result.ts";
import { count, dayOf } from "../text/format.ts";
import { capital } from "../text/message.ts";
import { lossOfAnimals } from "./loss.ts";
import { padDue } from "./upkeep.ts";

/** Longest interval between pad changes [d] (common practice, no published source). */
const LONGEST_WITH_A_PAD_DAYS = 28;

/** Between two lots of animals (common practice, no published source). */
const BETWEEN_LOTS_DAYS = 14;

type Entry = RunResult["calendar"][number];

const DETAILS: Readonly<Record<string, string>> = {
  dose: "Test first. Dose only if ammonia and nitrite both read zero.",
  "water change": "Match the temperature. Treat chlorine and chloramine before the water goes in.",
  stock: "Test ammonia and nitrite before they go in, and every day of the first week.",
};

/** Whole days, in order; an entry belongs to the day that contains its time. */
export function calendarOf(resolved: ResolvedScenario, run: Run, ready: Readiness): Entry[] {
  const entries: Entry[] = [];
  const add = (day: number, title: string, detail: string): void => {
    const whole = dayOf(day);
    if (!entries.some((entry) => entry.day === whole && entry.title === title)) entries.push({ day: whole, title, detail });
  };
  const { days, groups } = resolved.management;
  const arrivals = groups.map(({ arrivesDay }) => arrivesDay).filter((day) => day > 0 && day <= days);
  add(0, "Start", "Fill the system, check the alkalinity, start the pump and the heater.");
  if (resolved.fishless) {
    const until = Math.min(ready.day ?? days, days);
    for (let day = 3; day < until; day += day < 14 ? 4 : 3)
      add(day, "Test", "Test ammonia and nitrite, and once a week alkalinity and pH. No animals yet.");
    if (ready.day !== null) {
      const within = count(Math.round(resolved.ask.withinDays * 24), "hour");
      add(
        ready.day,
        "Likely ready",
        `Ready once ${resolved.ask.words} is gone within ${within}${resolved.ask.times > 1 ? `, ${resolved.ask.times} times in a row` : ""}. Keep the bacteria fed until the animals come: half a dose every other day.`,
      );
      if (arrivals.length === 0)
        add(
          ready.day + 1,
          "First animals from today, if the test was passed",
          "The day before, change about 80 % of the water. Match the temperature.",
        );
    }
  }
  for (const mark of run.marks)
    if (mark.kind !== "power back" && (ruleOf(mark.kind)?.inCalendar ?? true))
      add(mark.day, capital(mark.label), DETAILS[mark.kind] ?? "From your plan.");
  const lost = lossOfAnimals(run)?.day ?? Number.POSITIVE_INFINITY;
  for (const day of arrivals.filter((on) => on + BETWEEN_LOTS_DAYS < lost))
    add(day + BETWEEN_LOTS_DAYS, "More animals from today, if nothing shows", "Test first. Wait two weeks between lots.");
  for (const day of padDays(run, days))
    add(day, "Rinse or change the filter pad", "At least once a month (common practice); sooner when water spills past it.");
  add(182, "Pull-the-plug test again", "Twice a year, after any change to the plumbing, and before holidays.");
  return entries.sort((a, b) => a.day - b.day);
}

/** Days of pad changes: those of the run; without any, at the interval that its solids require, and at least once a month. */
function padDays(run: Run, days: number): number[] {
  const planned = run.marks.filter((mark) => mark.kind === "change pad").map((mark) => mark.day);
  if (planned.length > 0) return planned;
  const due = padDue(run);
  if (!due) return [];
  const every = Math.max(1, Math.min(Math.round(due.everyDays), LONGEST_WITH_A_PAD_DAYS));
  return Array.from({ length: Math.floor(days / every) }, (_, i) => (i + 1) * every);
}
