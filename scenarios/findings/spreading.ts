// How the water falls on the media: what it wets, how sure that is, and what each pass of a turning arm lays down.

import type { NitrogenModel } from "../../models/nitrogen/tank/nitrogen-model.ts";
import { initialOperatingState, wettedAreas } from "../../models/nitrogen/tank/operating-state.ts";
import { planM2 } from "../../models/nitrogen/tank/wetting.ts";
import { dosingIntensityMmPerPass, secondsBetweenPasses, WASTEWATER_DOSING_RANGE_MM } from "../../models/tower/dosing.ts";
import { SECONDS_PER_DAY } from "../../sim/time.ts";
import type { Statement } from "../result/statement.ts";
import { area, length, number, sentence } from "../text/message.ts";

/** Under this share the tower works as a much smaller one (keepers of one-sided drips report about a quarter; common practice, no published source). */
const POORLY_WETTED = 0.4;
/** A film left longer than this between passes has drained and works on what it holds (film drainage, Jeffreys 1930). */
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
      ? "as stated"
      : `by flow and distributor; ${percent(wetted / wettingUncertainty[t])} to ${percent(Math.min(1, wetted * wettingUncertainty[t]))} is possible`;
    const poor = wetted < POORLY_WETTED;
    const findings: Statement[] = [
      {
        id: `wetting-${tower.id}`,
        topic: "upkeep",
        level: poor ? "watch" : "info",
        word: poor ? "DRY" : "WETS",
        text: sentence`Water wets ${percent(wetted)} of the media in ${who} (${sure}): ${area(areas[film])} of ${area(surfaceM2[film])}.`,
        value: wetted,
        unit: "share",
        advice: poor
          ? "Level the plate or spread the water; the media that stays dry does nothing. Newly wetted media takes one to two weeks to grow over."
          : "Look down the tower with a torch while it runs: what shines is wet. Write the share you see into the file, under wetted.",
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
        level: long ? "watch" : "info",
        word: long ? "SLOW" : "NOTE",
        text: sentence`Each pass of an arm lays ${length(mm / 1000)} of water on ${who}, every ${number(wait)} s.`,
        value: mm,
        unit: "mm",
        advice: long
          ? "Between passes the films drain and work on what they hold; a faster arm or one arm more keeps them fed."
          : mm > high
            ? sentence`Wastewater plants, which run far less water over far more media, aim at ${length(low / 1000)} to ${length(high / 1000)} a pass; at this flow the arm may turn faster with little lost.`
            : sentence`Slower passes wet and flush better at the same flow. Wastewater plants aim at ${length(low / 1000)} to ${length(high / 1000)} a pass; for fish-keeping no rule is published.`,
      });
    }
    return findings;
  });
}
