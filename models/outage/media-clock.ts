// What happens to the media in an outage: drying above the water, stagnation below it, and the resulting loss of nitrifiers.

import { exp } from "../../sim/elementary.ts";
import type { FilmDuringOutage } from "../nitrogen/operation/power-cut.ts";
import type { NitrogenModel } from "../nitrogen/tank/nitrogen-model.ts";
import { type AtRest, type Clock, type Cut, firstCrossingH, HORIZON_H, rangeH, type Words } from "./cut.ts";
import { clingingWater, DRIED_LOSS, DRYING_SPEED, driedShare, drownedShare } from "./media-drying.ts";
import type { OutageTrial } from "./outage-trial.ts";
import { lidDuring } from "./resting-heat.ts";
import { anoxicTimesOf, type StagnantVolume, stagnantVolumes } from "./stagnant-volumes.ts";
import { type AnoxicTimes, anoxicTimes, SULPHIDE_LOSS_PER_DAY, starvedShare } from "./stagnant-water.ts";
import { cutTemperatures, type TemperatureCurve } from "./temperature.ts";

/** The drying clock turns amber when the first media are dry, and red when a third of them are (modelling assumption). */
const FIRST_DRY = 0.01;
const THIRD_DRY = 1 / 3;
/** The clock of stagnant water turns red this long after its nitrate has run out [h] (modelling assumption). */
const ANOXIC_FOR_H = 24;

/** Drying clocks, one per tower; none for a tower whose media are fully submerged. */
export function dryingClocks(rest: AtRest, cut: Cut, temperatures: TemperatureCurve): Clock[] {
  return rest.rig.towers.flatMap((tower, t): Clock[] => {
    const drowned = drownedShare(rest, tower);
    if (drowned >= 1) return [];
    const [fast, slow] = [DRYING_SPEED.high, DRYING_SPEED.low].map((speed) => driedShare(rest, cut, t, temperatures, speed));
    const range = (share: number) =>
      rangeH(firstCrossingH(temperatures.stepH, fast, share, 1), firstCrossingH(temperatures.stepH, slow, share, 1));
    const several = rest.rig.towers.length > 1;
    const lid = lidDuring(rest, tower, cut);
    const misted = cut.mistEveryHours === null ? "are not misted" : `are misted every ${cut.mistEveryHours} hours`;
    return [
      {
        id: several ? `media-drying-${tower.id}` : "media-drying",
        name: several ? `Media drying, ${tower.id}` : "Media drying in the tower",
        amberH: range(FIRST_DRY),
        redH: range(THIRD_DRY),
        why: [
          `The tower ${lid === "open" ? "is open to the room" : `has a ${lid} lid`}, and the media ${misted}. About `,
          { is: "mass", value: 1000 * clingingWater(rest, t).kg },
          ` of water clings to ${drowned > 0 ? `the upper ${Math.round(100 * (1 - drowned))} % of the media` : "the media"}.`,
        ],
        source:
          "evaporation by Carrier (1918)/ASHRAE, draught by Metcalf & Eddy, hold-up by Sáez & Carbonell (1985); no published drying curve: modelling assumption, range a factor 3 either way",
      },
    ];
  });
}

/**
 * Clock of one stagnant body of water. Media: amber when nitrate is gone as well as oxygen, red a day later. Closed
 * filter: amber without oxygen, red without nitrate.
 */
