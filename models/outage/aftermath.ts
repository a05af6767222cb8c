// Checks after the power returns: what to test and inspect, and what must stay switched off.
import type { Cut } from "./cut.ts";
import type { LostShares } from "./media-clock.ts";
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
export function closedFilterAdvice({ name, anoxic }: ClosedWater, hours: number): ClosedFilterAdvice {
  const { oxygenGoneH, nitrateGoneH } = anoxic;
  const it = name.charAt(0).toUpperCase() + name.slice(1);
  if (oxygenGoneH === null || hours < oxygenGoneH[0])
    return {
      restartIntoTank: true,
      words: `${it} still has oxygen after ${hours < 2 ? `${Math.max(5, Math.round(12 * hours) * 5)} minutes` : `${hours.toFixed(0)} hours`}: start it, and watch the fish for ten minutes.`,
    };
  const sulphide = nitrateGoneH !== null && hours >= nitrateGoneH[0];
  return {
    restartIntoTank: false,
    words: `${it} may run out of oxygen ${oxygenGoneH[0].toFixed(1)} hours into the power cut${sulphide ? ", and may then fill with hydrogen sulphide" : ""}: do not let it start into the tank. Pull its plug before the power is back. Then open it, smell it, pour its water away, and rinse the media in tank water.`,
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
export function aftermath(cut: Cut, closed: readonly ClosedWater[], worstLost: LostShares): Aftermath {
  const advice = closed.map((water) => closedFilterAdvice(water, cut.hours));
  const expected =
    Math.max(worstLost.aob, worstLost.nob) >= NOTICEABLE_LOSS
      ? `Up to ${Math.round(100 * worstLost.nob)} % of the bacteria that eat nitrite may be lost. Expect ammonia, then nitrite; feed half until both read zero.`
      : "Most of the bacteria on the media survive a cut of this length.";
  return {
    testDays: TEST_DAYS,
    checks: [
      "Power back does not mean flow back: check that water moves over the weir. A pump that only hums may be stuck, and a siphon may have lost its prime.",
      "After ten minutes the levels should be at their marks, the drain quiet, and nothing still rising.",
      "The heater must be under water before it gets power. Measure the temperature in the tank, not in the sump.",
      "Watch how the animals breathe, and do not feed on the first day.",
      expected,
    ],
    doNotRestart: advice.filter((a) => !a.restartIntoTank).map((a) => a.words),
  };
}
