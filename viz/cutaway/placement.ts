// Places the labels of the drawing without overlaps and within the sheet.

/** A rectangle on the sheet, in drawing units. */
export interface Area {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

export interface WantedLabel {
  readonly text: string;
  /** The point that the label names. */
  readonly at: readonly [x: number, y: number];
  /**
   * Offsets of the text from that point, the preferred one first. A negative dx sets the text to the left of its end
   * point.
   */
  readonly offsets: readonly (readonly [dx: number, dy: number])[];
  /** Whether the label is omitted if it fits nowhere; if not, it then takes its first offset. */
  readonly optional: boolean;
}

export interface PlacedLabel extends WantedLabel {
  readonly offset: readonly [dx: number, dy: number];
  readonly area: Area;
}

const overlap = (a: Area, b: Area): boolean => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;

const inside = (a: Area, sheet: Area): boolean => a.x0 >= sheet.x0 && a.x1 <= sheet.x1 && a.y0 >= sheet.y0 && a.y1 <= sheet.y1;

/** Width of a letter relative to the font size, for the widest of the fonts of the page. */
const LETTER = 0.64;

/** Upper bound of the width of a text [drawing units]. */
export const textWidth = (text: string, size: number): number => text.length * LETTER * size;

/** The area of a text whose baseline starts, ends or is centred at a point. */
export function textArea(text: string, size: number, x: number, y: number, anchor: "start" | "middle" | "end"): Area {
  const wide = textWidth(text, size);
  const x0 = anchor === "start" ? x : anchor === "end" ? x - wide : x - wide / 2;
  return { x0, x1: x0 + wide, y0: y - size, y1: y + size * 0.3 };
}

/**
 * Places labels in order, each at its first free offset.
 * @param taken areas that other labels already cover
 */
export function placeLabels(
  wanted: readonly WantedLabel[],
  size: number,
  sheet: Area,
  taken: readonly Area[],
): readonly PlacedLabel[] {
  const covered = [...taken];
  return wanted.flatMap((label) => {
    const areas = label.offsets.map((offset) => {
      const [dx, dy] = offset;
      return { offset, area: textArea(label.text, size, label.at[0] + dx, label.at[1] + dy, dx < 0 ? "end" : "start") };
    });
    const free = areas.find(({ area }) => inside(area, sheet) && !covered.some((other) => overlap(area, other)));
    const chosen = free ?? (label.optional ? undefined : areas[0]);
    if (!chosen) return [];
    covered.push(chosen.area);
    return [{ ...label, ...chosen }];
  });
}
