// "canister may have been without oxygen since hour 2.5: do not restart it into the tank." Advice on closed filters
// during an outage and otherwise.
import type { AnoxicTimes } from "../../models/outage/stagnant-water.ts";
import { type ClosedFilter, displayPlanM2, type Rig } from "../../models/rig.ts";
import type { ClosedFilters } from "../analysis/outage.ts";
import type { Statement } from "../result/statement.ts";
import { capital, concentration, type Message, number, sentence, volume } from "../text/message.ts";

/** Volume that a disconnected hose drains from the vessel down to the intake [m³]. */
function drainedM3({ displays, sump }: Rig, { on, intakeDepthM }: ClosedFilter): number {
  const display = displays.find(({ id }) => id === on);
  const chamber = sump.chambers.find(({ id }) => id === on);
  const planM2 = display ? displayPlanM2(display) : (chamber?.lengthM ?? 0) * sump.widthM;
  return planM2 * intakeDepthM;
}

/** Whether hydrogen sulphide is likely when the power returns, not only possible. */
const isLikelyAnoxic = ({ likelyNitrateGoneH }: AnoxicTimes, cutHours: number): boolean =>
  likelyNitrateGoneH !== null && likelyNitrateGoneH < cutHours;

/**
 * For each closed filter: how it may be restarted after the default outage, the effect of that choice, and the risk of
 * its hoses.
 */
export function closedFilterFindings(
  rig: Rig,
  { filters, outcomes }: ClosedFilters,
  cutHours: number,
  rinsed: boolean,
): Statement[] {
  const hoses = rig.closedFilters.map(
    (filter): Statement => ({
      id: `hose-${filter.id}`,
      topic: "hydraulics",
      consequence: "loss",
      likelihood: "possible",
      word: "HOSES",
      text: sentence`If a hose of ${filter.id} comes off, ${filter.on} drains down to the filter's intake: up to ${volume(drainedM3(rig, filter))} on the floor.`,
      value: drainedM3(rig, filter),
      unit: "m3",
      advice:
        "Clamp both hoses, and close the taps when nobody is home for days. A higher intake, or a small hole in its pipe just below the surface, loses less water. The fault table does not include hoses.",
    }),
  );
  // One sentence for all filters, because they are restarted or rinsed together.
  const apart = outcomes ? difference(outcomes) : [];
  const starting = filters.map(
    ({ water, advice: { restartIntoTank, words } }): Statement => ({
      id: `closed-filter-${water.name}`,
      topic: "power cut",
      consequence: restartIntoTank ? "none" : "loss",
      likelihood: isLikelyAnoxic(water.anoxic, cutHours) && !rinsed ? "expected" : "possible",
      word: restartIntoTank ? "START IT" : "RINSE FIRST",
      text: words,
      value: water.anoxic.oxygenGoneH?.[0] ?? null,
      unit: "h",
      brief: restartIntoTank
        ? sentence`${capital(water.name)} may start by itself when the power is back.`
        : sentence`No: ${water.name} must not start by itself; rinse it in tank water first.`,
      ...(restartIntoTank ? {} : { advice: apart }),
    }),
  );
  return [...starting, ...hoses];
}

/** Effect of restarting closed filters as they are, compared with rinsing them first. */
function difference({ restarted, rinsed }: NonNullable<ClosedFilters["outcomes"]>): Message {
  const reading = ({ tan, no2, oxygen }: typeof rinsed): Message =>
    sentence`ammonia to ${concentration("ammonia", tan)}, nitrite to ${concentration("nitrite", no2)} and oxygen down to ${number(oxygen)} mg/L`;
  return sentence`In the two weeks after, the simulation takes ${reading(restarted)} when it is started as it is, and ${reading(rinsed)} when it is rinsed first. Hydrogen sulphide, which kills at thousandths of a milligram, is not in these figures. It is the reason to rinse: if it smells of rotten eggs, do not start it.`;
}
