// "Adding 10 fish on day 36 takes ammonia to 0.7 mg/L on day 38; without them it would be 0.05." The effect of each
// planned incident, compared with the same plan without it.

import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { CHLORINE_GAS_G_PER_MOL, NITROGEN_G_PER_MOL } from "../../models/water/molar-mass.ts";
import { daysAbove, track, unionised } from "../analysis/series.ts";
import { type Effect, type Highest, highestIn, type Incident, isSame } from "../model/incidents.ts";
import type { Spread } from "../model/likelihood.ts";
import type { Paired } from "../model/pairs.ts";
import { CLEARED_NO2, CLEARED_TAN } from "../model/readiness.ts";
import type { Statement } from "../result/statement.ts";
import { dayOf } from "../text/format.ts";
import {
  capital,
  capitalised,
  concentration,
  day,
  duration,
  joined,
  lasting,
  type Message,
  number,
  sentence,
} from "../text/message.ts";
import { adviceOf } from "../timeline/all.ts";
import { lowestOxygen } from "./loss.ts";
import { between } from "./ranges.ts";
import { clearSince } from "./ready.ts";

/** Decreases of oxygen [g/m³] and of pH that are reported. */
const LESS_OXYGEN = 0.2;
const LOWER_PH = 0.04;
/** Below this oxygen concentration fish begin to suffer [g/m³] (US EPA 1986, from memory). */
const LOW_OXYGEN = 5;

const STOCKING_ADVICE = "Half portions for the first two weeks, or smaller lots two weeks apart, avoid most of it.";
const FEEDING_ADVICE =
  "Feed only what is eaten within two minutes, and take out what is left. Before a holiday, pack the portions by day.";

/** Words for an incident as the cause: "Adding 10 fish on day 36". */
function cause({ kind, label, day: on, event, times }: Incident): Message {
  if (kind === "stocking") return sentence`adding ${label} from ${day(on)} on`;
  const when = times > 1 ? sentence`from ${day(on)} on` : sentence`on ${day(on)}`;
  if (kind === "power cut" && event?.kind === "power cut" && label.startsWith("power cut, "))
    return sentence`the ${times > 1 ? `${times} power cuts` : "power cut"} of ${duration(3600 * event.hours)} ${when}`;
  if (kind === "feeding") return sentence`the change of food on ${day(on)} (${label})`;
  return sentence`the ${label.replace(/^(the|a|an) /, "")}${times > 1 ? ` (${times} times)` : ""} ${when}`;
}

const SPECIES = { tan: "ammonia", no2: "nitrite" } as const;

interface Rise {
  readonly now: Highest;
  /** Reading of the run without the incidents at that time, or its own highest where `now` is the highest of the run. */
  readonly without: number;
  readonly isHighest: boolean;
}

/**
 * The highest reading compared with that of the run without the incidents; where something else raises both as high,
 * the time of the largest difference.
 */
function riseOver(run: Run, twin: Run, substance: "tan" | "no2", from: number, until: number): Rise {
  const highest = {
    now: highestIn(run, substance, from, until),
    without: highestIn(twin, substance, from, until).value,
    isHighest: true,
  };
  if (!isSame(highest.now.value, highest.without)) return highest;
  const [a, b] = [track(run, substance), track(twin, substance)];
  let apart: Rise = highest;
  let m = 0;
  a.days.forEach((at, n) => {
    if (at <= from || at > until) return;
    while (m + 1 < b.days.length && b.days[m + 1] <= at + 1e-9) m++;
    if (a.values[n] - b.values[m] > apart.now.value - apart.without)
      apart = { now: { day: at, value: a.values[n] }, without: b.values[m], isHighest: false };
  });
  return apart;
}

/** Time before the effect of an improvement is evaluated [d], because the first hours may disturb the tank. */
const HELPS_AFTER_DAYS = 7;

/** Where the highest readings of the later days are clearly lower than without the incidents: a levelled plate, an opened lid. */
function fallsOf(run: Run, twin: Run, from: number, until: number) {
  const settled = from + HELPS_AFTER_DAYS;
  return (["tan", "no2"] as const).flatMap((substance) => {
    const [now, without] = [run, twin].map((of) => highestIn(of, substance, settled, until).value);
    const cleared = substance === "tan" ? CLEARED_TAN : CLEARED_NO2;
    return until > settled && without > cleared && !isSame(without, now) && isSame(now, without)
      ? [{ substance, now, without }]
      : [];
  });
}

