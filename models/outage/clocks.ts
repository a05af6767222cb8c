// All clocks of an outage, most urgent first: oxygen, media and stagnant water, temperature.
import { type AtRest, type Clock, type Cut, HORIZON_H } from "./cut.ts";
import { anoxicClocks, dryingClocks } from "./media-clock.ts";
import type { OutageTrial } from "./outage-trial.ts";
import { oxygenClocks } from "./oxygen-clock.ts";
import type { Wrapping } from "./resting-heat.ts";
import { cutTemperatures, temperatureClock } from "./temperature.ts";

/**
 * Clocks of an outage. They do not depend on its planned length: each gives the hours after which a limit would be reached if the
 * outage continued, as [earliest, latest].
 * @param trial the outage simulated from a state of the run, with its water and animals
 * @throws Error when a part of the rig has no water cell
 * @throws GaveUpError when the integrator gives up
 */
export function outageClocks(rest: AtRest, cut: Cut, trial: OutageTrial, wrapping?: Wrapping): readonly Clock[] {
  const { groups, setpointC } = trial.from.operating;
  const warm: AtRest = { ...rest, management: { ...rest.management, temperatureC: setpointC } };
  const kinds = [...new Set(groups.map((group) => group.kind))];
  return [
    ...oxygenClocks(trial, cut, groups),
    ...dryingClocks(warm, cut, cutTemperatures(warm, cut, HORIZON_H)),
    ...anoxicClocks(warm, trial),
    ...(kinds.length > 0 ? [temperatureClock(warm, cut, kinds, wrapping)] : []),
  ];
}
