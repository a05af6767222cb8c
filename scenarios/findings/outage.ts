// "You have about 5 h before the fish need air." The clocks of the cut that is always tried, and of the longest one planned.
import { stillHours } from "../../models/nitrogen/operation/outage-record.ts";
import type { OutageOptions } from "../../models/nitrogen/operation/power-cut.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import type { Snapshot } from "../../models/nitrogen/tank/snapshot.ts";
import { aftermath, TEST_DAYS } from "../../models/outage/aftermath.ts";
import { batteryAnswer, type LoadId } from "../../models/outage/battery.ts";
import { type AtRest, type Clock, type Cut, HORIZON_H } from "../../models/outage/cut.ts";
import { outageLoss } from "../../models/outage/media-clock.ts";
import { drownedShare } from "../../models/outage/media-drying.ts";
import { continueRun, type OutageTrial, runTrial, trialStart } from "../../models/outage/outage-trial.ts";
import { closedWaters } from "../../models/outage/stagnant-volumes.ts";
import { outageHeat } from "../../models/outage/temperature.ts";
import type { ResolvedScenario } from "../build/build.ts";
import { aquariumOf, type NitrogenSetup } from "../model/compile.ts";
import { CLEARED_NO2, CLEARED_TAN } from "../model/readiness.ts";
import type { BatteryPlan, OutageClock, RunResult } from "../result/result.ts";
import type { Statement } from "../result/statement.ts";
import { concentration, length, type Message, number, sentence } from "../text/message.ts";
import { peakOf, type Track } from "./cycle.ts";

/** A clock that is not reached in this cut but would be in one three times as long is worth a look. */
const NEAR = 3;
/** A tower more than half under water at rest is watched (modelling assumption). */
const MUCH_DROWNED = 0.5;

export const clocksOf = (clocks: readonly Clock[]): OutageClock[] =>
  clocks.map(({ id, name, amberH, redH, why, source }) => ({ id, name, amberH, redH, why, source }));

/** Hours as one would say them: to five minutes below two hours, to the half hour below ten. */
function hours(h: number): Message {
  if (h < 2) return sentence`${Math.max(5, Math.round((h * 60) / 5) * 5)} min`;
  return sentence`${asSaid(h)} h`;
}

const asSaid = (h: number): number => (h < 2 ? Math.round(h * 12) / 12 : h < 10 ? Math.round(h * 2) / 2 : Math.round(h));

const range = ([from, to]: readonly [number, number]): Message => {
  if (to >= HORIZON_H) return sentence`${hours(from)} or later`;
  return asSaid(from) === asSaid(to) ? sentence`about ${hours(from)}` : sentence`${hours(from)} to ${hours(to)}`;
};

export function outageFindings(clocks: readonly Clock[], cut: Cut, heaterWarning: string | null): Statement[] {
  const findings = clocks.map((clock): Statement => {
    const { amberH, redH } = clock;
    const id = `clock-${clock.id}`;
    if (amberH === null && redH === null)
      return {
        id,
        topic: "power cut",
        level: "info",
        word: "LASTS",
        text: `${clock.name}: no limit is reached within ${HORIZON_H / 24} days.`,
        value: null,
        unit: "h",
        advice: clock.why,
      };
    const first = (redH ?? amberH)!;
    const urgency = redH && redH[0] < cut.hours ? "alarm" : amberH && amberH[0] < cut.hours * NEAR ? "watch" : "info";
    return {
      id,
      topic: "power cut",
      level: urgency,
      word: urgency === "watch" ? "WATCH" : "CLOCK",
      text: sentence`${clock.name}: ${amberH ? sentence`look after ${range(amberH)}` : "no early sign"}${redH ? sentence`, late after ${range(redH)}` : ""}. The cut tried is ${hours(cut.hours)}.`,
      value: first[0],
      unit: "h",
      advice: clock.why,
    };
  });
  if (heaterWarning)
    findings.push({
      id: "stagnant-heater",
      topic: "power cut",
      level: "watch",
      word: "HEATER",
      text: heaterWarning,
      value: null,
      unit: "",
    });
  return findings;
}

/** Media of a tower that stand under water while the pump is off, and what that asks of the tower's walls. */
export function drownedFindings(rest: AtRest): Statement[] {
  return rest.rig.towers.flatMap((tower): Statement[] => {
    const share = drownedShare(rest, tower);
    if (share === 0) return [];
    const levelZ = rest.chamberLevelZ[tower.drainsTo] ?? 0;
    return [
      {
        id: `drowned-${tower.id}`,
        topic: "power cut",
        level: share > MUCH_DROWNED ? "watch" : "info",
        word: "DROWNED",
        text: sentence`With the pump off the water stands ${length(levelZ)} above the sump's floor: ${share >= 1 ? "all media" : sentence`the lowest ${length(share * tower.mediaDepthM)} of ${length(tower.mediaDepthM)} of media`} in ${tower.id} are under it.`,
        value: share * tower.mediaDepthM,
        unit: "m",
        advice: sentence`Harmless for hours; stagnant after a day or two, and a puff of dirt when the pump starts (common practice, no published source). Openings in the side of the tower must lie higher than ${length(levelZ)}. What is above the water dries instead: see its clock.`,
      },
    ];
  });
}

