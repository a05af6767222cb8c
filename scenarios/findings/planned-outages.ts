// "Power cut of day 15: oxygen falls to 5.2 mg/L ..." What the run itself shows of each cut on the calendar, and of the fortnight after.
import { ANOXIC_G_PER_M3, type OutageRecord, stillHours } from "../../models/nitrogen/operation/outage-record.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { TEST_DAYS } from "../../models/outage/aftermath.ts";
import { firstBelowH } from "../../models/outage/outage-trial.ts";
import { displayOxygen, oxygenLimits } from "../../models/outage/oxygen-clock.ts";
import { limitsFor } from "../../models/outage/temperature.ts";
import { freezingC } from "../../models/water/freezing.ts";
import type { Statement } from "../result/statement.ts";
import { capital, concentration, type Message, number, sentence, temperature } from "../text/message.ts";
import { inDisplays } from "./outage.ts";

/** So many cuts are told one by one; of more, those with the least oxygen. */
const MOST_TOLD = 3;
const AFTER_DAYS = 14;
/** Water that comes back so much warmer or colder than the tank is told [K] (modelling assumption: fish bear a sudden change of two or three). */
const SLUG_K = 2;
/** A fall of oxygen after the restart worth telling [g/m3]. */
const DIP_G_PER_M3 = 0.3;

const lowestOxygen = (run: Run, record: OutageRecord): number => {
  const oxygen = displayOxygen(record, run.aquarium.displayCells);
  return Math.min(...Array.from({ length: record.inCut }, (_, i) => oxygen(i)));
};

export function plannedCutFindings(run: Run): Statement[] {
  const worst = run.cuts
    .map((record) => ({ record, lowest: lowestOxygen(run, record) }))
    .filter(({ record }) => record.inCut > 0)
    .sort((a, b) => a.lowest - b.lowest)
    .slice(0, MOST_TOLD)
    .sort((a, b) => a.record.event.day - b.record.event.day);
  return worst.map(({ record, lowest }) => cutFinding(run, record, lowest, run.cuts.length - worst.length));
}

function cutFinding(run: Run, record: OutageRecord, lowest: number, untold: number): Statement {
  const { aquarium } = run;
  const { event, before } = record;
  const kinds = [...new Set(before.operating.groups.map((group) => group.kind))];
  const oxygen = kinds.map((kind) => oxygenLimits(kind, before.operating.salinityGPerKg));
  const amber = Math.max(0, ...oxygen.map((limit) => limit.amberGPerM3));
  const red = Math.max(0, ...oxygen.map((limit) => limit.redGPerM3));
  const warmth = kinds.map((kind) => limitsFor(kind, before.operating.setpointC));
  const display = (samples: readonly Float64Array[]) => samples.flatMap((cells) => aquarium.displayCells.map((c) => cells[c]));
  const coldest = Math.min(...display(record.temperatureC.slice(0, record.inCut)));
  const passed = firstBelowH(record, displayOxygen(record, aquarium.displayCells), amber);
  const cold = warmth.some((limit) => coldest < limit.amberLowC);
  const freezes = coldest <= freezingC(aquarium.rig.salinityGPerKg) + 0.01;
  const tooCold = freezes || warmth.some((limit) => coldest < limit.redLowC);
  return {
    id: `cut-${Math.round(event.day * 100)}`,
    topic: "power cut",
    level: lowest < red || tooCold ? "alarm" : lowest < amber || cold ? "watch" : "info",
    word: "IN THE RUN",
    text: sentence`${capital(event.label)}, on day ${number(event.day, 3)}: oxygen in the tank falls to ${number(lowest)} mg/L${passed === null || amber === 0 ? "" : sentence` (under ${amber} mg/L from hour ${number(passed)} on)`}, temperature to ${temperature(coldest)}.${freezes ? " There it begins to freeze: ice and what it breaks are not computed." : ""}${stuck(event)}${slug(run, record)}${stale(run, record)}${dip(run, record)}${afterwards(run, record)}`,
    value: lowest,
    unit: "mg/L",
    advice: sentence`Test ammonia and nitrite on days ${TEST_DAYS.join(", ")} after it.${untold > 0 ? ` ${untold} more ${untold === 1 ? "cut runs" : "cuts run"} milder and ${untold === 1 ? "is" : "are"} not told.` : ""}`,
  };
}

