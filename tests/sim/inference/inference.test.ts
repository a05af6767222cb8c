import seedrandom from "seedrandom";
import { describe, expect, test } from "vitest";
import { betweenPercentiles, logEvenAround, normalQuantile, normalShare } from "../../../sim/design/distributions.ts";
import { AdaptiveImportance } from "../../../sim/inference/adaptive-importance.ts";
import { varianceShares } from "../../../sim/inference/variance-shares.ts";
import {
  effectiveMembers,
  logMean,
  normalised,
  resampled,
  temperature,
  weightedQuantiles,
} from "../../../sim/inference/weights.ts";
import fc from "../../fast-check.ts";

describe("distributions", () => {
  // Abramowitz & Stegun 1964, table 26.1, to its fifteen places.
  test.each([
    [0, 0.5],
    [1, 0.841344746068543],
    [1.96, 0.97500210485178],
    [-3, 0.00134989803163],
    [5, 0.999999713348428],
  ])("share of a normal distribution below %f", (x, share) => {
    expect(normalShare(x)).toBeCloseTo(share, 14);
  });

  test("share and quantile undo each other", () => {
    fc.assert(
      fc.property(fc.double({ min: -4.5, max: 4.5, noNaN: true }), (x) => {
        expect(normalQuantile(normalShare(x))).toBeCloseTo(x, 8);
      }),
    );
  });

  test("a spread told by percentiles has them", () => {
    const spread = betweenPercentiles(0.5, 1, 3);
    expect([0.1, 0.5, 0.9].map(spread)).toEqual([0.5, 1, 3].map((value) => expect.closeTo(value, 9)));
    const seed = logEvenAround(1e-5, 1e-3, 3e-2);
    expect([0, 0.25, 0.5, 1].map(seed)).toEqual([1e-5, 1e-4, 1e-3, 3e-2].map((value) => expect.closeTo(value, 12)));
  });
});

describe("weights", () => {
  test("equal weights are worth all members, one heavy weight is worth one", () => {
    expect(effectiveMembers(normalised([3, 3, 3, 3]))).toBeCloseTo(4, 12);
    expect(effectiveMembers(normalised([0, -1000]))).toBeCloseTo(1, 12);
    expect(effectiveMembers(normalised([Number.NEGATIVE_INFINITY]))).toBe(0);
  });

  test("the mean of numbers known by their logarithms, without overflow", () => {
    expect(logMean([1000, 1000])).toBeCloseTo(1000, 12);
    expect(logMean([Math.log(1), Math.log(3)])).toBeCloseTo(Math.log(2), 12);
  });

  test("quantiles of equal weights are at Hazen's plotting positions, and infinity counts as late", () => {
    const equal = new Float64Array(4).fill(0.25);
    expect(weightedQuantiles([4, 1, 3, 2], equal, [0.125, 0.5, 0.875])).toEqual([1, 2.5, 4]);
    expect(weightedQuantiles([1, 2, Infinity, Infinity], equal, [0.1, 0.5, 0.9])).toEqual([1, Infinity, Infinity]);
  });

  test("quantiles rise with the share and stay among the values", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: -5, max: 5, noNaN: true }), fc.double({ min: 0.01, max: 1, noNaN: true })), {
          minLength: 1,
          maxLength: 30,
        }),
        (pairs) => {
          const sum = pairs.reduce((a, [, w]) => a + w, 0);
          const values = pairs.map(([v]) => v);
          const q = weightedQuantiles(
            values,
            pairs.map(([, w]) => w / sum),
            [0.05, 0.1, 0.5, 0.9, 0.95],
          );
          for (let i = 1; i < q.length; i++) expect(q[i]).toBeGreaterThanOrEqual(q[i - 1]!);
          expect(q[0]).toBeGreaterThanOrEqual(Math.min(...values));
          expect(q[4]).toBeLessThanOrEqual(Math.max(...values));
        },
      ),
    );
  });

  test("resampling draws each member as often as its weight asks, to one", () => {
    const weights = normalised([0, 1, 2, 0.5, -3]);
    const drawn = resampled(weights, 1000, 0.3);
    for (const [i, weight] of weights.entries())
      expect(Math.abs(drawn.filter((n) => n === i).length - 1000 * weight)).toBeLessThanOrEqual(1);
  });

  test("tempering keeps the asked number of members", () => {
    const random = seedrandom("t");
    const logs = Array.from({ length: 300 }, () => -40 * random());
    const power = temperature(new Float64Array(300), logs, 60);
    expect(power).toBeLessThan(1);
    expect(effectiveMembers(normalised(logs.map((x) => power * x)))).toBeCloseTo(60, 0);
  });
});