const loadNames: Readonly<Record<LoadId, string>> = { air: "air pump", return: "return pump", heater: "heater" };

/** What the keeper's battery does in the cut that is tried. */
export function batteryPlan({ battery, outage, rig, management }: ResolvedScenario): BatteryPlan | null {
  if (!battery) return null;
  const { alone, order, words } = batteryAnswer(
    battery.capacityWh,
    { airW: battery.airW, returnW: rig.return.pump.powerW, heaterW: management.heaterW },
    outage.hours,
  );
  return {
    capacityWh: battery.capacityWh,
    alone: alone.map(({ id, watts, hours: h }) => ({ name: loadNames[id], watts, hours: h.likely })),
    order: order.map(({ id, hours: h }) => ({ name: loadNames[id], hours: h })),
    words,
  };
}

/** What the hydraulic model and the heat balance say of a cut. */
export const outageOptions = ({ stop, rest, exchange }: NitrogenSetup): OutageOptions => ({
  stop,
  outageHeat: outageHeat(rest, exchange),
});

/** The cut that is tried, lived through with the run's own water and animals. */
export const runTrials = (setup: NitrogenSetup, run: Run, cut: Cut): OutageTrial =>
  runTrial(aquariumOf(setup), trialStart(run), cut, outageOptions(setup));

/** Readings of all displays together: apart in a cut, they do not mix, and the model lets all animals excrete into the first. */
export function inDisplays(run: Run, substance: "tan" | "no2"): Track {
  const { layout, displayCells, exchange } = run.aquarium;
  const waterM3 = displayCells.reduce((sum, c) => sum + exchange.volumesM3[c], 0);
  const mean = (y: Float64Array) =>
    displayCells.reduce((sum, c) => sum + (exchange.volumesM3[c] / waterM3) * y[layout.cellIndex(c, substance)], 0);
  return { days: run.days, values: run.states.map(mean) };
}

/** A mini-cycle would have shown by then [d] (common practice, no published source). */
const FOLLOWED_DAYS = 14;

/** The cut that is tried and the fortnight after it, from a moment of the run. */
export function fortnightAfter(setup: NitrogenSetup, cut: Cut, from: Snapshot): Run {
  const aquarium = aquariumOf(setup);
  const options = { ...outageOptions(setup), outageLoss: outageLoss(setup.rest, aquarium) };
  return continueRun(aquarium, from, cut, stillHours(cut) / 24 + FOLLOWED_DAYS, options);
}

/** What the cut that is tried leaves behind, where the calendar has none of its own. */
export function aftermathFinding(setup: NitrogenSetup, cut: Cut, run: Run, { from }: OutageTrial): Statement[] {
  if (run.cuts.length > 0 || from.operating.groups.length === 0) return [];
  const after = fortnightAfter(setup, cut, from);
  const [tan, no2] = [peakOf(inDisplays(after, "tan")), peakOf(inDisplays(after, "no2"))];
  const when = ({ day }: { readonly day: number }): Message =>
    day < 2 ? sentence`hour ${Math.round(24 * day)}` : sentence`day ${number(day)}`;
  return [
    {
      id: "after-cut",
      topic: "power cut",
      level: tan.value > CLEARED_TAN || no2.value > CLEARED_NO2 ? "watch" : "info",
      word: "AFTER IT",
      text: sentence`A cut of ${hours(cut.hours)} at the end of the run: in the fortnight after, kept as before, ammonia reaches ${concentration("ammonia", tan.value)} (${when(tan)} from its beginning) and nitrite ${concentration("nitrite", no2.value)} (${when(no2)}).`,
      value: no2.value,
      unit: "g N/m3",
      advice: `Test on days ${TEST_DAYS.join(", ")} after it.`,
    },
  ];
}

/** The list for the time after the cut that is tried. */
export function aftermathOf(cut: Cut, rest: AtRest, tried: OutageTrial): RunResult["aftermath"] {
  const { aquarium, likely } = tried;
  const loss = outageLoss(rest, aquarium);
  const { towers, submerged, closed } = aquarium.filmOf;
  const lost = [...towers, ...submerged, ...closed].map((film) =>
    loss(cut, film, {
      ...likely.films[film],
      foulHours: likely.foulHours(aquarium.layout.wiring.films[film].cell, cut.hours),
    }),
  );
  const worst = lost.reduce((a, b) => (b.nob > a.nob ? b : a), { aob: 0, nob: 0 });
  return aftermath(cut, closedWaters(rest, tried), worst);
}
