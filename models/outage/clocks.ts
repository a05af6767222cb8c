// All clocks of one cut, in the order of hurry: air, media and standing water, warmth.
import { type AtRest, type Clock, type Cut, HORIZON_H } from "./cut.ts";
import { dryingClocks, foulClocks } from "./media-clock.ts";
import type { OutageTrial } from "./outage-trial.ts";
import { oxygenClocks } from "./oxygen-clock.ts";
import type { Wrapping } from "./resting-heat.ts";
import { cutTemperatures, temperatureClock } from "./temperature.ts";

/**
 * Clocks of a cut, whatever its length: they tell what would happen if it lasted. Times in hours after the cut, as [earliest, latest].
 * @param tried the cut lived through with the run's own water and animals
 * @throws Error when a part of the rig has no water cell, or the integrator gives up
 */
export function outageClocks(rest: AtRest, cut: Cut, tried: OutageTrial, wrapping?: Wrapping): readonly Clock[] {
  const { groups, setpointC } = tried.from.operating;
  const warm: AtRest = { ...rest, management: { ...rest.management, temperatureC: setpointC } };
  const kinds = [...new Set(groups.map((group) => group.kind))];
  return [
    ...oxygenClocks(tried, cut, groups),
    ...dryingClocks(warm, cut, cutTemperatures(warm, cut, HORIZON_H)),
    ...foulClocks(warm, tried),
    ...(kinds.length > 0 ? [temperatureClock(warm, cut, kinds, wrapping)] : []),
  ];
}