/** Power back is not flow back. */
const stuck = ({ hours, pumpStuckHours }: OutageRecord["event"]): Message =>
  pumpStuckHours > 0
    ? sentence` The power was back after ${number(hours)} h, but that is not flow back: the pump did not turn for ${number(pumpStuckHours)} h more, and every clock went on.`
    : [];

/** Water that comes up from the sump when the pump starts, where it is much colder or warmer than the tank. */
function slug({ aquarium }: Run, record: OutageRecord): Message {
  const { cells, displayCells, rig } = aquarium;
  const last = rig.sump.chambers[rig.sump.chambers.length - 1].id;
  const chamber = cells.findIndex((cell) => cell.kind === "chamber" && cell.partOf === last);
  const atEnd = record.temperatureC[record.inCut - 1];
  const [sump, tank] = [atEnd[chamber], atEnd[displayCells[0]]];
  if (Math.abs(sump - tank) < SLUG_K) return [];
  return sentence` When the pump starts, water of ${temperature(sump)} comes up into a tank of ${temperature(tank)}: start it in short turns.`;
}

/** Closed filters that were without oxygen, and what was done with them. */
function stale({ aquarium }: Run, record: OutageRecord): Message {
  const { closedCells, cells } = aquarium;
  const gone = closedCells.flatMap((c) => {
    const since = firstBelowH(record, (i) => record.oxygen[i][c], ANOXIC_G_PER_M3);
    return since === null ? [] : [{ name: cells[c].name, since }];
  });
  if (gone.length === 0 || !record.event.everythingOff) return [];
  const done = {
    restarted: "and ran on with that water",
    "rinsed first": "and was rinsed first",
    "left off": "and was left off",
  };
  return sentence` ${gone.map(({ name, since }) => `${capital(name)} had no oxygen from hour ${since.toFixed(1)} on ${done[record.event.closedFilter]}`).join("; ")}.`;
}

/** Oxygen that falls further in the hours after the restart, when stale water arrives. */
function dip({ aquarium }: Run, record: OutageRecord): Message {
  const oxygen = displayOxygen(record, aquarium.displayCells);
  const after = Array.from({ length: record.hours.length - record.inCut }, (_, i) => oxygen(record.inCut + i));
  const lowest = Math.min(...after);
  return lowest < oxygen(record.inCut - 1) - DIP_G_PER_M3
    ? sentence` The water that comes up takes oxygen down to ${number(lowest)} mg/L.`
    : [];
}

/** Ammonia while the cut lasts, ammonia and nitrite in the fortnight after, or until the next cut or the end. */
function afterwards(run: Run, { event }: OutageRecord): Message {
  const back = event.day + stillHours(event) / 24;
  const next = run.cuts.find((cut) => cut.event.day > event.day)?.event.day ?? Number.POSITIVE_INFINITY;
  const until = Math.min(back + AFTER_DAYS, next, run.days[run.days.length - 1]);
  const highest = (substance: "tan" | "no2", from: number, to: number) => {
    const t = inDisplays(run, substance);
    return t.days.reduce(
      (best, day, n) => (day >= from && day <= to && t.values[n] > best.value ? { day, value: t.values[n] } : best),
      { day: from, value: 0 },
    );
  };
  const meanwhile = highest("tan", event.day, Math.min(back, until)).value;
  // A cut shorter than the readings are apart has none of its own.
  const during = meanwhile > 0 ? sentence` Ammonia climbs to ${concentration("ammonia", meanwhile)} while it lasts.` : [];
  if (until - back < 0.5) return during;
  const [tan, no2] = [highest("tan", back, until), highest("no2", back, until)];
  return sentence`${during} After it, to day ${Math.round(until)}, the highest are ammonia ${concentration("ammonia", tan.value)} on day ${number(tan.day, 3)} and nitrite ${concentration("nitrite", no2.value)} on day ${number(no2.day, 3)}.`;
}
