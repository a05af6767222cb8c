// When pad and sediment are due, from their filling in the run, and the effect of skipping the maintenance.

import { padHoldsG } from "../../models/nitrogen/reactor/solids.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { type Due, maintenanceInterval } from "../model/maintenance-interval.ts";
import type { Statement } from "../result/statement.ts";
import { day, length, type Message, number, sentence } from "../text/message.ts";

/** Depth at which sediment is due [m] (modelling assumption). */
const SEDIMENT_DUE_M = 0.01;
/** Smallest depth that a ruler can distinguish [m]; a tenth of it counts as none. */
const THINNEST_M = 0.0015;
const NOTHING_M = 0.1 * THINNEST_M;
/** A pad that is due sooner than this gives a warning [d]. */
const SOON_DAYS = 7;
const TWICE_A_YEAR_DAYS = 182;

const every = (days: number): string =>
  days < 2 ? "every day or two" : days > TWICE_A_YEAR_DAYS ? "twice a year" : `every ${Math.round(days)} days`;

const daysOf = (run: Run, kind: string): number[] => run.marks.filter((mark) => mark.kind === kind).map((mark) => mark.day);

/** The pad that is due first, with its tower; null when there is none. */
export function padDue(run: Run): (Due & { readonly tower: number }) | null {
  const { rig, towerCells } = run.aquarium;
  const dues = rig.towers.flatMap((tower, t) => {
    if (!tower.prefilter) return [];
    const holdsG = padHoldsG(tower.prefilter);
    const inert = run.solidsInventory.map(({ inertG }) => inertG[towerCells[t]] / holdsG);
    const organic = run.solidsInventory.map(({ padDryG }, n) => padDryG[t] / holdsG - inert[n]);
    const before = run.solidsInventory.map(({ padLoad, padDryG }) => padLoad[t] - padDryG[t] / holdsG);
    const due = maintenanceInterval({ days: run.days, inert, organic, before }, daysOf(run, "change pad"));
    return due ? [{ ...due, tower: t }] : [];
  });
  return dues.sort((a, b) => a.everyDays - b.everyDays)[0] ?? null;
}

export const maintenanceFindings = (run: Run): Statement[] => [...pad(run), ...sediment(run), ...fullPlaces(run)];

function pad(run: Run): Statement[] {
  const due = padDue(run);
  if (!due) return [];
  const { towers } = run.aquarium.rig;
  const tower = towers[due.tower];
  const name = towers.length > 1 ? `filter pad of ${tower.id}` : "filter pad";
  const past = tower.prefilter?.spillsTo === "media" ? "past it" : "past the media";
  const most = Math.max(...run.solidsInventory.map(({ spillShare }) => spillShare[due.tower]));
  const text: Message =
    due.fullDay === null
      ? sentence`Rinse or change the ${name} ${every(due.everyDays)}, at the feeding of the last week. By then it is full, and a tenth of the water spills ${past}.`
      : sentence`The ${name} is full on ${day(due.fullDay)}: a tenth of the water then spills ${past}, and in this plan up to ${number(100 * most)} %. At that feeding, rinse or change it ${every(due.everyDays)}.`;
  return [
    {
      id: "pad",
      topic: "upkeep",
      consequence: due.fullDay !== null || due.everyDays < SOON_DAYS ? "harm" : "none",
      likelihood: "planned",
      word: "PAD",
      text,
      value: due.everyDays,
      unit: "d",
      advice:
        "Watch when water first spills past it; how much dirt such pads hold is not published, and once a month is common practice. If you skip it, ammonia creeps up while the return flow looks the same. A clean pad helps the same day, because the bacteria behind it are still there.",
    },
  ];
}

/** Sediment of the settling chamber; without one, of the chamber with most sediment. */
function sediment(run: Run): Statement[] {
  const { chambers } = run.aquarium.rig.sump;
  const deepestM = chambers.map((_, s) => Math.max(...run.solidsInventory.map(({ mudM }) => mudM[s])));
  const settling = chambers.findIndex((chamber) => chamber.role === "settling");
  const s = settling >= 0 ? settling : deepestM.indexOf(Math.max(...deepestM));
  const inert = run.solidsInventory.map(({ inertG, chamberDryG, mudM }) => {
    const inertShare = chamberDryG[s] > 0 ? inertG[run.aquarium.chamberCells[s]] / chamberDryG[s] : 0;
    return (inertShare * mudM[s]) / SEDIMENT_DUE_M;
  });
  const organic = run.solidsInventory.map(({ mudM }, n) => mudM[s] / SEDIMENT_DUE_M - inert[n]);
  const before = run.days.map(() => 0);
  const due = maintenanceInterval({ days: run.days, inert, organic, before }, daysOf(run, "siphon sediment"));
  const seldom = !due || due.everyDays > TWICE_A_YEAR_DAYS;
  if (deepestM[s] < NOTHING_M || (settling < 0 && seldom)) return [];
  const deepest = run.days[run.solidsInventory.findIndex(({ mudM }) => mudM[s] === deepestM[s])];
  const when = seldom
    ? sentence`Siphoning it out twice a year is enough.`
    : sentence`Siphon it out ${every(due.everyDays)}, before it is ${length(SEDIMENT_DUE_M)} deep${due.fullDay === null ? " (at the feeding of the last week)" : ""}.`;
  return [
    {
      id: "sediment",
      topic: "upkeep",
      consequence: "none",
      likelihood: "planned",
      word: "SEDIMENT",
      text:
        deepestM[s] < THINNEST_M
          ? sentence`Sediment in the ${chambers[s].role} chamber stays less than ${length(THINNEST_M)} deep. ${when}`
          : sentence`Sediment in the ${chambers[s].role} chamber is deepest on ${day(deepest)}, at ${length(deepestM[s])}. ${when}`,
      value: deepestM[s],
      unit: "m",
      advice:
        "Left there, it dissolves into ammonia and uses oxygen. Taken out, its nitrogen never becomes nitrate. How thick such mud lies is not published.",
    },
  ];
}

/** Retention below which a place counts as full of sediment. */
const FULL_RETENTION = 0.5;

/** Places in which sediment takes so much of the room of the water that most waste passes them. */
function fullPlaces({ aquarium: { cells, chamberCells, rig }, operating, days }: Run): Statement[] {
  return cells.flatMap(({ name }, c): Statement[] => {
    const at = operating.findIndex(({ retention }) => retention[c] < FULL_RETENTION);
    if (at < 0) return [];
    const chamber = chamberCells.indexOf(c);
    const place = chamber < 0 ? name : `${rig.sump.chambers[chamber].role} chamber`;
    return [
      {
        id: `sediment-full${c === 0 ? "" : `-${c}`}`,
        topic: "upkeep",
        consequence: "harm",
        likelihood: "planned",
        word: "FULL OF DIRT",
        text: sentence`Sediment fills most of the ${place} from ${day(days[at])} on. Waste no longer settles there; the water carries it on.`,
        value: days[at],
        unit: "day",
        advice: "Siphon it out long before, feed less, or give the waste more room to settle.",
      },
    ];
  });
}
