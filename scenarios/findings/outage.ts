// "You have about 5 h before the fish need air." The clocks of the default outage, and of the longest planned one.

import { aftermath, TEST_DAYS } from "../../models/outage/aftermath.ts";
import { batteryAnswer, type LoadId } from "../../models/outage/battery.ts";
import { type AtRest, type Clock, type Cut, HORIZON_H, type Words } from "../../models/outage/cut.ts";
import { drownedShare } from "../../models/outage/media-drying.ts";
import type { OutageTrial } from "../../models/outage/outage-trial.ts";
import { closedWaters } from "../../models/outage/stagnant-volumes.ts";
import { returnLines } from "../../models/rig.ts";
import { type Fortnight, worstLoss } from "../analysis/outage.ts";
import type { ResolvedScenario } from "../build/build.ts";
import { CLEARED_NO2, CLEARED_TAN } from "../model/readiness.ts";
import type { BatteryPlan, OutageClock, RunResult } from "../result/result.ts";
import { type Statement, spoken } from "../result/statement.ts";
import {
  concentration,
  hourSpan,
  hours,
  length,
  type Message,
  type MessageFormatter,
  type Quantity,
  quantified,
  sentence,
} from "../text/message.ts";

const reason = (why: Words): Message => why.flatMap((part): Message => (typeof part === "string" ? quantified(part) : [part]));

/** A tower more than half under water at rest is watched (modelling assumption). */
const MUCH_DROWNED = 0.5;

export const clocksOf = (clocks: readonly Clock[], messageFormatter: MessageFormatter): OutageClock[] =>
  clocks.map(({ id, name, amberH, redH, why, source }) => {
    const { text, ...said } = spoken(messageFormatter, reason(why));
    return { id, name, amberH, redH, why: text, ...said, source };
  });

const range = ([from, to]: readonly [number, number]): Quantity => hourSpan(from, to >= HORIZON_H ? null : to);

type Times = Pick<Clock, "amberH" | "redH">;

/** Text of a clock by its subject; `first` is the early sign, `late` the time when it is serious. */
function clockText({ id, name, amberH, redH }: Clock): Message {
  const first = amberH ?? redH!;
  const late = redH === null ? "" : sentence`; from ${hours(redH[0])} on it may be too late`;
  if (id.startsWith("media-drying"))
    return redH === null
      ? sentence`In a power cut the media begin to dry out after ${range(first)}.`
      : sentence`In a power cut the media begin to dry out after ${range(first)}; after ${range(redH)} a third of them may be dry.`;
  if (id.startsWith("media-anoxic"))
    return sentence`In a power cut the water around media that stay under water may run out of nitrate too after ${range(first)}${redH === null ? "" : sentence`, and turn foul after ${range(redH)}`}.`;
  if (id.startsWith("closed"))
    return sentence`${name.replace("Stale water in", "In a power cut the water in")} may lose its oxygen after ${range(first)}${redH === null ? "" : sentence`, and turn foul after ${range(redH)}`}.`;
  if (id === "temperature")
    return sentence`In a power cut the tank may leave the temperature range of its animals after ${range(first)}${late}.`;
  return sentence`${name === "Air for the fish" ? "Fish" : name.replace("Air for the ", "").replace(/^./, (letter) => letter.toUpperCase())} may start to run short of air ${range(first)} into a power cut${late}.`;
}

const NO_LIMIT: Readonly<Record<string, string>> = {
  "media-drying": "In a power cut the media do not dry out within 5 days.",
  temperature: "In a power cut the tank stays within the temperature range of its animals for 5 days.",
};

/** Additional data of the default outage for its clocks. */
export interface CutAsked {
  readonly cut: Cut;
  /** Likely time at which oxygen reaches a level that the animals do not survive [h]; null when not within five days. */
  readonly diesAfterH: number | null;
  /** The same with an air pump on a battery; computed only where it is needed. */
  readonly withAir: () => number | null;
}

export function outageFindings(
  clocks: readonly Clock[],
  { cut, diesAfterH, withAir }: CutAsked,
  heaterWarning: Words | null,
): Statement[] {
  const asked = sentence` You asked about ${hours(cut.hours)}.`;
  const findings = clocks.map((clock): Statement => {
    const { amberH, redH } = clock;
    const id = `clock-${clock.id}`;
    const base = { id, topic: "power cut", unit: "h", advice: reason(clock.why) } as const;
    if (amberH === null && redH === null) {
      const kind = Object.keys(NO_LIMIT).find((name) => clock.id.startsWith(name));
      const text = kind
        ? NO_LIMIT[kind]
        : `In a power cut, ${clock.name.charAt(0).toLowerCase()}${clock.name.slice(1)}: no limit is reached within ${HORIZON_H / 24} days.`;
      return { ...base, consequence: "none", likelihood: "planned", word: "LASTS", text, value: null };
    }
    const air = isAir(clock);
    const kills = air && diesAfterH !== null && diesAfterH < cut.hours;
    const stakes = kills ? "loss" : isWithin(clock, cut.hours) ? "harm" : "none";
    return {
      ...base,
      consequence: stakes,
      likelihood: "expected",
      word: kills ? "AIR" : stakes === "harm" ? "WATCH" : "TIME LEFT",
      text: sentence`${clockText(clock)}${asked}`,
      value: (amberH ?? redH)![0],
      ...(air ? { brief: clockText(clock) } : {}),
      ...(kills ? { remedy: airCure(withAir(), cut.hours) } : {}),
    };
  });
  if (heaterWarning)
    findings.push({
      id: "stagnant-heater",
      topic: "power cut",
      consequence: "harm",
      likelihood: "possible",
      word: "HEATER",
      text: heaterWarning,
      value: null,
      unit: "",
    });
  return findings;
}