export function anoxicClock(
  { water, closedCell }: Pick<StagnantVolume, "water" | "closedCell">,
  { oxygenGoneH, nitrateGoneH, likelyOxygenGoneH }: AnoxicTimes,
): Clock {
  const aDay = (aerobicH: number, anaerobicH: number) => `${Math.round(100 * starvedShare(aerobicH, anaerobicH))} %`;
  const oxygen: Words =
    oxygenGoneH === null
      ? ["keeps some oxygen"]
      : [
          "runs out of oxygen after ",
          { is: "hour span", value: oxygenGoneH[0], to: oxygenGoneH[1] >= HORIZON_H ? null : oxygenGoneH[1] },
          ...(likelyOxygenGoneH === null ? [] : [", most likely after ", { is: "hours", value: likelyOxygenGoneH } as const]),
        ];
  const late =
    nitrateGoneH && nitrateGoneH[0] + ANOXIC_FOR_H <= HORIZON_H
      ? ([nitrateGoneH[0] + ANOXIC_FOR_H, Math.min(HORIZON_H, nitrateGoneH[1] + ANOXIC_FOR_H)] as const)
      : null;
  const bacteria = `The bacteria themselves last: about ${aDay(0, 24)} of them die in a day without oxygen, ${aDay(24, 0)} in a day with oxygen but no food.`;
  const source =
    "loss: Siegrist et al. (1999); oxygen and nitrate: the run itself; range: film use to a factor 2 by the food, culture practice; hydrogen sulphide harms above 5 µg/L";
  return closedCell !== null
    ? {
        id: `closed-${water.id.replaceAll(" ", "-")}`,
        name: `Stale water in ${water.id}`,
        amberH: oxygenGoneH,
        redH: nitrateGoneH,
        why: [
          "Its water ",
          ...oxygen,
          `; from then on do not start it into the tank. Once the nitrate is used up too, it may hold hydrogen sulphide, more of it in salt water. ${bacteria}`,
        ],
        source,
      }
    : {
        id: `media-anoxic-${water.id.replaceAll(" ", "-")}`,
        name: "Media under still water, without oxygen",
        amberH: nitrateGoneH,
        redH: late,
        why: [
          `The water around ${water.name} `,
          ...oxygen,
          `. That does no harm while nitrate lasts; then it turns foul with hydrogen sulphide, worse in salt water. ${bacteria}`,
        ],
        source,
      };
}

/** Clocks of all stagnant bodies of water. */
export const anoxicClocks = (rest: AtRest, trial: OutageTrial): Clock[] =>
  stagnantVolumes(rest, trial.aquarium, trial.likely.films).map((standing) =>
    anoxicClock(standing, anoxicTimesOf(standing, trial)),
  );

/** Shares of ammonia and nitrite oxidisers lost, 0-1. */
export interface LostShares {
  readonly aob: number;
  readonly nob: number;
}

/**
 * Returns the callback with which the nitrogen simulation applies losses that its process matrix does not compute
 * (starvation and decay are in the matrix): nitrifiers on media that dried out and in water that became anoxic. It uses
 * the likely values of the assumed losses. Films on glass and rock lose nothing, because they stay in the display's
 * water.
 */
export function outageLoss(
  rest: AtRest,
  aquarium: NitrogenModel,
): (cut: Cut, film: number, seen: FilmDuringOutage) => LostShares {
  const { filmOf } = aquarium;
  return (cut, film, seen) => {
    if (filmOf.closed.includes(film)) return anoxicLoss(seen.anoxicHours);
    const films = aquarium.layout.wiring.films.map(() => seen);
    const standing = stagnantVolumes(rest, aquarium, films).find((s) => s.film === film);
    const gone = standing ? anoxicTimes(standing.water).likelyNitrateGoneH : null;
    const below = anoxicLoss(gone === null ? 0 : Math.max(0, cut.hours - gone));
    const t = filmOf.towers.indexOf(film);
    if (t < 0) return below;
    const drowned = drownedShare(rest, rest.rig.towers[t]);
    const curve = cutTemperatures(rest, cut, cut.hours);
    const dried = (driedShare(rest, cut, t, curve, DRYING_SPEED.likely).at(-1) ?? 0) * (1 - drowned);
    return {
      aob: dried * DRIED_LOSS.aob.likely + drowned * below.aob,
      nob: dried * DRIED_LOSS.nob.likely + drowned * below.nob,
    };
  };
}

/** Nitrifiers lost in water without oxygen and nitrate for a number of hours. */
function anoxicLoss(hours: number): LostShares {
  const days = hours / 24;
  return { aob: 1 - exp(-SULPHIDE_LOSS_PER_DAY.aob * days), nob: 1 - exp(-SULPHIDE_LOSS_PER_DAY.nob * days) };
}
