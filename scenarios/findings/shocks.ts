// "Media rinsed on day 5: nitrite up to 1.2 mg/L on day 9, back to usual by day 14." What each thing that harms or burdens a filter does.

import { isShock, type ManagementEvent } from "../../models/nitrogen/events/all.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { freeAmmoniaNGPerM3 } from "../../models/water/ammonia.ts";
import { CLEARED_NO2, CLEARED_TAN } from "../model/readiness.ts";
import type { Statement } from "../result/statement.ts";
import { capital, concentration, type Message, number, sentence } from "../text/message.ts";
import { type Track, track } from "./cycle.ts";

/** A shock is looked at so long after, or until the next, and what was usual so long before [d]. */
const WINDOW_DAYS = 14;
const USUAL_DAYS = 2;
/** A reading counts as raised above so many times what was usual, and where a kit shows anything (modelling assumption). */
const RAISED = 1.2;
/** Falls of oxygen [g/m3] and of pH worth telling. */
const LESS_OXYGEN = 0.3;
const LOWER_PH = 0.1;
/** So many shocks are told; of more, the first. */
const MOST_TOLD = 6;

type Kind = ManagementEvent["kind"];

const advice: Partial<Record<Kind, string>> = {
  "rinse media": "Rinse media in tank water, never under the tap, and one part at a time; feed little until both read nothing.",
  "replace media": "Replace a part at a time, weeks apart; what is left seeds the rest.",
  medicine:
    "Test nitrite daily: it rises alone when nitrite oxidisers are hit harder. Feed little, change water; ask a vet about the medicine itself.",
  death: "Count the animals at feeding time; a body behind the rock gives off its nitrogen over a week.",
  "water change": "Treat chloramine before the water goes in; its ammonia stays until the filter has taken it.",
  lid: "A tower breathes: a sealed lid or a closed cabinet keeps carbon dioxide in and pH down. A vent helps within a day.",
  temperature: "In heat less oxygen dissolves and everything uses more: air, less food, a vent in the cabinet.",
  wetting: "Level the plate, clean its holes: dry media do nothing.",
  "pad clogs": "Change the pad: the film behind it is still there, so it helps the same day.",
};

export function shockFindings(run: Run): Statement[] {
  const all = run.aquarium.management.events.filter(isShock);
  // What repeats is told once.
  const told = all.filter(({ kind, label }, i) => all.findIndex((e) => e.kind === kind && e.label === label) === i);
  const next = (day: number): number => all.find((event) => event.day > day)?.day ?? Number.POSITIVE_INFINITY;
  return [...told.slice(0, MOST_TOLD).map((event) => shockFinding(run, event, next(event.day))), ...freedAmmonia(run)];
}

interface Rise {
  /** Highest in the days before; null when the run has no reading before the shock. */
  readonly usual: number | null;
  readonly day: number;
  readonly value: number;
  /** Last day on which it is raised; null when it never is. */
  readonly raisedUntil: number | null;
}

function rise(t: Track, day: number, until: number, readable: number): Rise {
  const within = (from: number, to: number) =>
    t.days.flatMap((d, n) => (d > from && d <= to ? [{ day: d, value: t.values[n] }] : []));
  const before = within(day - USUAL_DAYS, day - 1e-9);
  const usual = before.length > 0 ? Math.max(0, ...before.map(({ value }) => value)) : null;
  const after = within(day, until);
  const best = after.reduce((a, b) => (b.value > a.value ? b : a), { day, value: 0 });
  const raised = after.filter(({ value }) => value > Math.max(RAISED * (usual ?? 0), readable));
  return { usual, ...best, raisedUntil: raised.at(-1)?.day ?? null };
}

