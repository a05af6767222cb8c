// "You have about 5 h before the fish need air." The clocks of the cut that is always tried, and of the longest one planned.
import type { OutageOptions } from "../../models/nitrogen/powerCut.ts";
import type { Run } from "../../models/nitrogen/timeline.ts";
import { aftermath } from "../../models/outage/aftermath.ts";
import { batteryAnswer, type LoadId } from "../../models/outage/battery.ts";
import { type AtRest, type Clock, type Cut, HORIZON_H } from "../../models/outage/cut.ts";
import { outageLoss } from "../../models/outage/mediaClock.ts";
import { closedWaters } from "../../models/outage/standing.ts";
import { outageHeat } from "../../models/outage/temperature.ts";
import { type TriedCut, triedFrom, tryCut } from "../../models/outage/triedCut.ts";
import type { Built } from "../build.ts";
import { aquariumOf, type NitrogenSetup } from "../compile.ts";
import type { BatteryPlan, OutageClock, RunResult } from "../result.ts";
import { type Said, say } from "../say.ts";
import type { Statement } from "./statement.ts";

/** A clock that is not reached in this cut but would be in one three times as long is worth a look. */
const NEAR = 3;

export const clocksOf = (clocks: readonly Clock[]): OutageClock[] =>
  clocks.map(({ id, name, amberH, redH, why, source }) => ({ id, name, amberH, redH, why, source }));

/** Hours as one would say them: to five minutes below two hours, to the half hour below ten. */
function hours(h: number): Said {
  if (h < 2) return say`${Math.max(5, Math.round((h * 60) / 5) * 5)} min`;
  return say`${asSaid(h)} h`;
}

const asSaid = (h: number): number => (h < 2 ? Math.round(h * 12) / 12 : h < 10 ? Math.round(h * 2) / 2 : Math.round(h));

const range = ([from, to]: readonly [number, number]): Said => {
  if (to >= HORIZON_H) return say`${hours(from)} or later`;
  return asSaid(from) === asSaid(to) ? say`about ${hours(from)}` : say`${hours(from)} to ${hours(to)}`;
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
    const level = redH && redH[0] < cut.hours ? "alarm" : amberH && amberH[0] < cut.hours * NEAR ? "watch" : "info";
    return {
      id,
      topic: "power cut",
      level,
      word: level === "alarm" ? "CLOCK" : level === "watch" ? "WATCH" : "CLOCK",
      text: say`${clock.name}: ${amberH ? say`look after ${range(amberH)}` : "no early sign"}${redH ? say`, late after ${range(redH)}` : ""}. The cut tried is ${hours(cut.hours)}.`,
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

const loadNames: Readonly<Record<LoadId, string>> = { air: "air pump", return: "return pump", heater: "heater" };

/** What the keeper's battery does in the cut that is tried. */
export function batteryPlan({ battery, outage, rig, husbandry }: Built): BatteryPlan | null {
  if (!battery) return null;
  const { alone, order, words } = batteryAnswer(
    battery.capacityWh,
    { airW: battery.airW, returnW: rig.return.pump.powerW, heaterW: husbandry.heaterW },
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
export const triedOn = (setup: NitrogenSetup, run: Run, cut: Cut): TriedCut =>
  tryCut(aquariumOf(setup), triedFrom(run), cut, outageOptions(setup));

/** The list for the time after the cut that is tried. */
export function aftermathOf(cut: Cut, rest: AtRest, tried: TriedCut): RunResult["aftermath"] {
  const { aquarium, likely } = tried;
  const loss = outageLoss(rest, aquarium);
  const { towers, submerged, closed } = aquarium.filmOf;
  const lost = [...towers, ...submerged, ...closed].map((film) =>
    loss(cut, film, {
      ...likely.films[film],
      foulHours: likely.foulHours(aquarium.system.wiring.films[film].cell, cut.hours),
    }),
  );
  const worst = lost.reduce((a, b) => (b.nob > a.nob ? b : a), { aob: 0, nob: 0 });
  return aftermath(cut, closedWaters(rest, tried), worst);
}
