// Conversion from metres to drawing units, with one scale for both axes and space for the dimensions.
import type { Box, Layout, Point } from "./places.ts";

/** Converts metres to SVG units. */
export interface Sheet {
  readonly width: number;
  readonly height: number;
  /** SVG units per metre. */
  readonly scale: number;
  x(m: number): number;
  y(z: number): number;
  readonly narrow: boolean;
}

/** A sheet of the given width with space for the dimensions on both sides. */
export function sheetFor(layout: Layout, width: number): Sheet {
  const narrow = width < 620;
  const left = narrow ? 98 : 196;
  const right = narrow ? 104 : 176;
  const top = narrow ? 22 : 26;
  const { bounds } = layout;
  const wide = bounds.x1 - bounds.x0;
  const high = bounds.z1 - bounds.z0;
  const scale = Math.min((width - left - right) / wide, (narrow ? 560 : 720) / high);
  const spare = width - left - right - wide * scale;
  const foot = narrow ? 44 : 52;
  return {
    width,
    // A low drawing also needs space for four lines of dimensions.
    height: Math.max(narrow ? 200 : 0, Math.ceil(top + high * scale + foot)),
    scale,
    narrow,
    x: (m) => left + spare / 2 + (m - bounds.x0) * scale,
    y: (z) => top + (bounds.z1 - z) * scale,
  };
}

export const pathOf = (sheet: Sheet, points: readonly Point[]): string =>
  points.map(([x, z], i) => `${i === 0 ? "M" : "L"}${sheet.x(x).toFixed(1)},${sheet.y(z).toFixed(1)}`).join("");

export const rectOf = (sheet: Sheet, b: Box): { x: number; y: number; width: number; height: number } => ({
  x: sheet.x(b.x0),
  y: sheet.y(b.z1),
  width: (b.x1 - b.x0) * sheet.scale,
  height: (b.z1 - b.z0) * sheet.scale,
});
