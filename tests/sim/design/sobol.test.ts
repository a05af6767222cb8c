import { describe, expect, test } from "vitest";
import { SobolSums, saltelliPoints } from "../../../sim/design/sobol-indices.ts";
import { MOST_SOBOL_DIMENSIONS, sobolPoints } from "../../../sim/design/sobol-points.ts";
import fc from "../../fast-check.ts";

describe("Sobol' points", () => {
  test("agree with SciPy", () => {
    // scipy 1.17.1, scipy.stats.qmc.Sobol(d, scramble=False): points 1 to 4 in five dimensions, point 777 in forty.
    const five = sobolPoints(5, null);
    expect([1, 2, 3, 4].map((i) => [...five(i)])).toEqual([
      [0.5, 0.5, 0.5, 0.5, 0.5],
      [0.75, 0.25, 0.25, 0.25, 0.75],
      [0.25, 0.75, 0.75, 0.75, 0.25],
      [0.375, 0.375, 0.625, 0.875, 0.375],
    ]);
    const forty = sobolPoints(40, null)(777);
    expect([...forty.slice(0, 6)]).toEqual([0.6923828125, 0.9365234375, 0.1630859375, 0.2744140625, 0.6357421875, 0.3564453125]);
    expect([...forty.slice(36)]).toEqual([0.4619140625, 0.3505859375, 0.3427734375, 0.3583984375]);
  });

  test("have exactly one of 2^m points in each interval of length 2^-m, in every dimension, with any seed", () => {
    const M = 9;
    for (const seed of [null, "1", "another"]) {
      const point = sobolPoints(MOST_SOBOL_DIMENSIONS, seed);
      const hits = Array.from({ length: MOST_SOBOL_DIMENSIONS }, () => new Set<number>());
      for (let i = 0; i < 2 ** M; i++) for (const [d, x] of point(i).entries()) hits[d].add(Math.floor(x * 2 ** M));
      expect(hits.map((h) => h.size)).toEqual(hits.map(() => 2 ** M));
    }
  });

  test("lie in [0, 1) and are reproducible for a seed", () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 0, max: 2 ** 31 - 1 }), (seed, index) => {
        const [a, b] = [sobolPoints(8, seed)(index), sobolPoints(8, seed)(index)];
        return a.every((x, d) => x >= 0 && x < 1 && x === b[d]);
      }),
      { numRuns: 50 },
    );
  });

  test("refuse more dimensions than there are direction numbers", () => {
    expect(() => sobolPoints(MOST_SOBOL_DIMENSIONS + 1, null)).toThrow(RangeError);
  });
});

describe("Sobol' indices", () => {
  /** Ishigami & Homma 1990 with a = 7 and b = 0.1; closed form in Saltelli et al. 2008, Global Sensitivity Analysis: The Primer, 4.5. */
  const [a, b] = [7, 0.1];
  const ishigami = (u: Float64Array): number => {
    const [x1, x2, x3] = u.map((v) => Math.PI * (2 * v - 1));
    return Math.sin(x1) + a * Math.sin(x2) ** 2 + b * x3 ** 4 * Math.sin(x1);
  };
  const v1 = 0.5 * (1 + (b * Math.PI ** 4) / 5) ** 2;
  const v2 = a ** 2 / 8;
  const v13 = (8 * b ** 2 * Math.PI ** 8) / 225;
  const variance = v1 + v2 + v13;
  const FIRST = [v1 / variance, v2 / variance, 0];
  const TOTAL = [(v1 + v13) / variance, v2 / variance, v13 / variance];

  function estimated(f: (u: Float64Array) => number, inputs: number, groups: number, seed: string) {
    const point = saltelliPoints(inputs, seed);
    const sums = new SobolSums(inputs, seed);
    for (let g = 0; g < groups; g++)
      sums.add(Float64Array.from({ length: inputs + 2 }, (_, c) => f(point(g * (inputs + 2) + c))));
    return sums.indices();
  }

  test("of the Ishigami function agree with the published closed form (0.314, 0.442, 0; 0.558, 0.442, 0.244)", () => {
    expect(FIRST.map((s) => s.toFixed(3))).toEqual(["0.314", "0.442", "0.000"]);
    expect(TOTAL.map((s) => s.toFixed(3))).toEqual(["0.558", "0.442", "0.244"]);
    const found = estimated(ishigami, 3, 8192, "1");
    found.forEach(({ first, total }, i) => {
      expect(Math.abs(first.value - FIRST[i])).toBeLessThan(0.01);
      expect(Math.abs(total.value - TOTAL[i])).toBeLessThan(0.01);
    });
  });

  test("have intervals that contain the true index about as often as their level states", () => {
    let inside = 0;
    let asked = 0;
    for (let seed = 0; seed < 40; seed++)
      estimated(ishigami, 3, 256, `run ${seed}`).forEach(({ first, total }, i) => {
        inside +=
          Number(first.low <= FIRST[i] && FIRST[i] <= first.high) + Number(total.low <= TOTAL[i] && TOTAL[i] <= total.high);
        asked += 2;
      });
    // Sobol' points are more uniform than random ones, so intervals that assume independent groups are too wide rather
    // than too narrow.
    expect(inside / asked).toBeGreaterThan(0.93);
  });

  test("are not affected by outcomes far from zero, and omit groups with a failed point", () => {
    const far = estimated((u) => 1e9 + ishigami(u), 3, 1024, "1");
    const near = estimated(ishigami, 3, 1024, "1");
    for (const [i, { first }] of far.entries()) expect(first.value).toBeCloseTo(near[i].first.value, 4);
    const sums = new SobolSums(1, "1");
    sums.add([1, Number.NaN, 2]);
    expect(sums.groups).toBe(0);
  });
});
