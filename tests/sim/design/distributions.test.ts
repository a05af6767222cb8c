import { describe, expect, test } from "vitest";
import { even, logEven, logNormal, normal, normalQuantile, triangle } from "../../../sim/design/distributions.ts";

describe("distributions", () => {
  test("the normal quantile agrees with tables and with SciPy", () => {
    // scipy 1.17.1, scipy.stats.norm.ppf.
    const known: readonly (readonly [number, number])[] = [
      [1e-8, -5.612001244174789],
      [0.001, -3.090232306167813],
      [0.025, -1.9599639845400545],
      [0.5, 0],
      [0.6, 0.2533471031357997],
      [0.9, 1.2815515655446004],
      [0.999, 3.090232306167813],
    ];
    for (const [u, z] of known) expect(normalQuantile(u)).toBeCloseTo(z, 9);
    expect(Number.isFinite(normalQuantile(0))).toBe(true);
  });

  test("means and medians agree with textbooks", () => {
    const N = 20_000;
    const mean = (q: (u: number) => number) =>
      Array.from({ length: N }, (_, i) => q((i + 0.5) / N)).reduce((a, b) => a + b, 0) / N;
    expect(mean(even(2, 6))).toBeCloseTo(4, 6);
    expect(mean(triangle(0, 1, 5))).toBeCloseTo((0 + 1 + 5) / 3, 4);
    expect(mean(logEven(1, Math.E))).toBeCloseTo(Math.E - 1, 4);
    expect(mean(normal(3, 0.5))).toBeCloseTo(3, 6);
    expect(logNormal(2, 1.5)(0.5)).toBeCloseTo(2, 12);
    expect(mean(logNormal(2, 1.5))).toBeCloseTo(2 * Math.exp(Math.log(1.5) ** 2 / 2), 3);
  });
});
