// Distribution of water on the media: the wetted share, its uncertainty, and the dose per pass of a rotating arm.

import type { NitrogenModel } from "../../models/nitrogen/tank/nitrogen-model.ts";
import { initialOperatingState, wettedAreas } from "../../models/nitrogen/tank/operating-state.ts";
import { planM2 } from "../../models/nitrogen/tank/wetting.ts";
import { dosingIntensityMmPerPass, secondsBetweenPasses, WASTEWATER_DOSING_RANGE_MM } from "../../models/tower/dosing.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import type { Statement } from "../result/statement.ts";
import { area, length, number, sentence } from "../text/message.ts";

/**
 * Wetted share below which the tower acts as a much smaller one (keepers of one-sided drips report about a quarter;
 * common practice, no published source).
 */
const POORLY_WETTED = 0.4;
/** Interval between passes after which a film has drained and has only its own water [s] (film drainage, Jeffreys 1930). */
const DRAINED_AFTER_S = 60;

const percent = (share: number): string => `${Math.round(100 * share)} %`;

export function spreadingFindings(aquarium: NitrogenModel): Statement[] {
  const { rig, exchange, towerCells, filmOf, surfaceM2, wettingUncertainty } = aquarium;
  const areas = wettedAreas(aquarium, initialOperatingState(aquarium));
  return rig.towers.flatMap((tower, t): Statement[] => {
    const film = filmOf.towers[t];
    const wetted = areas[film] / surfaceM2[film];
    const perDay = exchange.flows.reduce((sum, flow) => sum + (flow.to === towerCells[t] ? flow.m3PerDay : 0), 0);
    const load = perDay / SECONDS_PER_DAY / planM2(tower);
    const who = rig.towers.length > 1 ? tower.id : "the tower";
    const stated = tower.wettedShare !== null;
    const sure = stated
      ? "as you say"
      : `from flow and distributor; it may be ${percent(wetted / wettingUncertainty[t])} to ${percent(Math.min(1, wetted * wettingUncertainty[t]))}`;
    const poor = wetted < POORLY_WETTED;
    const findings: Statement[] = [
      {
        id: `wetting-${tower.id}`,
        topic: "upkeep",
        consequence: poor ? "harm" : "none",
        likelihood: "planned",
        word: poor ? "DRY MEDIA" : "WETTED",
        text: sentence`The water wets ${percent(wetted)} of the media in ${who} (${sure}), ${area(areas[film])} of ${area(surfaceM2[film])}.`,
        value: wetted,
        unit: "share",
        ...(poor
          ? { brief: sentence`The water wets only ${percent(wetted)} of the media, so the filter works as a much smaller one.` }
          : {}),
        advice: poor
          ? "Level the drip plate, or spread the water better: media that stay dry do nothing. Newly wetted media take one to two weeks to grow over."
          : "Shine a light down the tower while it runs: what glistens is wet. Write the share you see into the file, under wetted.",
      },
    ];
    if (tower.arm && load > 0) {
      const { arms, turnsPerMinute } = tower.arm;
      const mm = dosingIntensityMmPerPass(load, arms, turnsPerMinute);
      const wait = secondsBetweenPasses(arms, turnsPerMinute);
      const { low, high } = WASTEWATER_DOSING_RANGE_MM;
      const long = wait > DRAINED_AFTER_S;
      findings.push({
        id: `dosing-${tower.id}`,
        topic: "upkeep",
        consequence: long ? "harm" : "none",
        likelihood: "planned",
        word: long ? "SLOW ARM" : "ARM",
        text: sentence`An arm passes every ${number(wait)} seconds and lays ${length(mm / 1000)} of water on ${who}.`,
        value: mm,
        unit: "mm",
        advice: long
          ? "Between passes the films drain and live on what they hold. A faster arm, or one more arm, keeps them fed."
          : mm > high
            ? sentence`Wastewater plants run far less water over far more media and aim at ${length(low / 1000)} to ${length(high / 1000)} a pass. At this flow the arm may turn faster without harm.`
            : sentence`At the same flow, slower passes wet and flush better. Wastewater plants aim at ${length(low / 1000)} to ${length(high / 1000)} a pass; for fish no rule is published.`,
      });
    }
    return findings;
  });
}