const isAir = ({ id }: Clock): boolean => !["media", "closed", "temperature"].some((other) => id.startsWith(other));

const isWithin = ({ amberH, redH }: Times, cutHours: number): boolean =>
  (redH ?? amberH)![0] < cutHours || (amberH ?? redH)![0] < cutHours;

const airCure = (diesAfterH: number | null, cutHours: number): Message =>
  diesAfterH === null || diesAfterH >= cutHours
    ? sentence`Cheapest cure: an air pump on a battery. With it oxygen stays above what the animals need to live for the whole ${hours(cutHours)}.`
    : sentence`Cheapest cure: an air pump on a battery. With it they have about ${hours(diesAfterH)}; for longer, keep fewer animals or a bigger pump.`;

/** Media of a tower that are submerged while the pump is off, and the requirement for the tower's walls. */
export function drownedFindings(rest: AtRest): Statement[] {
  return rest.rig.towers.flatMap((tower): Statement[] => {
    const share = drownedShare(rest, tower);
    if (share === 0) return [];
    const levelZ = rest.chamberLevelZ[tower.drainsTo] ?? 0;
    return [
      {
        id: `drowned-${tower.id}`,
        topic: "power cut",
        consequence: share > MUCH_DROWNED ? "harm" : "none",
        likelihood: "expected",
        word: "UNDER WATER",
        text: sentence`With the pump off, the water in the sump stands ${length(levelZ)} deep and covers ${share >= 1 ? "all the media" : sentence`the lowest ${length(share * tower.mediaDepthM)} of the ${length(tower.mediaDepthM)} of media`} in ${tower.id}.`,
        value: share * tower.mediaDepthM,
        unit: "m",
        advice: sentence`That is harmless for hours; after a day or two the water there goes stale, and the restart brings a puff of dirt (common practice, no published source). Openings in the side of the tower must lie higher than ${length(levelZ)}.`,
      },
    ];
  });
}

const loadNames: Readonly<Record<LoadId, string>> = { air: "air pump", return: "return pump", heater: "heater" };

/** Use of the keeper's battery in the default outage. */
export function batteryPlan({ battery, outage, rig, management }: ResolvedScenario): BatteryPlan | null {
  if (!battery) return null;
  const { alone, order, words } = batteryAnswer(
    battery.capacityWh,
    {
      airW: battery.airW,
      returnW: returnLines(rig).reduce((sum, { pump }) => sum + pump.powerW, 0),
      heaterW: management.heaterW,
    },
    outage.hours,
  );
  return {
    capacityWh: battery.capacityWh,
    alone: alone.map(({ id, watts, hours: h }) => ({ name: loadNames[id], watts, hours: h.likely })),
    order: order.map(({ id, hours: h }) => ({ name: loadNames[id], hours: h })),
    words,
  };
}

/** After-effects of the default outage, compared with the same days without one, where the plan has no outage of its own. */
export function aftermathFinding(cut: Cut, fortnight: Fortnight | null): Statement[] {
  if (!fortnight || fortnight.oxygen < DEADLY_OXYGEN) return [];
  const [tan, no2] = [fortnight.tan.value, fortnight.no2.value];
  const [tanWithout, no2Without] = [fortnight.without.tan.value, fortnight.without.no2.value];
  const worse = tan - tanWithout > SAME_G_PER_M3 || no2 - no2Without > SAME_G_PER_M3;
  const shows = worse && (tan > CLEARED_TAN || no2 > CLEARED_NO2);
  return [
    {
      id: "after-cut",
      topic: "power cut",
      consequence: shows ? "harm" : "none",
      likelihood: "expected",
      word: "AFTERWARDS",
      text: worse
        ? sentence`A power cut of ${hours(cut.hours)} would take ammonia to ${concentration("ammonia", tan)} and nitrite to ${concentration("nitrite", no2)} in the two weeks after it; without it they would reach ${concentration("ammonia", tanWithout)} and ${concentration("nitrite", no2Without)}.`
        : sentence`A power cut of ${hours(cut.hours)} makes no difference to ammonia and nitrite in the two weeks after it that a kit could show.`,
      value: no2,
      unit: "g N/m3",
      ...(shows ? { advice: `Test on days ${TEST_DAYS.join(", ")} after it, and feed little until both read zero.` } : {}),
    },
  ];
}

/** Smaller differences count as none [g N/m³]. */
const SAME_G_PER_M3 = 0.02;
/** Oxygen below which no animal is expected to survive [g/m³]; the days after are then not described (modelling assumption). */
const DEADLY_OXYGEN = 1;

/** The checklist after the default outage. */
export const aftermathOf = (cut: Cut, rest: AtRest, tried: OutageTrial): RunResult["aftermath"] =>
  aftermath(cut, closedWaters(rest, tried), worstLoss(cut, rest, tried));
