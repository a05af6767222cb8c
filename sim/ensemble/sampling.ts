// Sampling of the inputs of ensembles.

import seedrandom from "seedrandom";
import type { Random } from "./ensemble.ts";

/**
 * Latin hypercube sampling (McKay, Beckman & Conover 1979, Technometrics 21, 239-245): over all members, each dimension has
 * exactly one sample in every 1/members of [0, 1).
 * @returns the point of one member, `dimensions` numbers in [0, 1); the place within the stratum comes from the member's stream
 */
export function latinHypercube(
  seed: string,
  members: number,
  dimensions: number,
): (member: number, random: Random) => Float64Array {
  const strata = Array.from({ length: dimensions }, (_, d) => shuffled(members, seedrandom(`${seed}/dimension/${d}`)));
  return (member, random) => Float64Array.from(strata, (order) => (order[member] + random()) / members);
}

/** 0 .. length - 1 in random order (Fisher-Yates). */
function shuffled(length: number, random: Random): Uint32Array {
  const order = Uint32Array.from({ length }, (_, i) => i);
  for (let i = length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [order[i], order[j]] = [order[j], order[i]];
  }
  return order;
}
