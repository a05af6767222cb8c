// The least media that carries the animals, and the most animals that the media carry. A tower grows to the height that there is, then in length.

import type { CourseRunner } from "../forecast/course.ts";
import { smallestThatHolds } from "../forecast/halving.ts";
import { isSurer, type Limits, stricter } from "../forecast/promise.ts";
import type { NitrogenSetup } from "../model/compile.ts";
import { grownIn, type LoadResult, trialOf, withTower } from "./grown-in.ts";

/** Room for the media [m]. */
export interface TowerRoom {
  readonly widthM: number;
  /** Length as long as the height suffices, and the longest. */
  readonly lengthM: number;
  readonly longestM: number;
  readonly deepestM: number;
}

export interface TowerSize {
  readonly lengthM: number;
  readonly widthM: number;
  readonly depthM: number;
}

export const volumeOf = ({ lengthM, widthM, depthM }: TowerSize): number => lengthM * widthM * depthM;

/** Least depth and length of a tower, where there is room: a shallower one is hardly wetted evenly (modelling assumption) [m]. */
const SHALLOWEST_M = 0.15;
const SHORTEST_M = 0.1;
const STEP_M = 0.005;
/** Less media than this part of the most is not tried, and a difference of a tenth is none. */
const LEAST_SHARE = 1 / 32;
const NEAR_ENOUGH = 1.1;
/** Largest and smallest factor on the animals that is tried. */
const MOST_LOAD = 32;
const LEAST_LOAD = 1 / 32;

export const mostMediaM3 = ({ widthM, longestM, deepestM }: TowerRoom): number => widthM * longestM * deepestM;

const upTo = (value: number, most: number): number => Math.min(most, Math.ceil(value / STEP_M - 1e-9) * STEP_M);

/** The tower that holds a volume, in steps of 5 mm: first the plan as it is, then longer; a small one is shorter before it is shallow. */
export function towerFor(volumeM3: number, { widthM, lengthM, longestM, deepestM }: TowerRoom): TowerSize {
  const depthM = upTo(Math.max(SHALLOWEST_M, volumeM3 / (lengthM * widthM)), deepestM);
  return { widthM, depthM, lengthM: upTo(Math.max(SHORTEST_M, volumeM3 / (depthM * widthM)), longestM) };
}

/** Least volume that is tried [m3]. */
export const leastTriedM3 = (room: TowerRoom): number =>
  Math.min(
    mostMediaM3(room),
    Math.max(LEAST_SHARE * mostMediaM3(room), Math.min(SHALLOWEST_M, room.deepestM) * SHORTEST_M * room.widthM),
  );

export interface LoadPromise {
  readonly limits: Limits;
  readonly confidence: number;
  readonly members: number;
  readonly seed: string;
}

const asTower = ({ lengthM, widthM, depthM }: TowerSize) => ({ lengthM, widthM, mediaDepthM: depthM });

async function holds(
  setup: NitrogenSetup,
  { limits, confidence, members, seed }: LoadPromise,
  runner: CourseRunner,
): Promise<boolean> {
  return isSurer(await trialOf(setup, stricter(limits), { members, seed, meals: false }, runner), confidence);
}

/** Least volume of media in the tower that carries the animals as written [m3]; null when the most that fits does not. */
export async function leastMedia(
  setup: NitrogenSetup,
  room: TowerRoom,
  promise: LoadPromise,
  runner: CourseRunner,
): Promise<number | null> {
  const most = mostMediaM3(room);
  const grown = grownIn(setup);
  const does = (volume: number): Promise<boolean> => holds(withTower(grown, asTower(towerFor(volume, room))), promise, runner);
  if (!(await does(most))) return null;
  return smallestThatHolds(leastTriedM3(room), most, NEAR_ENOUGH, does);
}

/**
 * Largest factor on the animals and their food that a set-up carries, to a tenth; 0 when it is under a thirty-second.
 * @param atMost 1 where the animals as written are known to be too many
 */
export async function largestLoad(
  setup: NitrogenSetup,
  promise: LoadPromise,
  runner: CourseRunner,
  atMost = MOST_LOAD,
): Promise<number> {
  // The larger the reciprocal, the lighter the load.
  const does = (reciprocal: number): Promise<boolean> => holds(grownIn(setup, 1 / reciprocal), promise, runner);
  if (atMost > 1 && (await does(1))) return 1 / (await smallestThatHolds(1 / atMost, 1, NEAR_ENOUGH, does));
  if (!(await does(1 / LEAST_LOAD))) return 0;
  return 1 / (await smallestThatHolds(NEAR_ENOUGH, 1 / LEAST_LOAD, NEAR_ENOUGH, does));
}

/** The same with fresh members, meals and the limits as they were asked. */
export const checkedWith = (
  setup: NitrogenSetup,
  { limits, seed }: LoadPromise,
  members: number,
  round: number,
  runner: CourseRunner,
  load = 1,
): Promise<LoadResult> => trialOf(grownIn(setup, load), limits, { members, seed: `${seed}/fresh/${round}`, meals: true }, runner);

const LIGHTER = 0.9;
const MOST_CHECKS = 5;

/** The largest load, made lighter until fresh members with meals keep the limits; a load of 0 when none does. */
export async function promisedLoad(
  setup: NitrogenSetup,
  promise: LoadPromise,
  members: number,
  runner: CourseRunner,
): Promise<{ readonly load: number; readonly fresh: LoadResult | null }> {
  let load = await largestLoad(setup, promise, runner);
  for (let round = 1; load > 0 && round <= MOST_CHECKS; round++, load *= LIGHTER) {
    const fresh = await checkedWith(setup, promise, members, round, runner, load);
    if (isSurer(fresh, promise.confidence)) return { load, fresh };
  }
  return { load: 0, fresh: null };
}
