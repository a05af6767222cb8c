// "canister may have been without oxygen since hour 2.5: do not restart it into the tank." What closed filters ask for in a cut and beside it.
import { type ClosedFilter, displayPlanM2, type Rig } from "../../models/rig.ts";
import type { ClosedFilters } from "../analysis/outage.ts";
import type { Statement } from "../result/statement.ts";
import { concentration, type Message, number, sentence, volume } from "../text/message.ts";

/** A hose off empties the vessel down to the intake [m3]. */
function drainedM3({ displays, sump }: Rig, { on, intakeDepthM }: ClosedFilter): number {
  const display = displays.find(({ id }) => id === on);
  const chamber = sump.chambers.find(({ id }) => id === on);
  const planM2 = display ? displayPlanM2(display) : (chamber?.lengthM ?? 0) * sump.widthM;
  return planM2 * intakeDepthM;
}

/** For each closed filter: how it may come back after the cut that is tried, what the difference is, and what its hoses can do. */
export function closedFilterFindings(rig: Rig, { filters, outcomes }: ClosedFilters): Statement[] {
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
  // One for all: they are started or rinsed together.
  const apart = outcomes ? difference(outcomes) : [];
  const starting = filters.map(
    ({ water, advice: { restartIntoTank, words } }): Statement => ({
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
function difference({ restarted, rinsed }: NonNullable<ClosedFilters["outcomes"]>): Message {
  const figures = sentence`${concentration("ammonia", restarted.tan)}, ${concentration("nitrite", restarted.no2)} and oxygen down to ${number(restarted.oxygen)} mg/L when it is started as it stands; ${concentration("ammonia", rinsed.tan)}, ${concentration("nitrite", rinsed.no2)} and ${number(rinsed.oxygen)} mg/L when it is rinsed first`;
  return sentence`In the fortnight after the simulation has ${figures}. Hydrogen sulphide, which kills at thousandths of a milligram, is not in these figures, and is why it is rinsed: the nose decides.`;
}
