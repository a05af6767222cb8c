// Sobol' points: a sequence that fills a cube more evenly than chance, any point by its index.

import seedrandom from "seedrandom";
import { pow } from "../elementary.ts";
import { DIRECTION_NUMBERS } from "./direction-numbers.ts";

const BITS = 32;
const SCALE = pow(2, -BITS);

/** Dimensions for which direction numbers are kept. */
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
 * @param seed shifts all points by one random vector of bits (digital shift, L'Ecuyer & Lemieux 2002), which keeps their evenness;
 * null gives the sequence as published, whose first point is the corner 0
 * @returns the point of an index from 0 to 2^32 - 1: `dimensions` numbers in [0, 1)
 * @throws RangeError for more dimensions than direction numbers are kept for
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
