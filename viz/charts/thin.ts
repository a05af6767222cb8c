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

/** Tenths of a CSS pixel as the shortest number: 12 is 1.2, -5 is -.5. */
const shortest = (tenths: number): string => String(tenths / 10).replace(/^(-?)0\./, "$1.");

/** Number after number; a minus parts them by itself. */
const joined = (a: string, b: string): string => (b.startsWith("-") ? a + b : `${a} ${b}`);

/** A line through points, each told by its distance from the one before: half the text of full coordinates. */
function polyline(points: readonly (readonly [x: number, y: number])[]): string {
  let d = "";
  let [px, py] = [0, 0];
  points.forEach(([x, y], i) => {
    const [tx, ty] = [Math.round(x * 10), Math.round(y * 10)];
    const step = joined(shortest(tx - px), shortest(ty - py));
    d = i === 0 ? `M${step}` : i === 1 ? `${d}l${step}` : joined(d, step);
    [px, py] = [tx, ty];
  });
  return d;
}

/** SVG path of a curve, with gaps where `y` is null. */
export function curvePath(x: readonly number[], y: readonly (number | null)[]): string {
  let d = "";
  let start = -1;
  for (let i = 0; i <= y.length; i++) {
    const there = i < y.length && y[i] !== null;
    if (there && start < 0) start = i;
    if (!there && start >= 0) {
      d += polyline(keep(x, y as readonly number[], start, i - 1).map((k) => [x[k]!, y[k]!]));
      start = -1;
    }
  }
  return d;
}

/** Closed SVG path between two curves over the same `x`. */
export function bandPath(x: readonly number[], low: readonly number[], high: readonly number[]): string {
  if (x.length === 0) return "";
  const points = (y: readonly number[]) => keep(x, y, 0, x.length - 1).map((k): [number, number] => [x[k]!, y[k]!]);
  return `${polyline([...points(high), ...points(low).reverse()])}Z`;
}
