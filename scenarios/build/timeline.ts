// The planned events: repeats are expanded, and levels on the kit's scale are converted to nitrogen.

import type { EventBody, ManagementEvent } from "../../models/nitrogen/events/all.ts";
import type { DoseSubstance } from "../../models/nitrogen/management.ts";
import type { PowerCut } from "../../models/nitrogen/operation/outage-record.ts";
import type { Display } from "../../models/rig.ts";
import { EQ_PER_M3_PER_DKH, SODIUM_BICARBONATE_G_PER_MOL } from "../../models/water/molar-mass.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import type { Concentration } from "../schema/fields.ts";
import type { Scenario } from "../schema/schema.ts";
import * as format from "../text/format.ts";
import { COMMON } from "../text/reasons.ts";
import { padChangeS } from "./filter.ts";
import { airStoneTransferPerDay } from "./life.ts";
import type { Notes } from "./notes.ts";
import { type Scales, tapWater } from "./water.ts";

type EventText = Scenario["timeline"][number];
type Outage = Omit<Scenario["power cut"], "times" | "pause">;

/** A concentration far above any real one [g/m³]; means "no limit" in a pair of limits. */
const NO_LIMIT = 1e6;

const levelText = ({ gPerM3, basis }: Concentration): string => `${format.plain(gPerM3)} mg/L${basis ? ` as ${basis}` : ""}`;

export interface Around {
  readonly scenario: Scenario;
  readonly scales: Scales;
  /** Water in the whole system, for doses given as a rise in concentration [m³]. */
  readonly waterM3: number;
  readonly display: Display;
  readonly notes: Notes;
}

/** The outage of the timeline, or the default one. `key` is its place in the file. */
export function outageOf(o: Outage, key: string, scenario: Scenario, notes: Notes): PowerCut {
  const hours = (s: number | undefined): number | null => (s === undefined ? null : s / 3600);
  const room =
    o["room temperature"] === undefined && o["room humidity"] === undefined
      ? null
      : { temperatureC: o["room temperature"] ?? 18, relativeHumidity: o["room humidity"] ?? 0.5 };
  return {
    kind: "power cut",
    hours: o.for / 3600,
    pumpStuckHours: hours(o["pump stuck"]) ?? 0,
    everythingOff: !o["pump only"],
    batteryAir: o["battery air"],
    stirEveryHours: hours(o["stir every"]),
    mistEveryHours: hours(o["mist every"]),
    room,
    towerOpen: o["tower open"],
    fedMeanwhile: o["fed meanwhile"],
    closedFilter:
      scenario["closed filter"] === "none"
        ? "restarted"
        : notes.or(o["closed filter"], `${key}.closed filter`, "restarted", "restarted", "plugged in, it starts by itself"),
  };
}

interface Limits {
  readonly "only below ammonia"?: Concentration | undefined;
  readonly "only below nitrite"?: Concentration | undefined;
}

function onlyBelow(limits: Limits, scales: Scales): { tan: number; no2: number } | null {
  const [ammonia, nitrite] = [limits["only below ammonia"], limits["only below nitrite"]];
  if (!ammonia && !nitrite) return null;
  return {
    tan: ammonia ? scales.nitrogen("ammonia", ammonia) : NO_LIMIT,
    no2: nitrite ? scales.nitrogen("nitrite", nitrite) : NO_LIMIT,
  };
}

function dose(
  substance: DoseSubstance,
  to: number | undefined,
  rise: number | undefined,
  waterM3: number,
  limits: { tan: number; no2: number } | null,
): EventBody {
  return { kind: "dose", substance, amount: rise === undefined ? null : rise * waterM3, toLevel: to ?? null, onlyBelow: limits };
}

const ofBottle = (bottle: "ammonium salt" | "ammonia solution"): DoseSubstance =>
  bottle === "ammonium salt" ? "ammonium" : "ammonia";