/** "Drip plate levelled on day 40 lowers ammonia: ..." */
function helpFinding({ cluster, run, twin }: Effect): Statement | null {
  const { incidents, from, until } = cluster;
  const falls = fallsOf(run, twin, from, until);
  if (falls.length === 0) return null;
  const what = capitalised(joined(incidents.map(cause)));
  const species = falls.map(({ substance }) => SPECIES[substance]).join(" and ");
  const list = falls.map(({ substance, now, without }) => {
    const name = SPECIES[substance];
    return sentence`${name} reaches ${concentration(name, now)} instead of ${concentration(name, without)}`;
  });
  const begins = sentence`${what} ${incidents.length === 1 && incidents[0].times === 1 ? "brings" : "bring"} ${species} down`;
  return {
    id: incidents[0].id,
    topic: "water",
    consequence: "none",
    likelihood: "planned",
    word: "HELPS",
    brief: sentence`${begins} within a week.`,
    text: sentence`${begins}: from ${day(from + HELPS_AFTER_DAYS)} on, ${joined(list)}.`,
    value: falls[0].now,
    unit: "g N/m3",
  };
}

/** One finding for each cluster of incidents, with the range of its window in the spread. */
export function effectFinding(effect: Effect, spread: Spread["highest"][number] | null, paired: Paired | null): Statement {
  return helpFinding(effect) ?? harmFinding(effect, spread, paired);
}

/** Incidents that no twin was run for. */
export function unfollowedFinding(incidents: readonly Incident[]): Statement[] {
  if (incidents.length === 0) return [];
  const [one] = incidents;
  return [
    {
      id: "unfollowed",
      topic: "stocking",
      consequence: "none",
      likelihood: "planned",
      word: "NOTE",
      text:
        incidents.length === 1
          ? sentence`What ${cause(one)} does was not worked out by itself; the curves include it.`
          : sentence`What ${incidents.length} more events from ${day(one.day)} on do was not worked out one by one; the curves include them.`,
      value: incidents.length,
      unit: "",
    },
  ];
}

function harmFinding(
  { cluster, run, twin, alone }: Effect,
  spread: Spread["highest"][number] | null,
  paired: Paired | null,
): Statement {
  const { incidents, from, until } = cluster;
  const main =
    incidents.find(({ kind }) => kind === "stocking") ?? incidents.find(({ kind }) => kind === "feeding") ?? incidents[0];
  const rises = (["tan", "no2"] as const).map((substance) => {
    const rise = riseOver(run, twin, substance, from, until);
    const cleared = substance === "tan" ? CLEARED_TAN : CLEARED_NO2;
    return { substance, ...rise, raised: !isSame(rise.now.value, rise.without), shows: rise.now.value > cleared, cleared };
  });
  const raised = rises.filter((rise) => rise.raised);
  const shows = raised.filter((rise) => rise.shows);
  const [tan, no2] = rises;
  const what = capitalised(joined(incidents.map(cause)));
  const one = incidents.length === 1 && main.kind !== "stocking" && main.times === 1;
  const [it, takes, makes] = one
    ? ["it", "takes", "makes"]
    : incidents.length === 1 && main.kind === "stocking"
      ? ["them", "takes", "makes"]
      : ["them", "take", "make"];
  const to = ({ substance, now }: (typeof rises)[number]): Message =>
    sentence`${SPECIES[substance]} to ${concentration(SPECIES[substance], now.value)} on ${day(now.day)}`;
  const highest = raised.map((rise): Message => {
    const range =
      spread === null || !rise.isHighest ? "" : between(SPECIES[rise.substance], spread[rise.substance], rise !== raised[0]);
    return sentence`${to(rise)}${range}`;
  });
  const otherwise = raised.map(({ substance, without, isHighest }): Message => {
    const range = paired === null || !isHighest ? "" : between(SPECIES[substance], paired.without[substance], spread !== null);
    return sentence`${SPECIES[substance]} would reach ${concentration(SPECIES[substance], without)}${range}`;
  });
  const text =
    raised.length === 0
      ? sentence`${what} ${makes} no difference that a kit could show: with or without ${it}, ammonia reaches ${concentration("ammonia", tan.now.value)} and nitrite ${concentration("nitrite", no2.now.value)}.`
      : sentence`${what} ${takes} ${joined(highest)}. Without ${it}, ${joined(otherwise)}.${showing(shows, run, from, until)}`;
  return {
    id: main.id,
    topic: main.kind === "shock" ? "water" : main.kind === "power cut" ? "power cut" : "stocking",
    consequence: shows.length > 0 ? "harm" : "none",
    likelihood: "planned",
    word: shows.length > 0 ? "SPIKE" : raised.length > 0 ? "SMALL RISE" : "NO CHANGE",
    text: sentence`${text}${inPairs(paired, shows.length > 0)}${apart(alone, from, until)}${airAndPh(run, twin, from, until)}`,
    value: Math.max(tan.now.value, no2.now.value),
    unit: "g N/m3",
    brief:
      shows.length > 0
        ? sentence`${what} ${takes} ${joined(shows.map(to))}${over(clearSince(run, from, until), Math.max(...shows.map(({ now }) => now.day)))}.`
        : sentence`${what} ${makes} no difference that most kits could show.`,
    ...(shows.length > 0 || main.kind === "shock" ? adviceFor(main, shows.length > 0) : {}),
  };
}

