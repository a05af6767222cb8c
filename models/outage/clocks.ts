// All clocks of one cut, in the order of hurry: air, media, warmth.
import type { AnimalGroup } from "../nitrogen/plan.ts";
import { type AtRest, type Clock, type Cut, HORIZON_H } from "./cut.ts";
import { dryingClocks, foulClocks } from "./mediaClock.ts";
import { oxygenClocks } from "./oxygenClock.ts";
import type { Wrapping } from "./restingHeat.ts";
import { cutTemperatures, temperatureClock } from "./temperature.ts";

export interface ClockOptions {
  /** Animals in the tank; all that ever arrive and do not leave, when absent. */
  readonly groups?: readonly AnimalGroup[];
  /** Whether they ate within about six hours before; not known, when absent. */
  readonly fed?: boolean;
  /** Oxygen in the display when the power goes [g/m3]; 95 % of saturation, when absent. */
  readonly oxygenGPerM3?: number;
  /** Nitrate in the water [g N/m3]; that of the start, when absent. */
  readonly no3GPerM3?: number;
  readonly wrapping?: Wrapping;
}

/**
 * Clocks of a cut, whatever its length: they tell what would happen if it lasted. Times in hours after the cut, as [earliest, latest].
 * @throws Error when a part of the rig has no water cell, or the integrator gives up
 */
export function outageClocks(rest: AtRest, cut: Cut, options: ClockOptions = {}): readonly Clock[] {
  const groups = options.groups ?? rest.husbandry.groups.filter((group) => group.leavesDay === null);
  const temperatures = cutTemperatures(rest, cut, HORIZON_H);
  const kinds = [...new Set(groups.map((group) => group.kind))];
  return [
    ...oxygenClocks(rest, cut, { groups, fed: options.fed ?? null, startGPerM3: options.oxygenGPerM3 ?? null, temperatures }),
    ...dryingClocks(rest, cut, temperatures),
    ...foulClocks(rest, options.no3GPerM3 ?? rest.husbandry.start.no3GPerM3, groups),
    ...(kinds.length > 0 ? [temperatureClock(rest, cut, kinds, options.wrapping)] : []),
  ];
}