/** The event itself, and its label. */
function bodyOf(
  e: EventText,
  at: string,
  { scenario, scales, waterM3, display, notes }: Around,
): { body: EventBody; label: string } {
  switch (e.do) {
    case "dose ammonia":
    case "dose nitrite": {
      const species = e.do === "dose ammonia" ? "ammonia" : "nitrite";
      const n = (c: Concentration | undefined): number | undefined => c && scales.nitrogen(species, c);
      return {
        body: dose(e.do === "dose ammonia" ? ofBottle(e.bottle) : "nitrite", n(e.to), n(e.add), waterM3, onlyBelow(e, scales)),
        label: e.to ? `${species} to ${levelText(e.to)}` : `${species} + ${levelText(e.add!)}`,
      };
    }
    case "add bicarbonate": {
      const rise = e.mass === undefined ? e.add : e.mass / SODIUM_BICARBONATE_G_PER_MOL / waterM3;
      return {
        body: dose("bicarbonate", e.to, rise, waterM3, null),
        label:
          e.to !== undefined
            ? `KH to ${format.plain(e.to / EQ_PER_M3_PER_DKH)} dKH`
            : `KH + ${format.plain(rise! / EQ_PER_M3_PER_DKH)} dKH`,
      };
    }
    case "add chloride":
      return {
        body: dose("chloride", e.to?.gPerM3, e.add?.gPerM3, waterM3, null),
        label: `chloride ${e.to ? `to ${levelText(e.to)}` : `+ ${levelText(e.add!)}`}`,
      };
    case "feed":
      return {
        body: { kind: "feed", group: e.group ?? null, factor: e.plan, extraGPerDay: e.extra },
        label:
          e.plan === 0 && e.extra === 0
            ? "no food"
            : `food at ${format.share(e.plan)}${e.extra > 0 ? ` and ${format.plain(e.extra)} g/day too much` : ""}`,
      };
    case "water change":
      return {
        body: {
          kind: "water change",
          share: e.share,
          tap: tapWater(e.tap ?? scenario.tap, e.tap ? `${at}.tap` : "tap", scenario.water, scales, notes),
        },
        label: `${format.share(e.share)} water change`,
      };
    case "rinse media":
      return { body: { kind: "rinse media", where: e.tower ?? null, lostShare: e.lost }, label: "media rinsed" };
    case "replace media":
      return {
        body: { kind: "replace media", where: e.tower ?? null, share: e.share },
        label: `${format.share(e.share)} of the media replaced`,
      };
    case "medicine":
      return {
        body: {
          kind: "medicine",
          aobLost: e["ammonia oxidisers lost"],
          nobLost: e["nitrite oxidisers lost"],
          inhibition: e.slows,
          lastsDays: e.for / SECONDS_PER_DAY,
        },
        label: "medicine",
      };
    case "death":
      return {
        body: { kind: "death", massG: e.mass, foundDay: e.found ?? null },
        label: `a body of ${format.mass(e.mass)[notes.units]}`,
      };
    case "power cut":
      return {
        body: outageOf(e, at, scenario, notes),
        label: `${e["pump only"] ? "pump off" : "power cut"}, ${format.duration(e.for)}`,
      };
    case "wetting":
      return {
        body: { kind: "wetting", tower: e.tower ?? null, wettedShare: e.wetted ?? null },
        label: e.wetted === undefined ? "water spread as built" : `${format.share(e.wetted)} of the media wetted`,
      };
    case "pad clogs":
      return { body: { kind: "pad clogs", blindedShare: e.blinded }, label: `pad ${format.share(e.blinded)} clogged` };
    case "change pad":
      return { body: { kind: "change pad" }, label: "new pad" };
    case "siphon sediment":
      return { body: { kind: "siphon sediment" }, label: "sediment siphoned" };
    case "lid":
      return { body: { kind: "lid", state: e.state }, label: `tower lid ${e.state}` };
    case "air stone":
      return {
        body: { kind: "air stone", transferPerDay: airStoneTransferPerDay(e.strength, display, scenario.water.temperature) },
        label: e.strength === "none" ? "air stone off" : `${e.strength} air stone`,
      };
    case "temperature":
      return { body: { kind: "temperature", setpointC: e.to }, label: `thermostat to ${format.temperature(e.to)[notes.units]}` };
    case "weather":
      return {
        body: {
          kind: "weather",
          dayC: e.room,
          nightC: e.night ?? e.room,
          lastsDays: e.for === undefined ? null : e.for / SECONDS_PER_DAY,
        },
        label: `room at ${format.temperature(e.room)[notes.units]}`,
      };
    case "plants":
      return { body: { kind: "plants", uptakeGNPerDay: e.uptake }, label: e.uptake === 0 ? "plants out" : "plants in" };
  }
}

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
export function planEvents(around: Around): readonly ManagementEvent[] {
  const { scenario, scales, notes } = around;
  const cycle = cycleOf(scenario);
  const events: ManagementEvent[] = [];
  if (cycle) {
    const limits = cycle.always ? null : onlyBelow(cycle, scales);
    const body = dose(ofBottle(cycle.bottle), scales.nitrogen("ammonia", cycle.dose), undefined, around.waterM3, limits);
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
      const tap = tapWater(scenario.tap, "tap", scenario.water, scales, notes);
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
    const { body, label } = bodyOf(e, `timeline[${i + 1}]`, around);
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
