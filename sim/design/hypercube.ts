// A Latin hypercube of any size. Each point is computed from its index alone, so memory does not grow with the number of points.

import seedrandom from "seedrandom";
import { pow } from "../elementary.ts";
import { memberStream } from "../ensemble/ensemble.ts";

const ROUNDS = 6;

/** Hashes 32 bits with a key, by multiplications with odd numbers and by shifts; every output bit depends on every input bit. */
function mixed(x: number, key: number): number {
  let h = Math.imul(x ^ key, 0x85ebca6b);
  h ^= h >>> 15;
  h = Math.imul(h, 0xc2b2ae35);
  h ^= h >>> 13;
  return Math.imul(h, 0x27d4eb2f) >>> 0;
}

/**
 * A pseudo-random permutation of 0 .. length - 1, evaluated one index at a time: a Feistel network (Luby & Rackoff 1988,
 * SIAM J. Comput. 17, 373-386) on the next even power of two, applied again until the value is below `length` (cycle walking:
 * Black & Rogaway 2002, CT-RSA).
 * @param length at most 2^30
 * @returns the function from an index in 0 .. length - 1 to its image
 */
export function permutation(length: number, seed: string): (index: number) => number {
  const random = seedrandom(seed);
  const keys = Array.from({ length: ROUNDS }, () => random.int32());
  let half = 1;
  while (pow(4, half) < length) half++;
  const mask = pow(2, half) - 1;
  const once = (x: number): number => {
    let left = x >>> half;
    let right = x & mask;
    for (const key of keys) [left, right] = [right, left ^ (mixed(right, key) & mask)];
    return (left << half) | right;
  };
  return (index) => {
    let x = once(index);
    while (x >= length) x = once(x);
    return x;
  };
}

/**
 * Latin hypercube sampling (McKay, Beckman & Conover 1979, Technometrics 21, 239-245): over all points, each dimension has exactly one
 * sample in every 1/points of [0, 1).
 * @returns the point of an index: `dimensions` numbers in [0, 1)
 */
export function hypercubePoints(dimensions: number, points: number, seed: string): (index: number) => Float64Array {
  const strata = Array.from({ length: dimensions }, (_, d) => permutation(points, `${seed}/dimension/${d}`));
  return (index) => {
    const random = memberStream(seed, index);
    return Float64Array.from(strata, (stratum) => (stratum(index) + random()) / points);
  };
}

/** Independent points, uniform in [0, 1). */
export const randomPoints =
  (dimensions: number, seed: string) =>
  (index: number): Float64Array => {
    const random = memberStream(seed, index);
    return Float64Array.from({ length: dimensions }, random);
  };
