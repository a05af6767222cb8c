// Simplified curves look the same: no point moves by more than a fifth of a pixel, and corners and gaps stay.
import { describe, expect, it } from "vitest";
import { bandPath, curvePath } from "../../viz/charts/thin.ts";

/** The points of a path of one piece: the first in full, the others as steps. */
function points(d: string): number[][] {
  const numbers = (d.match(/-?\d*\.?\d+/g) ?? []).map(Number);
  const list: number[][] = [];
  for (let i = 0; i < numbers.length; i += 2) {
    const [x, y] = list.at(-1) ?? [0, 0];
    list.push([x! + numbers[i]!, y! + numbers[i + 1]!].map((v) => Math.round(v * 10) / 10));
  }
  return list;
}

describe("simplified curves", () => {
  it("reduce a straight line to two points and keep every corner", () => {
    const x = Array.from({ length: 101 }, (_, i) => i);
    expect(
      curvePath(
        x,
        x.map((v) => 2 * v),
      ),
    ).toBe("M0 0l100 200");
    expect(
      points(
        curvePath(
          x,
          x.map((v) => (v < 40 ? 0 : v === 40 ? 50 : 10)),
        ),
      ),
    ).toEqual([
      [0, 0],
      [39, 0],
      [40, 50],
      [41, 10],
      [100, 10],
    ]);
  });

  it("stay within a fifth of a pixel of a smooth curve, with far fewer points", () => {
    const x = Array.from({ length: 2001 }, (_, i) => i / 2);
    const y = x.map((v) => 80 + 70 * Math.sin(v / 60));
    const kept = points(curvePath(x, y));
    expect(kept.length).toBeLessThan(300);
    let k = 0;
    x.forEach((v, i) => {
      while (kept[k + 1]![0]! < v) k++;
      const [x0, y0, x1, y1] = [...kept[k]!, ...kept[k + 1]!] as [number, number, number, number];
      const straight = y0 + ((y1 - y0) * (v - x0)) / (x1 - x0);
      // The vertical distance is at most the normal distance times the factor of the steepest slope; rounding adds a twentieth.
      expect(Math.abs(straight - y[i]!)).toBeLessThan(0.2 * Math.hypot(1, 70 / 60) + 0.1);
    });
  });

  it("are interrupted at gaps, and bands are closed", () => {
    expect(curvePath([0, 1, 2, 3, 4], [1, 1, null, 5, 5])).toBe("M0 1l1 0M3 5l1 0");
    expect(bandPath([0, 1, 2], [5, 5, 5], [1, 1, 1])).toBe("M0 1l2 0 0 4-2 0Z");
    expect(curvePath([], [])).toBe("");
    expect(curvePath([0, 0.5, 1], [0.25, -0.25, 1])).toBe("M0 .3l.5-.5 .5 1.2");
  });
});