describe("adaptive importance sampling", () => {
  /**
   * Closed form: y = x1 + x2 + x3 + noise of spread s, inputs standard normal. The evidence is normal with variance 3 + s^2; given y, x1 has mean
   * y / (3 + s^2) and variance 1 - 1 / (3 + s^2) (conjugate normal model, any textbook).
   */
  const [y, s] = [4, 0.3];
  const run = (seed: string, waves: number) => {
    const sampler = new AdaptiveImportance(6, seed);
    for (let wave = 0; wave <= waves; wave++) {
      const points = sampler.propose(300);
      sampler.add(
        points,
        points.map((z) => -0.5 * ((y - z[0]! - z[1]! - z[2]!) / s) ** 2),
      );
    }
    return sampler;
  };

  test("finds mean, variance and evidence of a normal model far from where it begins", () => {
    const found = Array.from({ length: 8 }, (_, i) => {
      const sampler = run(`s${i}`, 3);
      const weights = sampler.weights();
      const mean = sampler.members.reduce((sum, z, n) => sum + weights[n]! * z[0]!, 0);
      const square = sampler.members.reduce((sum, z, n) => sum + weights[n]! * z[0]! * z[0]!, 0);
      const idle = sampler.members.reduce((sum, z, n) => sum + weights[n]! * z[4]!, 0);
      return { mean, variance: square - mean * mean, idle, evidence: sampler.logEvidence(), effective: sampler.effective() };
    });
    const average = (of: keyof (typeof found)[number]) => found.reduce((sum, f) => sum + f[of], 0) / found.length;
    const variance = 3 + s * s;
    const exact = (-0.5 * (y * y)) / variance + Math.log(s / Math.sqrt(variance));
    expect(average("mean")).toBeCloseTo(y / variance, 1);
    expect(average("variance")).toBeCloseTo(1 - 1 / variance, 1);
    expect(average("idle")).toBeCloseTo(0, 1);
    expect(average("evidence")).toBeCloseTo(exact, 1);
    expect(average("effective")).toBeGreaterThan(100);
  });

  test("later waves make more members count than as many of the first kind", () => {
    expect(run("a", 3).effective()).toBeGreaterThan(4 * run("a", 0).effective());
  });

  test("the same seed gives the same bits", () => {
    expect(run("b", 2).weights()).toEqual(run("b", 2).weights());
  });

  test("a member that cannot be does not count", () => {
    const sampler = new AdaptiveImportance(2, "c");
    const points = sampler.propose(50);
    sampler.add(
      points,
      points.map((z) => (z[0]! > 0 ? 0 : Number.NEGATIVE_INFINITY)),
    );
    expect(sampler.weights().every((w, n) => (points[n]![0]! > 0 ? w > 0 : w === 0))).toBe(true);
    expect(sampler.logEvidence()).toBeCloseTo(Math.log(0.5), 1);
  });
});

describe("shares of variance", () => {
  const members = 3000;
  const points = Array.from({ length: members }, (_, n) => {
    const random = seedrandom(`p${n}`);
    return Float64Array.from({ length: 5 }, () => normalQuantile(random()));
  });

  /** y = 2 x1 + x2 + 0.5 noise: shares 4/5.25 and 1/5.25 by the law of total variance. */
  test("of a linear outcome are those of its coefficients", () => {
    const outcome = points.map((z) => 2 * z[0]! + z[1]! + 0.5 * z[4]!);
    const { shares, rest } = varianceShares(points, outcome);
    expect(shares[0]).toBeCloseTo(4 / 5.25, 1);
    expect(shares[1]).toBeCloseTo(1 / 5.25, 1);
    expect(shares[4]).toBeCloseTo(0.25 / 5.25, 1);
    expect(shares[2]! + shares[3]!).toBeLessThan(0.02);
    expect(rest).toBeLessThan(0.05);
  });

  test("stay small for an outcome that hangs on none of the inputs, and are none where nothing varies", () => {
    const random = seedrandom("noise");
    const { shares } = varianceShares(
      points,
      points.map(() => random()),
    );
    for (const share of shares) expect(share).toBeLessThan(0.04);
    expect(
      varianceShares(
        points,
        points.map(() => 7),
      ).rest,
    ).toBe(0);
  });
});
