// Checks after the power returns: what to test and inspect, and what must stay switched off.
import type { Cut } from "./cut.ts";
import type { Lost } from "./media-clock.ts";
import type { ClosedWater } from "./stagnant-volumes.ts";

/**
 * Days after an outage on which to test ammonia and nitrite (common practice, no published source: daily at first, then
 * until a slow rise would have shown).
 */
export const TEST_DAYS = [1, 2, 4, 7, 14] as const;

/**
 * The power is back but nothing flows (the pump has seized or lost its prime): an outage that continues with heater and
 * mains air running.
 */
export function powerBackIsNotFlowBack(cut: Cut, moreHours: number): Cut {
  return { ...cut, hours: moreHours, pumpStuckHours: 0, everythingOff: false };
}

/** Advice for a closed filter that stood still beside the tower. */
export interface ClosedFilterAdvice {
  readonly restartIntoTank: boolean;
  readonly words: string;
}

/**
 * A closed filter that may have run out of oxygen must not restart into the tank: open, smell and rinse it first
 * (common practice, no published source).
 */
export function closedFilterAdvice({ name, foul }: ClosedWater, hours: number): ClosedFilterAdvice {
  const { oxygenGoneH, nitrateGoneH } = foul;
  const it = name.charAt(0).toUpperCase() + name.slice(1);
  if (oxygenGoneH === null || hours < oxygenGoneH[0])
    return {
      restartIntoTank: true,
      words: `${it} still holds oxygen after ${hours < 2 ? `${Math.max(1, Math.round(60 * hours))} min` : `${hours.toFixed(0)} h`}: start it and watch the fish for ten minutes.`,
    };
  const sulphide = nitrateGoneH !== null && hours >= nitrateGoneH[0];
  return {
    restartIntoTank: false,
    words: `${it} may have been without oxygen since hour ${oxygenGoneH[0].toFixed(1)}${sulphide ? " and may hold hydrogen sulphide" : ""}: do not restart it into the tank. Pull its plug before the power is back; then open it, smell it, pour its water away and rinse the media in tank water first.`,
  };
}

export interface Aftermath {
  readonly testDays: readonly number[];
  readonly checks: readonly string[];
  readonly doNotRestart: readonly string[];
}

/**
 * Share of nitrifiers lost above which ammonia and nitrite visibly rise; below it, spare capacity covers the loss
 * (modelling assumption).
 */
const NOTICEABLE_LOSS = 0.2;

/**
 * The checklist for the card on the cabinet door.
 * @param closed closed filters that stood still with their water in; may be empty
 * @param worstLost the largest loss of nitrifiers over the media
 */
export function aftermath(cut: Cut, closed: readonly ClosedWater[], worstLost: Lost): Aftermath {
  const advice = closed.map((water) => closedFilterAdvice(water, cut.hours));
  const expected =
    Math.max(worstLost.aob, worstLost.nob) >= NOTICEABLE_LOSS
      ? `Up to ${Math.round(100 * worstLost.nob)} % of the nitrite oxidisers on the media are lost: expect ammonia, then nitrite; feed half until both read nothing.`
      : "Expect no more than a tint of ammonia or nitrite for a day or two.";
  return {
    testDays: TEST_DAYS,
    checks: [
      "Power back is not flow back: see water move over the weir. A pump that hums may be seized, a siphon may have lost its prime; until water moves every clock goes on.",
      "Levels back at their marks, drain quiet, nothing still rising after ten minutes.",
      "Heater under water before it gets power; thermometer in the display, not in the sump.",
      "Animals breathing calmly; no food on the first day.",
      expected,
    ],
    doNotRestart: advice.filter((a) => !a.restartIntoTank).map((a) => a.words),
  };
}
