// "canister may have been without oxygen since hour 2.5: do not restart it into the tank." What closed filters ask for in a cut and beside it.
import { stillHours } from "../../models/nitrogen/operation/outage-record.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { closedFilterAdvice } from "../../models/outage/aftermath.ts";
import type { Cut } from "../../models/outage/cut.ts";
import type { OutageTrial } from "../../models/outage/outage-trial.ts";
import { closedWaters } from "../../models/outage/stagnant-volumes.ts";
import { type ClosedFilter, displayPlanM2, type Rig } from "../../models/rig.ts";
import type { NitrogenSetup } from "../model/compile.ts";
import type { Statement } from "../result/statement.ts";
import { concentration, type Message, number, sentence, volume } from "../text/message.ts";
import { peakOf } from "./cycle.ts";
import { fortnightAfter, inDisplays } from "./outage.ts";

/** A hose off empties the vessel down to the intake [m3]. */
function drainedM3({ displays, sump }: Rig, { on, intakeDepthM }: ClosedFilter): number {
  const display = displays.find(({ id }) => id === on);
  const chamber = sump.chambers.find(({ id }) => id === on);
  const planM2 = display ? displayPlanM2(display) : (chamber?.lengthM ?? 0) * sump.widthM;
  return planM2 * intakeDepthM;
}

/** For each closed filter: how it may come back after the cut that is tried, what the difference is, and what its hoses can do. */
export function closedFilterFindings(setup: NitrogenSetup, cut: Cut, tried: OutageTrial): Statement[] {
  const { rig, rest } = setup;
  const waters = closedWaters(rest, tried);
  const hoses = rig.closedFilters.map(
    (filter): Statement => ({
      id: `hose-${filter.id}`,
      topic: "hydraulics",
      level: "watch",
      word: "HOSES",
      text: sentence`If a hose of ${filter.id} comes off, ${filter.on} drains down to its intake: up to ${volume(drainedM3(rig, filter))} on the floor.`,
      value: drainedM3(rig, filter),
      unit: "m3",
      advice:
        "Clamp both hoses and close the taps when the tank is left for days; an intake higher up, or a small hole in its pipe just under the surface, loses less. While the tank falls the return pump adds what stands above its own intake. Not told by the levels above: the filter gives its water back where it takes it.",
    }),
  );
  const told = waters.map((water) => ({ water, ...closedFilterAdvice(water, cut.hours) }));
  // One for all: they are started or rinsed together.
  const apart = told.some(({ restartIntoTank }) => !restartIntoTank) ? difference(setup, cut, tried) : [];
  const starting = told.map(
    ({ water, restartIntoTank, words }): Statement => ({
      id: `closed-filter-${water.name}`,
      topic: "power cut",
      level: restartIntoTank ? "info" : "alarm",
      word: restartIntoTank ? "START IT" : "RINSE FIRST",
      text: words,
      value: water.foul.oxygenGoneH?.[0] ?? null,
      unit: "h",
      ...(restartIntoTank ? {} : { advice: apart }),
    }),
  );
  return [...starting, ...hoses];
}

/** What comes of starting closed filters as they stand, against rinsing them first. */
function difference(setup: NitrogenSetup, cut: Cut, { from }: OutageTrial): Message {
  const after = (closedFilter: Cut["closedFilter"]) => {
    const run = fortnightAfter(setup, { ...cut, closedFilter }, from);
    const back = stillHours(cut) / 24;
    return {
      tan: peakOf(inDisplays(run, "tan"), back).value,
      no2: peakOf(inDisplays(run, "no2"), back).value,
      oxygen: lowestAfter(run),
    };
  };
  const [restarted, rinsed] = [after("restarted"), after("rinsed first")];
  const figures = sentence`${concentration("ammonia", restarted.tan)}, ${concentration("nitrite", restarted.no2)} and oxygen down to ${number(restarted.oxygen)} mg/L when it is started as it stands; ${concentration("ammonia", rinsed.tan)}, ${concentration("nitrite", rinsed.no2)} and ${number(rinsed.oxygen)} mg/L when it is rinsed first`;
  return sentence`In the fortnight after the simulation has ${figures}. Hydrogen sulphide, which kills at thousandths of a milligram, is not in these figures, and is why it is rinsed: the nose decides.`;
}

/** Lowest oxygen in the displays in the hours after the power is back [g/m3]. */
function lowestAfter({ cuts: [cut], aquarium: { displayCells } }: Run): number {
  return Math.min(...cut.oxygen.slice(cut.inCut).flatMap((cells) => displayCells.map((c) => cells[c])));
}
