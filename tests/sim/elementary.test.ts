import { createHash } from "node:crypto";
import seedrandom from "seedrandom";
import { describe, expect, test } from "vitest";
import { cbrt, cube, exp, exp10, fourthRoot, hypot, log, log10, pow, sin, smoothStep, square } from "../../sim/elementary.ts";

/** Distance of two numbers in units in the last place. */
function ulps(a: number, b: number): number {
  if (a === b) return 0;
  return Math.abs(a - b) / 2 ** (Math.max(-1022, Math.floor(Math.log2(Math.abs(b)))) - 52);
}
const random = seedrandom("elementary");
const between = (low: number, high: number): number => low + (high - low) * random();
const samples = (low: number, high: number): number[] => Array.from({ length: 20_000 }, () => between(low, high));
const worst = (inputs: readonly number[], own: (x: number) => number, reference: (x: number) => number): number =>
  Math.max(...inputs.map((x) => ulps(own(x), reference(x))));

test("the smooth step is 0 and 1 outside, half in the middle, and symmetrical (3 x^2 - 2 x^3)", () => {
  expect([-3, 0, 0.5, 1, 7].map(smoothStep)).toEqual([0, 0, 0.5, 1, 1]);
  expect(smoothStep(0.25)).toBeCloseTo(3 / 16 - 2 / 64, 15);
  expect(smoothStep(0.9) + smoothStep(0.1)).toBeCloseTo(1, 15);
});

describe("elementary functions", () => {
  /** Digits of the Online Encyclopedia of Integer Sequences: A001113, A002162, A002392, A002580, A049469. */
  test.each([
    ["e", exp(1), "2.718281828459045235360287"],
    ["ln 2", log(2), "0.693147180559945309417232"],
    ["ln 10", log(10), "2.302585092994045684017991"],
    ["cube root of 2", cbrt(2), "1.25992104989487316476721"],
    ["sine of 1", sin(1), "0.841470984807896506652502"],
  ])("%s to the last digit but one", (_, own, published) => {
    expect(ulps(own, Number(published))).toBeLessThanOrEqual(1);
  });

  test("the functions agree with the engine's own over their whole range, within one or two units in the last place", () => {
    expect(worst(samples(-745, 709), exp, Math.exp)).toBeLessThanOrEqual(1);
    expect(worst(samples(-1, 1), exp, Math.exp)).toBeLessThanOrEqual(1);
    expect(worst(samples(-745, 709).map(Math.exp), log, Math.log)).toBeLessThanOrEqual(1);
    expect(worst(samples(0.5, 2), log, Math.log)).toBeLessThanOrEqual(2);
    expect(worst(samples(-1e6, 1e6), cbrt, Math.cbrt)).toBeLessThanOrEqual(1);
    expect(worst(samples(-Math.PI / 2, Math.PI / 2), sin, Math.sin)).toBeLessThanOrEqual(2);
    expect(worst(samples(-20, 20).map(Math.exp), log10, Math.log10)).toBeLessThanOrEqual(3);
    expect(worst(samples(0, 1e9), fourthRoot, (x) => x ** 0.25)).toBeLessThanOrEqual(1);
  });

  test("powers agree within a few units in the last place per factor of ten", () => {
    for (let i = 0; i < 20_000; i++) {
      const [x, y] = [Math.exp(between(-12, 12)), between(-3, 3)];
      expect(Math.abs(pow(x, y) / x ** y - 1)).toBeLessThan(1e-14);
      expect(Math.abs(exp10(y * 4) / 10 ** (y * 4) - 1)).toBeLessThan(1e-14);
    }
    expect([pow(2, 8), pow(2, -32), pow(-3, 3), pow(9, 1.5), pow(4, -0.5), pow(0, 2.3), pow(0, -1.1), pow(5, 0)]).toEqual([
      256,
      1 / 4294967296,
      -27,
      27,
      0.5,
      0,
      Number.POSITIVE_INFINITY,
      1,
    ]);
    expect([square(3), cube(-2), hypot(3, 4), hypot(2, 3, 6)]).toEqual([9, -8, 5, 7]);
    for (let n = -22; n <= 22; n++)
      expect([exp10(n), log10(Number(`1e${n}`))]).toEqual([n < 0 ? 1 / Number(`1e${-n}`) : Number(`1e${n}`), n]);
  });

  test("values at the ends of the range", () => {
    expect([exp(-750), exp(Number.NEGATIVE_INFINITY), exp(710.5), exp(Number.NaN), exp(0)]).toEqual([
      0,
      0,
      Number.POSITIVE_INFINITY,
      Number.NaN,
      1,
    ]);
    expect([log(0), log(-1), log(Number.POSITIVE_INFINITY), log(1), log(Number.NaN)]).toEqual([
      Number.NEGATIVE_INFINITY,
      Number.NaN,
      Number.POSITIVE_INFINITY,
      0,
      Number.NaN,
    ]);
    for (const x of [5e-324, 1e-310, 1.7976931348623157e308]) expect(ulps(log(x), Math.log(x))).toBeLessThanOrEqual(1);
    for (const x of [-745, -708.5, 709.7]) expect(ulps(exp(x), Math.exp(x))).toBeLessThanOrEqual(1);
    expect([cbrt(0), cbrt(-8), cbrt(27)]).toEqual([0, -2, 3]);
    expect(pow(-2, 0.3)).toBeNaN();
  });

  // Run on Node 20, 22 and 24. Other bits on a processor or engine would change every result.
  test("the functions give the same bits in every engine and on every processor", () => {
    const out: number[] = [];
    for (let i = 1; i <= 2000; i++) {
      const x = ((i * 7919) % 1000) / 37 - 13;
      out.push(
        exp(x),
        log(x + 14),
        log10(x + 14),
        cbrt(x),
        sin(x / 10),
        pow(x + 14, 0.385),
        pow(x + 14, -2.7),
        exp10(x / 3),
        fourthRoot(x + 14),
      );
    }
    const hash = createHash("sha256");
    const bytes = new DataView(new ArrayBuffer(8));
    for (const value of out) {
      bytes.setFloat64(0, value);
      hash.update(new Uint8Array(bytes.buffer));
    }
    expect(hash.digest("hex").slice(0, 16)).toBe("dc3d1ad68659603d");
  });
});
