// Findings about the water temperature while everything runs, and about the heater power it needs.
import { stillHours } from "../../models/nitrogen/operation/outage-record.ts";
import type { Run } from "../../models/nitrogen/simulation/simulation.ts";
import { holdingPower } from "../../models/outage/running-heat.ts";
import { HEAT_LOSS_FACTOR, limitsFor } from "../../models/outage/temperature.ts";
import { freezingC } from "../../models/water/freezing.ts";
import { HOURS_PER_DAY } from "../../sim/time.ts";
import type { NitrogenSetup } from "../model/compile.ts";
import type { Statement } from "../result/statement.ts";
import { day, number, sentence, temperature } from "../text/message.ts";

/**
 * Deviation from the set-point at which the water counts as too cold [K]: an aquarium thermometer resolves half a degree.
 */
const BELOW_K = 0.5;

/** Time after an outage in which a heater of ordinary power restores the temperature [d] (modelling assumption). */
const WARMED_AGAIN_DAYS = 3;

const about = (watts: number) => number(watts, 2);

/** @returns no finding if the scenario has no heat data and an ordinary heater holds the temperature */
export function heatFindings({ rest, exchange, management, rig }: NitrogenSetup, run: Run): Statement[] {
  const { climate, heaterW, temperatureC: setpointC } = management;
  const usual = climate ?? { dayC: rig.room.temperatureC, nightC: rig.room.temperatureC };
  const { meanW, coldestW } = holdingPower(rest, exchange, setpointC, usual);
  const needs = sentence`Keeping ${temperature(setpointC)} takes about ${about(meanW)} W${coldestW > 1.05 * meanW ? sentence`, ${about(coldestW)} W in the coldest hour` : ""}, pump and lamps counted (a factor ${number(HEAT_LOSS_FACTOR)} either way)`;
  if (climate === null) {
    if (coldestW <= heaterW) return [];
    return [
      {
        id: "heat",
        topic: "water",
        consequence: "nuisance",
        likelihood: "planned",
        word: "HEATER",
        text: sentence`${needs}. This answer assumes that the water stays at that temperature. Give the power of your heater to see whether it does.`,
        value: coldestW,
        unit: "W",
      },
    ];
  }
  const { displayCells } = run.aquarium;
  // The findings of an outage cover its cooling; days within the recovery time of the heater are left out here.
  const afterCut = (day: number): boolean =>
    run.cuts.some(({ event }) => day >= event.day && day < event.day + stillHours(event) / HOURS_PER_DAY + WARMED_AGAIN_DAYS);
  const running = run.days.map((on, n) => ({ on, n })).filter(({ on }) => !afterCut(on));
  const of = (n: number): number[] => displayCells.map((c) => run.operating[n].temperatureC[c]);
  const coldest = running.reduce((best, { n }) => (Math.min(...of(n)) < Math.min(...of(best)) ? n : best), running[0]?.n ?? 0);
  const warmest = running.reduce((best, { n }) => (Math.max(...of(n)) > Math.max(...of(best)) ? n : best), running[0]?.n ?? 0);
  const [low, high] = [Math.min(...of(coldest)), Math.max(...of(warmest))];
  const short = heaterW > 0 && low < setpointC - BELOW_K;
  const ice =
    low <= freezingC(rig.salinityGPerKg) + 0.01
      ? " There the water begins to freeze; ice, and what it breaks, is not computed."
      : "";
  const findings: Statement[] = [
    {
      id: "heat",
      topic: "water",
      consequence: short || ice !== "" ? "harm" : "none",
      likelihood: "planned",
      word: short ? "TOO LITTLE HEAT" : ice !== "" ? "FREEZES" : heaterW > 0 ? "HEATER" : "UNHEATED",
      text: short
        ? sentence`${needs}; the heater has ${about(heaterW)} W, and the water falls to ${temperature(low)} on ${day(run.days[coldest])}.${ice}`
        : heaterW > 0
          ? sentence`${needs}; the heater has ${about(heaterW)} W.`
          : sentence`Without a heater the water follows the room: it goes from ${temperature(low)} to ${temperature(high)}.${ice}`,
      value: coldestW,
      unit: "W",
      ...(short
        ? { advice: "Take a stronger heater, or cover the tank: most of the heat leaves with the water that evaporates." }
        : {}),
    },
  ];
  const kinds = [...new Set(management.groups.map(({ kind }) => kind))];
  const most = Math.min(...kinds.map((kind) => limitsFor(kind, setpointC).amberHighC));
  if (high > most)
    findings.push({
      id: "heat-high",
      topic: "water",
      consequence: "harm",
      likelihood: "planned",
      word: "TOO WARM",
      text: sentence`The water warms to ${temperature(high)} on ${day(run.days[warmest])}; the animals in it are well up to about ${temperature(most)}.`,
      value: high,
      unit: "°C",
      advice: "Lift the cover and let air over the water, give more air, feed less. Warm water holds less oxygen.",
    });
  return findings;
}