/** Where pairs of runs do not all agree with the likely one. */
function inPairs(paired: Paired | null, likelyShows: boolean): Message {
  if (paired === null || paired.shows === (likelyShows ? paired.count : 0)) return [];
  return sentence` Of ${paired.count} pairs of runs, with and without, a kit shows it in ${paired.shows === 0 ? "none" : paired.shows}.`;
}

/** From when on nothing shows any more, as the end of a sentence. */
const over = (since: number | null, highestOn: number): Message => {
  if (since === null) return [];
  return dayOf(since) <= dayOf(highestOn)
    ? sentence`; nothing shows after ${day(since)}`
    : sentence`; nothing shows from ${day(since)} on`;
};

const adviceFor = ({ kind, event }: Incident, shows: boolean): { advice?: string } => {
  if (kind === "stocking") return shows ? { advice: STOCKING_ADVICE } : {};
  if (kind === "feeding") return shows ? { advice: FEEDING_ADVICE } : {};
  if (kind === "power cut") return { advice: "Feed little and test every day until both read zero." };
  const advice = event === null ? undefined : adviceOf(event.kind);
  return advice === undefined ? {} : { advice };
};

/** Shorter than the outputs of a run are apart [d]. */
const BRIEF_DAYS = 0.2;
const shownFor = (days: number): Message => (days < BRIEF_DAYS ? ["for a few hours"] : sentence`for ${lasting(days)}`);

/** How long a kit shows a reading. */
function showing(
  shows: readonly { readonly substance: "tan" | "no2"; readonly cleared: number }[],
  run: Run,
  from: number,
  until: number,
): Message {
  if (shows.length === 0) return sentence` That is too little for most kits to show.`;
  const list = shows.map(
    ({ substance, cleared }) =>
      sentence`${SPECIES[substance]} ${shownFor(daysAbove(track(run, substance), cleared, from, until))}`,
  );
  return sentence` A kit shows ${joined(list)}.`;
}

/** The effect of each of several incidents alone. */
function apart(alone: Effect["alone"], from: number, until: number): Message {
  if (alone.length === 0) return [];
  const list = alone.map(({ incident, run }): Message => {
    const [tan, no2] = (["tan", "no2"] as const).map((substance) => highestIn(run, substance, from, until).value);
    return sentence`${cause(incident)} would reach ammonia ${concentration("ammonia", tan)} and nitrite ${concentration("nitrite", no2)}`;
  });
  return sentence` Alone, ${joined(list)}.`;
}

/** Oxygen and pH of the first display where they fall lower than without the incidents. */
function airAndPh(run: Run, twin: Run, from: number, until: number): Message {
  const c = run.aquarium.displayCells[0];
  const o2 = run.aquarium.layout.cellIndex(c, "o2");
  const lowest = (of: Run, value: (n: number) => number): number =>
    Math.min(...of.days.flatMap((at, n) => (at >= from && at <= until ? [value(n)] : [])));
  // Power cuts have closer readings of their own.
  const inCuts = run.cuts.filter(({ event, inCut }) => inCut > 0 && event.day >= from && event.day <= until);
  const oxygen = Math.min(
    lowest(run, (n) => run.states[n][o2]),
    ...inCuts.map((record) => lowestOxygen(run, record)),
  );
  const oxygenWithout = lowest(twin, (n) => twin.states[n][o2]);
  const [ph, phWithout] = [lowest(run, (n) => run.ph[n][c]), lowest(twin, (n) => twin.ph[n][c])];
  const air =
    oxygenWithout - oxygen > LESS_OXYGEN
      ? sentence` Oxygen falls to ${number(oxygen)} mg/L (${number(oxygenWithout)} without)${oxygen < LOW_OXYGEN ? ", and low oxygen at night harms before ammonia does" : ""}.`
      : "";
  const acid = phWithout - ph > LOWER_PH ? sentence` pH falls to ${number(ph, 3)} (${number(phWithout, 3)} without).` : "";
  return sentence`${air}${acid}`;
}

