import { expect, test } from "vitest";
import { highestThatPasses } from "../../../models/hydraulics/planning/fill-levels.ts";
import fc from "../../fast-check.ts";

/** Plain bisection: the result that the search must match. */
function halving(low: number, high: number, precision: number, passes: (value: number) => boolean): number | null {
  if (!passes(low)) return null;
  if (passes(high)) return high;
  let good = low;
  let bad = high;
  while (bad - good > precision) {
    const middle = (good + bad) / 2;
    if (passes(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

const shapes: readonly ((over: number) => number | boolean)[] = [
  (over) => -over,
  (over) => -(over ** 3),
  (over) => -Math.cbrt(over),
  (over) => (over <= 0 ? 0.3 : -over),
  (over) => (over <= 0 ? Number.POSITIVE_INFINITY : -over),
  (over) => over <= 0,
];

test("a test that returns a margin gives the result of bisection, to the last bit", () => {
  fc.assert(
    fc.property(
      fc.double({ min: -1, max: 1, noNaN: true }),
      fc.double({ min: 1e-3, max: 2, noNaN: true }),
      fc.double({ min: -0.2, max: 1.2, noNaN: true }),
      fc.constantFrom(2e-4, 1e-2),
      fc.constantFrom(...shapes),
      (low, span, share, precision, shape) => {
        const root = low + share * span;
        const test = (value: number): number | boolean => shape(value - root);
        const passes = (value: number): boolean => {
          const found = test(value);
          return typeof found === "boolean" ? found : found >= 0;
        };
        expect(highestThatPasses(low, low + span, precision, test)).toBe(halving(low, low + span, precision, passes));
      },
    ),
    { numRuns: 3000 },
  );
});

test("it evaluates less than half as many values", () => {
  let tried = 0;
  const room = (value: number): number => {
    tried++;
    return 0.16 - value - 0.05 * value ** 2;
  };
  highestThatPasses(0, 0.4, 2e-4, room);
  const few = tried;
  tried = 0;
  halving(0, 0.4, 2e-4, (value) => room(value) >= 0);
  expect(few).toBeLessThan(tried / 2);
});
