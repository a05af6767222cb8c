// Days to put in a diary: what to test, when to dose, when animals may come, when to clean.
import { ruleOf } from "../../models/nitrogen/events/all.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { TEST_DAYS } from "../../models/outage/aftermath.ts";
import type { ResolvedScenario } from "../build/build.ts";
import type { Readiness } from "../model/readiness.ts";
import type { RunResult } from "../result/result.ts";
import { padDue } from "./upkeep.ts";

/** Common practice, no published source. */
const LONGEST_WITH_A_PAD_DAYS = 28;

type Entry = RunResult["calendar"][number];

export function calendarOf(resolved: ResolvedScenario, run: Run, ready: Readiness, late: number | null): Entry[] {
  const entries: Entry[] = [
    {
      day: 0,
      title: "Start",
      detail: `Fill, check the alkalinity, start the pump and the heater${resolved.fishless ? ", give the first dose" : ""}.`,
    },
  ];
  const days = resolved.management.days;
  if (resolved.fishless) {
    const until = ready.day ?? days;
    for (let day = 3; day < Math.min(until, days); day += day < 14 ? 4 : 3)
      entries.push({
        day,
        title: "Test",
        detail: "Test ammonia and nitrite; once a week alkalinity and pH. Dose again only when both are cleared. No animals yet.",
      });
  }
  if (ready.day !== null) {
    const day = Math.ceil(late ?? ready.day);
    if (resolved.fishless)
      entries.push({
        day,
        title: "Earliest day for animals",
        detail:
          "If the dose test passes today: change 75 to 90 % of the water, match the temperature, and bring the first animals.",
      });
    if (resolved.fishless || run.aquarium.management.groups.length > 0)
      entries.push({
        day: day + 14,
        title: "More animals, if nothing was readable",
        detail: "Test first. A second lot no sooner than this.",
      });
  }
  for (const mark of run.marks)
    if (ruleOf(mark.kind)?.inCalendar ?? true)
      entries.push({ day: mark.day, title: mark.label.charAt(0).toUpperCase() + mark.label.slice(1), detail: "From your plan." });
  for (const mark of run.marks.filter((m) => m.kind === "power back"))
    for (const after of TEST_DAYS)
      entries.push({ day: mark.day + after, title: "Test after the outage", detail: "Ammonia and nitrite, before feeding." });
  for (const day of padDays(run, days))
    entries.push({
      day,
      title: "Rinse or change the prefilter pad",
      detail: "At least once a month (common practice); sooner when water spills past it.",
    });
  entries.push({
    day: 182,
    title: "Pull-the-plug test again",
    detail: "Twice a year, after any change of plumbing, and before holidays.",
  });
  return entries.sort((a, b) => a.day - b.day);
}

/** Days of new pads: those of the run; with none, as often as the dirt it gathers asks for, and once a month. */
function padDays(run: Run, days: number): number[] {
  const told = run.marks.filter((mark) => mark.kind === "change pad").map((mark) => mark.day);
  if (told.length > 0) return told;
  const due = padDue(run);
  if (!due) return [];
  const every = Math.max(1, Math.min(Math.round(due.everyDays), LONGEST_WITH_A_PAD_DAYS));
  return Array.from({ length: Math.floor(days / every) }, (_, i) => (i + 1) * every);
}