function shockFinding(run: Run, event: ManagementEvent, nextDay: number): Statement {
  const { kind, label, day } = event;
  const until = Math.min(day + WINDOW_DAYS, nextDay - 1e-9, run.days[run.days.length - 1]);
  const tan = rise(track(run, "tan"), day, until, CLEARED_TAN);
  const no2 = rise(track(run, "no2"), day, until, CLEARED_NO2);
  const last = Math.max(tan.raisedUntil ?? 0, no2.raisedUntil ?? 0);
  const over =
    last === 0
      ? "Neither rises where a kit would show it."
      : last >= until - 0.5
        ? `Still raised on day ${Math.round(last)}.`
        : `Back to usual by day ${Math.ceil(last)}.`;
  const usual = ({ usual: value }: Rise, species: "ammonia" | "nitrite") =>
    value === null ? "" : sentence` (usual ${concentration(species, value)})`;
  return {
    id: `shock-${kind.replaceAll(" ", "-")}-${Math.round(day * 100)}`,
    topic: "water",
    level: last > 0 ? "watch" : "info",
    word: last > 0 ? "SPIKE" : "NOTE",
    text: sentence`${capital(label)}, on day ${number(day, 3)}: ammonia up to ${concentration("ammonia", tan.value)} on day ${number(tan.day, 3)}${usual(tan, "ammonia")}, nitrite up to ${concentration("nitrite", no2.value)} on day ${number(no2.day, 3)}${usual(no2, "nitrite")}. ${over}${airAndPh(run, day, until)}`,
    value: Math.max(tan.value, no2.value),
    unit: "g N/m3",
    ...(advice[kind] === undefined ? {} : { advice: advice[kind] }),
  };
}

/** Oxygen and pH of the first display where they fall; nothing when the run has no reading before the shock to compare with. */
function airAndPh(run: Run, day: number, until: number): Message | string {
  const { displayCells, layout } = run.aquarium;
  if (!run.days.some((d) => d >= day - USUAL_DAYS && d <= day - 1e-9)) return "";
  const c = displayCells[0];
  const lowest = (value: (n: number) => number, from: number, to: number) =>
    Math.min(...run.days.flatMap((d, n) => (d >= from && d <= to ? [value(n)] : [])));
  const fall = (value: (n: number) => number) => ({
    before: lowest(value, day - USUAL_DAYS, day - 1e-9),
    after: lowest(value, day, until),
  });
  const oxygen = fall((n) => run.states[n][layout.cellIndex(c, "o2")]);
  const ph = fall((n) => run.ph[n][c]);
  return sentence`${oxygen.before - oxygen.after > LESS_OXYGEN ? sentence` Oxygen falls to ${number(oxygen.after)} mg/L.` : ""}${ph.before - ph.after > LOWER_PH ? sentence` pH falls from ${number(ph.before, 3)} to ${number(ph.after, 3)}.` : ""}`;
}

/** Un-ionised ammonia that a water change frees by raising pH is told from here on [g NH3/m3]: a caution line of practice (common practice, no published source). */
const FREED_G_NH3_PER_M3 = 0.02;
const NH3_PER_N = 17.031 / 14.007;

/** Water changes that halve ammonia and yet multiply the part of it that harms, since pH rises. */
function freedAmmonia(run: Run): Statement[] {
  const { layout, displayCells, management } = run.aquarium;
  const c = displayCells[0];
  const at = (n: number) => {
    const tan = run.states[n][layout.cellIndex(c, "tan")];
    const ph = run.ph[n][c];
    const { temperatureC, salinityGPerKg } = run.operating[n];
    return { tan, ph, nh3: freeAmmoniaNGPerM3(tan, ph, temperatureC[c], salinityGPerKg) * NH3_PER_N };
  };
  for (const event of management.events) {
    if (event.kind !== "water change") continue;
    const n = run.days.findIndex((day) => day >= event.day);
    if (n < 1) continue;
    const [before, after] = [at(n - 1), at(n)];
    if (after.nh3 < FREED_G_NH3_PER_M3 || after.nh3 < 2 * before.nh3) continue;
    return [
      {
        id: "freed-ammonia",
        topic: "water",
        level: "alarm",
        word: "AMMONIA",
        text: sentence`${capital(event.label)}, on day ${number(event.day, 3)}: ammonia goes from ${concentration("ammonia", before.tan)} to ${concentration("ammonia", after.tan)}, but pH rises from ${number(before.ph)} to ${number(after.ph)}, and un-ionised ammonia, which harms, from ${number(before.nh3)} to ${number(after.nh3)} mg/L as NH3.`,
        value: after.nh3,
        unit: "mg/L NH3",
        advice:
          "In an acid tank with much ammonia change little at a time, bind the ammonia first, and bring alkalinity back slowly over days.",
      },
    ];
  }
  return [];
}
