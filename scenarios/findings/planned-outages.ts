// "Power cut of day 15: oxygen falls to 5.2 mg/L ..." Results of the run for each planned outage, and for the two weeks after it.
import { ANOXIC_G_PER_M3, type OutageRecord } from "../../models/nitrogen/operation/outage-record.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { TEST_DAYS } from "../../models/outage/aftermath.ts";
import { firstBelowH } from "../../models/outage/outage-trial.ts";
import { displayOxygen } from "../../models/outage/oxygen-clock.ts";
import { limitsFor } from "../../models/outage/temperature.ts";
import { freezingC } from "../../models/water/freezing.ts";
import type { Statement } from "../result/statement.ts";
import { capital, day, type Message, number, sentence, temperature } from "../text/message.ts";
import { lowestOxygen, oxygenNeeds } from "./loss.ts";

/** Largest number of outages listed one by one; if there are more, those with the least oxygen. */
const MOST_SAID = 3;
/**
 * Temperature difference of returning water that is reported [K] (modelling assumption: fish tolerate a sudden change
 * of two or three).
 */
const SLUG_K = 2;
/** Decrease of oxygen after the restart that is reported [g/m³]. */
const DIP_G_PER_M3 = 0.3;

export function plannedCutFindings(run: Run): Statement[] {
  const worst = run.cuts
    .filter(({ inCut }) => inCut > 0)
    .map((record) => ({ record, lowest: lowestOxygen(run, record) }))
    .sort((a, b) => a.lowest - b.lowest)
    .filter(({ record, lowest }, n) => n === 0 || (n < MOST_SAID && lowest < oxygenNeeds(record).suffer))
    .sort((a, b) => a.record.event.day - b.record.event.day);
  return worst.map(({ record, lowest }) => cutFinding(run, record, lowest, run.cuts.length - worst.length));
}

function cutFinding(run: Run, record: OutageRecord, lowest: number, unsaid: number): Statement {
  const { aquarium } = run;
  const { event, before } = record;
  const { suffer, die, lost } = oxygenNeeds(record);
  const kinds = [...new Set(before.operating.groups.map((group) => group.kind))];
  const warmth = kinds.map((kind) => limitsFor(kind, before.operating.setpointC));
  const display = (samples: readonly (Float64Array | readonly number[])[]) =>
    samples.flatMap((cells) => aquarium.displayCells.map((c) => cells[c]));
  const coldest = Math.min(...display(record.temperatureC.slice(0, record.inCut)));
  const passed = suffer === 0 ? null : firstBelowH(record, displayOxygen(record, aquarium.displayCells), suffer);
  const cold = warmth.some((limit) => coldest < limit.amberLowC);
  const freezes = coldest <= freezingC(aquarium.rig.salinityGPerKg) + 0.01;
  const tooCold = freezes || warmth.some((limit) => coldest < limit.redLowC);
  const dead = lowest < lost;
  const kills = lowest < die || tooCold;
  const loss = dead ? " The animals would not survive that." : lowest < die ? " Some animals may die." : "";
  return {
    id: `cut-${Math.round(event.day * 10_000)}`,
    topic: "power cut",
    consequence: kills ? "loss" : lowest < suffer || cold ? "harm" : "none",
    likelihood: "planned",
    word: kills ? "DEADLY" : "YOUR CUT",
    text: sentence`${capital(event.label)} on ${day(event.day)}: oxygen in the tank falls to ${number(lowest)} mg/L; the water is coldest at ${temperature(coldest)}.${passed === null ? "" : sentence` From hour ${number(passed)} on oxygen is below ${suffer} mg/L, where animals begin to suffer.`}${freezes ? " There the water begins to freeze; ice, and what it breaks, is not computed." : ""}${loss}${stuck(event)}${slug(run, record)}${stale(run, record)}${dead ? "" : dip(run, record)}`,
    value: lowest,
    unit: "mg/L",
    brief: dead
      ? sentence`In the power cut of ${day(event.day)} the animals run out of oxygen and die.`
      : sentence`In the power cut of ${day(event.day)} oxygen falls to ${number(lowest)} mg/L${lowest < die ? ", and some animals may die" : lowest < suffer ? ", and the animals suffer" : ""}.`,
    ...(dead
      ? {}
      : {
          advice: sentence`Test ammonia and nitrite on days ${TEST_DAYS.join(", ")} after it.${unsaid > 0 ? ` ${unsaid} more ${unsaid === 1 ? "cut is" : "cuts are"} milder and not listed.` : ""}`,
        }),
    ...(kills
      ? {
          remedy: tooCold
            ? "Cheapest cure: wrap the sides of the tank at once, and keep warm water bottles ready."
            : event.batteryAir
              ? "Cheapest cure: a stronger air pump on the battery, or fewer animals."
              : "Cheapest cure: an air pump on a battery, switched on as soon as the power fails; until then pour water from a jug.",
        }
      : {}),
  };
}

/** The power has returned but the pump does not turn. */
const stuck = ({ hours, pumpStuckHours }: OutageRecord["event"]): Message =>
  pumpStuckHours > 0
    ? sentence` The power is back after ${number(hours)} hours, but the pump does not turn for another ${number(pumpStuckHours)} hours, and the tank goes on losing air and warmth.`
    : [];

/** Water that the pump returns from the sump at a very different temperature. */
function slug({ aquarium }: Run, record: OutageRecord): Message {
  const { cells, displayCells, rig } = aquarium;
  const last = rig.sump.chambers[rig.sump.chambers.length - 1].id;
  const chamber = cells.findIndex((cell) => cell.kind === "chamber" && cell.partOf === last);
  const atEnd = record.temperatureC[record.inCut - 1];
  const [sump, tank] = [atEnd[chamber], atEnd[displayCells[0]]];
  if (Math.abs(sump - tank) < SLUG_K) return [];
  return sentence` When the pump starts, water of ${temperature(sump)} comes up into a tank of ${temperature(tank)}: run it for a minute at a time at first.`;
}

/** Closed filters that were without oxygen, and how they were treated. */
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
    ? sentence` At the restart the stale water from below takes oxygen down to ${number(lowest)} mg/L.`
    : [];
}
