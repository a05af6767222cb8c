// The planned events of a scenario: those of its timeline with all repeats, and those of its fishless cycle.

import type { ManagementEvent } from "../../models/nitrogen/events/all.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import { COMMON } from "../text/reasons.ts";
import { buildEvent } from "../timeline/all.ts";
import { doseOf, levelText, onlyBelow, substanceOf } from "../timeline/dose.ts";
import type { EventSetting } from "../timeline/event-format.ts";
import { padChangeS } from "./filter.ts";

/** Days of all repeats, up to the end of the run. */
function moments(from: number, everyS: number | undefined, until: number | undefined, days: number): number[] {
  if (everyS === undefined) return from <= days ? [from] : [];
  const every = everyS / SECONDS_PER_DAY;
  const last = Math.min(until ?? days, days);
  const count = Math.max(0, Math.floor((last - from) / every + 1e-9) + 1);
  return Array.from({ length: count }, (_, i) => from + i * every);
}

/** The dosing of a fishless cycle, or null when there is none. */
export function cycleOf(s: Scenario): Exclude<Scenario["cycle"], "none" | undefined> | null {
  if (s.cycle === "none") return null;
  if (s.cycle) return s.cycle;
  if (s.stock.length > 0 || s.timeline.length > 0 || s.seed === "mature") return null;
  return {
    dose: { gPerM3: 3, basis: "NH3" },
    bottle: "ammonia solution",
    every: SECONDS_PER_DAY,
    "only below ammonia": { gPerM3: 0.25, basis: "NH3" },
    "only below nitrite": { gPerM3: 1, basis: "NO2" },
    always: false,
    from: 0,
  };
}

/**
 * A fishless cycle ends with a large water change, so that the animals enter clean water (common practice, no published
 * source).
 */
const CHANGE_BEFORE_ANIMALS = 0.8;
const LAST_DOSE_BEFORE_DAYS = 1;
const CHANGE_BEFORE_DAYS = 0.5;

/** Whether the plan already changes much of the water in the days before the animals arrive. */
const largeChangeBefore = ({ timeline }: Scenario, arrival: number): boolean =>
  timeline.some((e) => e.do === "water change" && e.share >= 0.5 && e.at <= arrival && e.at >= arrival - 3);

/** All planned events by day; events of one day in the order written. */
export function planEvents(scenario: Scenario, setting: EventSetting): readonly ManagementEvent[] {
  const { nitrogen, notes, waterM3 } = setting;
  const cycle = cycleOf(scenario);
  const events: ManagementEvent[] = [];
  if (cycle) {
    const limits = cycle.always ? null : onlyBelow(cycle, nitrogen);
    const body = doseOf(substanceOf(cycle.bottle), nitrogen("ammonia", cycle.dose), undefined, waterM3, limits);
    const label = `ammonia to ${levelText(cycle.dose)}${limits ? " if cleared" : ""}`;
    // Days or doses that the plan states are used as written. Otherwise the keeper's usual rules apply, and the arrival
    // of animals ends the dosing.
    const routine = !cycle.always && cycle.until === undefined;
    const arrival = Math.min(...scenario.stock.map(({ arrives }) => arrives).filter((day) => day > cycle.from));
    const until = routine && Number.isFinite(arrival) ? arrival - LAST_DOSE_BEFORE_DAYS : cycle.until;
    for (const day of moments(cycle.from, cycle.every, until, scenario.days))
      events.push({ day, label, ...body, ...(routine ? { routine } : {}) });
    if (routine && Number.isFinite(arrival) && !largeChangeBefore(scenario, arrival)) {
      const share = notes.or(
        undefined,
        "cycle.water change",
        CHANGE_BEFORE_ANIMALS,
        `${format.share(CHANGE_BEFORE_ANIMALS)} the day before the first animals`,
        COMMON,
      );
      const tap = setting.tap(undefined, "tap");
      events.push({
        day: arrival - CHANGE_BEFORE_DAYS,
        label: `${format.share(share)} water change before the animals`,
        kind: "water change",
        share,
        tap,
      });
    }
    if (!scenario.cycle)
      notes.or(
        undefined,
        "cycle",
        cycle,
        `${label}, looked at daily`,
        "a new tank with neither animals nor a timeline is run in without animals",
      );
  }
  for (const [i, e] of scenario.timeline.entries()) {
    const { body, label } = buildEvent(e, setting, `timeline[${i + 1}]`);
    for (const day of moments(e.at, e.every, e.until, scenario.days)) events.push({ day, label: e.label ?? label, ...body });
  }
  // Pads collect solids only when animals are fed.
  const every = padChangeS(scenario);
  const own = scenario.timeline.some((e) => e.do === "change pad" || e.do === "pad clogs");
  if (every !== null && !own && scenario.stock.length > 0)
    for (const day of moments(every / SECONDS_PER_DAY, every, undefined, scenario.days))
      events.push({ day, label: "new pad", kind: "change pad" });
  return events.sort((a, b) => a.day - b.day);
}
