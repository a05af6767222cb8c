// Sobol' points: a low-discrepancy sequence that fills a cube more evenly than random points. Each point is computed
// from its index.

import seedrandom from "seedrandom";
import { pow } from "../elementary.ts";
import { DIRECTION_NUMBERS } from "./direction-numbers.ts";

const BITS = 32;
const SCALE = pow(2, -BITS);

/** Largest number of dimensions for which there are direction numbers. */
export const MOST_SOBOL_DIMENSIONS = DIRECTION_NUMBERS.length + 1;

/** The direction numbers of one dimension as 32-bit fractions, highest bit first (Joe & Kuo 2008, section 2). */
function directions(dimension: number): Uint32Array {
  const v = new Uint32Array(BITS);
  if (dimension === 0) {
    for (let k = 0; k < BITS; k++) v[k] = pow(2, BITS - 1 - k);
    return v;
  }
  const [a, ...m] = DIRECTION_NUMBERS[dimension - 1];
  const s = m.length;
  for (let k = 0; k < BITS; k++) {
    if (k < s) {
      v[k] = m[k] * pow(2, BITS - 1 - k);
      continue;
    }
    let next = v[k - s] ^ (v[k - s] >>> s);
    for (let j = 1; j < s; j++) if ((a >> (s - 1 - j)) & 1) next ^= v[k - j];
    v[k] = next;
  }
  return v;
}

/**
 * The Sobol' sequence (Sobol' 1967; order of Antonov & Saleev 1979; direction numbers of Joe & Kuo 2008).
 * @param dimensions 1 to MOST_SOBOL_DIMENSIONS
 * @param seed shifts all points by one random bit vector (digital shift, L'Ecuyer & Lemieux 2002), which keeps their uniformity;
 * null gives the published sequence, whose first point is the corner 0
 * @returns the function from an index in 0 .. 2^32 - 1 to its point: an array of length `dimensions`, each value in [0, 1)
 * @throws RangeError for more than MOST_SOBOL_DIMENSIONS dimensions
 */
export function sobolPoints(dimensions: number, seed: string | null): (index: number) => Float64Array {
  if (dimensions > MOST_SOBOL_DIMENSIONS) throw new RangeError(`at most ${MOST_SOBOL_DIMENSIONS} dimensions`);
  const table = Array.from({ length: dimensions }, (_, d) => directions(d));
  const shift = new Uint32Array(dimensions);
  if (seed !== null) for (let d = 0; d < dimensions; d++) shift[d] = seedrandom(`${seed}/shift/${d}`).int32();
  return (index) => {
    const gray = (index ^ (index >>> 1)) >>> 0;
    return Float64Array.from(table, (v, d) => {
      let x = shift[d];
      for (let bits = gray, k = 0; bits !== 0; bits >>>= 1, k++) if (bits & 1) x ^= v[k];
      return (x >>> 0) * SCALE;
    });
  };
}
