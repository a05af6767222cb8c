// The guess of a lesson as data: points on evenly spaced days, and their distance from the answer. No browser code.
import { type Line, type Panel, range, valueAt } from "../charts/panel.ts";

/** Number of points of one curve. */
export const POINTS = 13;

/** Values on the days; null where the reader drew nothing. */
export type Guess = readonly (number | null)[];

export type Guesses = ReadonlyMap<string, Guess>;

export const dayOfPoint = (days: number, i: number): number => (days * i) / (POINTS - 1);

/** The guesses with one changed point of one panel. */
export function withPoint(guesses: Guesses, panel: string, index: number, value: number): Guesses {
  const values = [...(guesses.get(panel) ?? Array.from({ length: POINTS }, () => null))];
  values[index] = value;
  return new Map(guesses).set(panel, values);
}

/** Mean distance of the drawn points from the answer, relative to the height of the chart; null if nothing is drawn. */
export function distance(guess: Guess, answer: Guess, span: number): number | null {
  let sum = 0;
  let n = 0;
  guess.forEach((g, i) => {
    const a = answer[i] ?? null;
    if (g === null || a === null) return;
    sum += Math.abs(g - a);
    n++;
  });
  return n === 0 ? null : sum / n / span;
}

/** Distance of a guess from one line of its panel. */
export function distanceFrom(guess: Guess, panel: Panel, line: Line, days: number): number | null {
  const [low, high] = range(panel);
  const answer = guess.map((_, i) => valueAt(line, dayOfPoint(days, i)));
  return distance(guess, answer, high - low);
}

/** Point and value at a position in the plot; null outside it. Fractions run from left to right and from bottom to top. */
export function pointAt(
  shareX: number,
  shareY: number,
  [low, high]: readonly [number, number],
): { index: number; value: number } | null {
  const index = Math.round(shareX * (POINTS - 1));
  if (index < 0 || index >= POINTS) return null;
  return { index, value: low + Math.min(1, Math.max(0, shareY)) * (high - low) };
}
