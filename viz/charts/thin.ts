// Simplifies curves to the points that are visible: Douglas and Peucker 1973, in drawing coordinates.
import { hypot } from "../../sim/elementary.ts";

/** A third of a CSS pixel. */
const TOLERANCE = 0.33;

/**
 * Indices of the points to keep among `from`..`to`, both included, so that every omitted point lies within the
 * tolerance of the line.
 */
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

/** SVG path of a curve, with gaps where `y` is null. */
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

/** Closed SVG path between two curves over the same `x`. */
export function bandPath(x: readonly number[], low: readonly number[], high: readonly number[]): string {
  if (x.length === 0) return "";
  const top = keep(x, high, 0, x.length - 1).map((k) => pair(x[k]!, high[k]!));
  const bottom = keep(x, low, 0, x.length - 1).reverse();
  return `M${[...top, ...bottom.map((k) => pair(x[k]!, low[k]!))].join("L")}Z`;
}
