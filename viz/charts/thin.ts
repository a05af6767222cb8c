// Leaves out the points of a curve that the eye cannot miss: Douglas and Peucker 1973, on drawn coordinates.
import { hypot } from "../../sim/elementary.ts";

/** A third of a CSS pixel. */
const TOLERANCE = 0.33;

/** Indices to keep of points `from`..`to`, both included, so that no left-out point lies further than the tolerance from the line. */
function keep(x: readonly number[], y: readonly number[], from: number, to: number): number[] {
  const kept = new Set([from, to]);
  const stack: [number, number][] = [[from, to]];
  for (;;) {
    const span = stack.pop();
    if (!span) return [...kept].sort((a, b) => a - b);
    const [a, b] = span;
    const dx = x[b]! - x[a]!;
    const dy = y[b]! - y[a]!;
    const length = hypot(dx, dy) || 1;
    let worst = TOLERANCE;
    let at = -1;
    for (let i = a + 1; i < b; i++) {
      const off = Math.abs(dy * (x[i]! - x[a]!) - dx * (y[i]! - y[a]!)) / length;
      if (off > worst) {
        worst = off;
        at = i;
      }
    }
    if (at < 0) continue;
    kept.add(at);
    stack.push([a, at], [at, b]);
  }
}

const pair = (x: number, y: number): string => `${Math.round(x * 10) / 10},${Math.round(y * 10) / 10}`;

/** Path of a curve; it is broken where `y` is null. */
export function curvePath(x: readonly number[], y: readonly (number | null)[]): string {
  let d = "";
  let start = -1;
  for (let i = 0; i <= y.length; i++) {
    const there = i < y.length && y[i] !== null;
    if (there && start < 0) start = i;
    if (!there && start >= 0) {
      const points = keep(x, y as readonly number[], start, i - 1);
      d += `M${points.map((k) => pair(x[k]!, y[k]!)).join("L")}`;
      start = -1;
    }
  }
  return d;
}

/** Closed path between two curves over the same `x`. */
export function bandPath(x: readonly number[], low: readonly number[], high: readonly number[]): string {
  if (x.length === 0) return "";
  const top = keep(x, high, 0, x.length - 1).map((k) => pair(x[k]!, high[k]!));
  const bottom = keep(x, low, 0, x.length - 1).reverse();
  return `M${[...top, ...bottom.map((k) => pair(x[k]!, low[k]!))].join("L")}Z`;
}
