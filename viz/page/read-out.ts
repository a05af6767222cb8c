// Chart values for one day. No browser code.
import { type Panel, valueAt } from "../charts/panel.ts";
import { figure, number, type Reader } from "../view/reader.ts";

export interface ReadOutLine {
  readonly panel: string;
  readonly label: string;
  readonly value: string;
}

/** Longest period with days shown to a tenth [d]. */
const SHORT_DAYS = 20;

export const dayWords = (reader: Reader, day: number, shownDays: number): string =>
  `Day ${number(reader, day, shownDays < SHORT_DAYS ? 1 : 0)}`;

/** Values of every line on a day, in the order of the panels. */
export const readOut = (panels: readonly Panel[], day: number, reader: Reader): readonly ReadOutLine[] =>
  panels.flatMap((p) =>
    p.lines.flatMap((line) => {
      const value = valueAt(line, day);
      if (value === null) return [];
      return [
        {
          panel: p.id,
          label: p.lines.length > 1 ? `${p.title}, ${line.label}` : p.title,
          value: `${figure(reader, value)}${p.unit ? ` ${p.unit}` : ""}`,
        },
      ];
    }),
  );

export interface Place {
  readonly left: number;
  readonly top: number;
}

/** Position of a card beside a point: inside the window and without covering the point. */
export function cardPlace(
  point: { readonly x: number; readonly y: number },
  card: { readonly width: number; readonly height: number },
  window: { readonly width: number; readonly height: number },
  gap = 14,
): Place {
  const right = point.x + gap + card.width <= window.width;
  const left = right ? point.x + gap : Math.max(4, point.x - gap - card.width);
  const top = Math.min(Math.max(4, point.y - card.height / 2), Math.max(4, window.height - card.height - 4));
  return { left, top };
}
