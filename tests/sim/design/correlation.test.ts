import seedrandom from "seedrandom";
import { describe, expect, test } from "vitest";
import { correlated, correlationOf, correlationRoot } from "../../../sim/design/correlation.ts";
import { normalQuantile } from "../../../sim/design/distributions.ts";

describe("correlated standard normal numbers", () => {
  test("two inputs: the root is (1, 0; r, sqrt(1 - r²)), the textbook factor", () => {
    const root = correlationRoot(2, [{ i: 0, j: 1, value: 0.6 }]);
    expect([...root]).toEqual([1, 0, 0.6, expect.closeTo(0.8, 12)]);
  });

  test("a sample has the correlations that were asked, and each input stays standard normal", () => {
    const root = correlationRoot(3, [
      { i: 0, j: 1, value: -0.7 },
      { i: 2, j: 1, value: 0.4 },
    ]);
    const random = seedrandom("correlation");
    const many = 20_000;
    const sample = Array.from({ length: many }, () =>
      correlated(
        Array.from({ length: 3 }, () => normalQuantile(random())),
        root,
      ),
    );
    const even = new Float64Array(many).fill(1 / many);
    const column = (i: number) => sample.map((x) => x[i]!);
    // Four standard errors of a correlation of so many.
    const near = 4 / Math.sqrt(many);
    for (const [i, j, value] of [
      [0, 1, -0.7],
      [1, 2, 0.4],
      [0, 2, 0],
    ] as const)
      expect(Math.abs(correlationOf(column(i), column(j), even) - value)).toBeLessThan(near);
    for (let i = 0; i < 3; i++) {
      const mean = column(i).reduce((sum, x) => sum + x, 0) / many;
      const variance = column(i).reduce((sum, x) => sum + x * x, 0) / many;
      expect(Math.abs(mean)).toBeLessThan(near);
      expect(Math.abs(variance - 1)).toBeLessThan(2 * near);
    }
  });

  test("correlations that cannot hold together become smaller, in the same proportion", () => {
    // Three inputs cannot each fall as the others rise: the matrix with -0.9 everywhere is not positive definite.
    const root = correlationRoot(3, [
      { i: 0, j: 1, value: -0.9 },
      { i: 0, j: 2, value: -0.9 },
      { i: 1, j: 2, value: -0.9 },
    ]);
    const at = (i: number, j: number): number => {
      let sum = 0;
      for (let k = 0; k < 3; k++) sum += root[3 * i + k]! * root[3 * j + k]!;
      return sum;
    };
    expect(at(0, 1)).toBeCloseTo(at(1, 2), 12);
    expect(at(0, 1)).toBeLessThan(-0.3);
    expect(at(0, 1)).toBeGreaterThan(-0.5);
    for (let i = 0; i < 3; i++) expect(at(i, i)).toBeCloseTo(1, 12);
  });
});
