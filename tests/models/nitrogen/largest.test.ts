import { expect, test } from "vitest";
import { largest } from "../../../models/nitrogen/analysis/largest.ts";
import fc from "../../fast-check.ts";

/** Bisection step by step, whose result `largest` must reproduce. */
function halving(most: number, holds: (value: number) => boolean): number {
  if (holds(most)) return most;
  let low = 0;
  let high = most;
  while (high - low > 0.03 * high && high > 1e-3 * most) {
    const middle = 0.5 * (low + high);
    if (holds(middle)) low = middle;
    else high = middle;
  }
  return low;
}

const shapes: readonly ((ratio: number) => number)[] = [
  (ratio) => ratio,
  (ratio) => ratio ** 0.1,
  (ratio) => ratio ** 6,
  // A filter that takes up everything up to its limit.
  (ratio) => (ratio < 1 ? 0 : 1 + 50 * (ratio - 1)),
  (ratio) => (ratio < 1 ? 0.2 : Number.POSITIVE_INFINITY),
];

test("gives the bits of bisection", () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
      fc.double({ min: -12, max: 3, noNaN: true }),
      fc.constantFrom(...shapes),
      (most, octaves, shape) => {
        const root = most * 2 ** octaves;
        const excess = (value: number): number => shape(value / root);
        expect(largest(most, excess)).toBe(halving(most, (value) => excess(value) < 1));
      },
    ),
    { numRuns: 2000 },
  );
});

test("needs less than half of its evaluations", () => {
  let asked = 0;
  const excess = (value: number): number => {
    asked++;
    return value ** 2 / 0.3;
  };
  largest(20, excess);
  const few = asked;
  asked = 0;
  halving(20, (value) => excess(value) < 1);
  expect(few).toBeLessThan(asked / 2);
});
