import { describe, expect, test } from "vitest";
import * as format from "../../../scenarios/text/format.ts";
import { parseQuantity } from "../../../scenarios/text/units.ts";
import fc from "../../fast-check.ts";

describe("lengths on a ruler", () => {
  test.each([
    [0.023, "23 mm", "7/8 in"],
    [0.218, "218 mm", "8 9/16 in"],
    [0.0254, "25 mm", "1 in"],
    [0.0381, "38 mm", "1 1/2 in"],
    [0.004, "4 mm", "3/16 in"],
    [0, "0 mm", "0 in"],
    [-0.0127, "-13 mm", "-1/2 in"],
    [12, "12 m", "39.4 ft"],
  ])("%f m is %s or %s", (metres, metric, us) => {
    expect(format.length(metres)).toEqual({ metric, US: us });
  });

  test("a printed length parses to within half a step", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 9.9, noNaN: true }), (metres) => {
        const { metric, US } = format.length(metres);
        for (const [text, step] of [
          [metric, 0.0005],
          [US, 0.0254 / 32],
        ] as const) {
          const read = parseQuantity(text, "length");
          if (!read.ok) throw new Error(`${text}: ${read.problem}`);
          expect(Math.abs(read.value - metres)).toBeLessThanOrEqual(step * (1 + 1e-9));
        }
      }),
    );
  });
});

test("flows and areas read back to within 0.5 %, volumes and masses to within their two figures", () => {
  fc.assert(
    fc.property(fc.double({ min: 0.01, max: 100, noNaN: true }), (x) => {
      const pairs = [
        [format.volume(x / 1000), "volume", x / 1000],
        [format.flow(x / 3600), "flow", x / 3600],
        [format.area(x), "area", x],
        [format.mass(x * 1000), "mass", x * 1000],
      ] as const;
      for (const [both, kind, value] of pairs) {
        for (const text of [both.metric, both.US]) {
          const read = parseQuantity(text.replace("²", "2"), kind);
          if (!read.ok) throw new Error(`${text}: ${read.problem}`);
          // Volumes below one litre or gallon have one figure.
          const least = kind === "volume" && Number.parseFloat(text) < 1 ? 0.51 : 0.051;
          expect(Math.abs(read.value / value - 1)).toBeLessThan(kind === "volume" || kind === "mass" ? least : 0.0051);
        }
      }
    }),
  );
});

test("the reader's unit system comes first", () => {
  expect(format.inBothUnits(format.volume(0.024), "metric")).toBe("24 L (6.3 US gal)");
  expect(format.inBothUnits(format.volume(0.024), "US")).toBe("6.3 US gal (24 L)");
  expect(format.inBothUnits(format.temperature(25), "US")).toBe("77 °F (25 °C)");
});

test("NaN and infinity are never printed", () => {
  for (const value of [Number.NaN, Number.POSITIVE_INFINITY]) expect(() => format.plain(value)).toThrow(RangeError);
  expect(format.plain(-1e-9, 2)).toBe("-0.000000001");
  expect(format.plain(123456)).toBe("123456");
  expect(format.plain(0.30000000000000004)).toBe("0.3");
});

test("durations are printed in the most readable unit", () => {
  expect([20, 90, 228, 5399, 5400, 14_400, 100_000, 604_800].map((seconds) => format.duration(seconds))).toEqual([
    "20 s",
    "90 s",
    "3 min 48 s",
    "90 min",
    "1 h 30 min",
    "4 h",
    "28 h",
    "7 days",
  ]);
});

test("a flood is told with the figures that a bucket shows", () => {
  expect([0.0000962, 0.00819, 0.0227, 0.2014].map((m3) => format.volume(m3).metric)).toEqual(["0.1 L", "8.2 L", "23 L", "201 L"]);
});

test("hours to act by are no finer than one would say them", () => {
  expect([0.9, 1, 1.77, 2.4, 12.3].map((h) => format.hours(h))).toEqual([
    "55 min",
    "1 hour",
    "1 h 45 min",
    "2.5 hours",
    "12 hours",
  ]);
  expect(format.hourRange(2.4, 32)).toBe("2.5 to 32 hours");
  expect(format.hourRange(2.4, 2.6)).toBe("about 2.5 hours");
  expect(format.hourRange(90, null)).toBe("90 hours or more");
});