/**
 * Un-ionised ammonia, released by a water change that raises pH, from which a warning is given [g NH3/m³] (common
 * practice, no published source).
 */
const FREED_G_NH3_PER_M3 = 0.02;
/** Water changes that dilute ammonia and yet multiply its harmful part because pH rises; and untreated chloramine. */
export function waterChangeFindings(run: Run): Statement[] {
  return [...freedAmmonia(run), ...untreatedChloramine(run)];
}

function freedAmmonia(run: Run): Statement[] {
  const { layout, displayCells, management } = run.aquarium;
  const c = displayCells[0];
  const at = (n: number) => ({
    tan: run.states[n][layout.cellIndex(c, "tan")],
    ph: run.ph[n][c],
    nh3: unionised(run, n),
  });
  for (const event of management.events) {
    if (event.kind !== "water change") continue;
    const n = run.days.findIndex((on) => on >= event.day);
    if (n < 1) continue;
    const [before, after] = [at(n - 1), at(n)];
    if (after.nh3 < FREED_G_NH3_PER_M3 || after.nh3 < 2 * before.nh3) continue;
    return [
      {
        id: "freed-ammonia",
        topic: "water",
        consequence: run.foodGPerDay[n] > 0 ? "harm" : "none",
        likelihood: "planned",
        word: "AMMONIA",
        text: sentence`${capital(event.label)} on ${day(event.day)}: ammonia goes from ${concentration("ammonia", before.tan)} to ${concentration("ammonia", after.tan)}, but pH rises from ${number(before.ph)} to ${number(after.ph)}, so the harmful part, un-ionised ammonia, rises from ${number(1000 * before.nh3)} to ${number(1000 * after.nh3)} µg/L.`,
        value: after.nh3,
        unit: "mg/L NH3",
        advice:
          "In an acid tank with much ammonia, change a little at a time, bind the ammonia first, and raise alkalinity slowly over days.",
      },
    ];
  }
  return [];
}

/**
 * Chlorine that harms fish within hours [g Cl2/m³]: 0.019, acute criterion of US EPA (1984), from memory; a film loses
 * bacteria at higher levels.
 */
const HARMFUL_CHLORINE = 0.019;

/** Untreated chloramine burns gills at levels that do not yet affect bacteria. */
function untreatedChloramine(run: Run): Statement[] {
  const { events, groups } = run.aquarium.management;
  const changes = events.flatMap((event) =>
    event.kind === "water change" && !event.tap.treated && event.tap.chloramineGPerM3 > 0 ? [event] : [],
  );
  const [worst] = [...changes].sort((a, b) => b.share * b.tap.chloramineGPerM3 - a.share * a.tap.chloramineGPerM3);
  if (!worst) return [];
  const mixed = worst.share * worst.tap.chloramineGPerM3;
  const present = groups.some(({ arrivesDay }) => arrivesDay <= worst.day);
  if (mixed < HARMFUL_CHLORINE) return [];
  return [
    {
      id: "chloramine",
      topic: "water",
      consequence: present ? "loss" : "harm",
      likelihood: "planned",
      word: "CHLORAMINE",
      text: sentence`The untreated water of ${day(worst.day)} brings the tank to ${number(mixed)} mg/L of chloramine: it burns the gills of fish within hours, and it kills part of the bacteria.`,
      value: mixed,
      unit: "mg/L Cl2",
      remedy: sentence`Treat the new water with a conditioner that binds chloramine before it goes in. Then only its ammonia is left, about ${concentration("ammonia", (mixed * NITROGEN_G_PER_MOL) / CHLORINE_GAS_G_PER_MOL)}.`,
    },
  ];
}
