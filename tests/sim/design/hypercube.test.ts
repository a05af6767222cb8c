import { describe, expect, test } from "vitest";
import { hypercubePoints, permutation, randomPoints } from "../../../sim/design/hypercube.ts";
import fc from "../../fast-check.ts";

describe("a Latin hypercube computed point by point", () => {
  test("its permutations contain every number once", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 3000 }), fc.string(), (length, seed) => {
        const order = permutation(length, seed);
        expect(new Set(Array.from({ length }, (_, i) => order(i))).size).toBe(length);
        expect(order(length - 1)).toBeLessThan(length);
      }),
      { numRuns: 60 },
    );
  });

  test("its permutations look random: fixed points, ascents and the correlation with the index are those of random ones", () => {
    const N = 10_000;
    const order = Array.from({ length: N }, (_, i) => permutation(N, "1")(i));
    // A random permutation has 1 fixed point (variance 1), ascents at half of its places, and a correlation of 0 +- 1/sqrt(N).
    expect(order.filter((x, i) => x === i).length).toBeLessThan(7);
    const rises = order.slice(1).filter((x, i) => x > order[i]).length;
    expect(Math.abs(rises / N - 0.5)).toBeLessThan(0.02);
    const centred = (N - 1) / 2;
    const covariance = order.reduce((sum, x, i) => sum + (x - centred) * (i - centred), 0) / N;
    expect(Math.abs(covariance / ((N * N) / 12))).toBeLessThan(4 / Math.sqrt(N));
  });

  test("has one sample in every stratum of every dimension, and estimates the mean of a sum far better than random points", () => {
    const [N, D] = [500, 4];
    const errors = (points: (seed: string) => (i: number) => Float64Array): number => {
      let worst = 0;
      for (const seed of ["1", "2", "3"]) {
        const point = points(seed);
        let sum = 0;
        for (let i = 0; i < N; i++) sum += point(i).reduce((a, x) => a + x, 0);
        worst = Math.max(worst, Math.abs(sum / N - D / 2));
      }
      return worst;
    };
    const point = hypercubePoints(D, N, "1");
    const hits = Array.from({ length: D }, () => new Set<number>());
    for (let i = 0; i < N; i++) for (const [d, x] of point(i).entries()) hits[d].add(Math.floor(x * N));
    expect(hits.map((h) => h.size)).toEqual([N, N, N, N]);
    expect(errors((seed) => hypercubePoints(D, N, seed))).toBeLessThan(0.1 * errors((seed) => randomPoints(D, seed)));
  });
});
