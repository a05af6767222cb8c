// Stands of the tanks: one board with legs under each group of tanks of the same height.
import { type Child, h } from "../view/markup.ts";
import type { DisplayPlace, Layout } from "./places.ts";
import { rectOf, type Sheet } from "./sheet.ts";

const BOARD_M = 0.033;
const LEG_M = 0.02;
/** Tanks share a board if their undersides differ by less than this [m]. */
const SAME_M = 0.005;

const underside = (place: DisplayPlace): number => place.inside.z0 - place.display.glassM;

/** Neighbouring displays with the same underside, from left to right. */
function groups(displays: readonly DisplayPlace[]): readonly (readonly DisplayPlace[])[] {
  const list: DisplayPlace[][] = [];
  for (const place of displays) {
    const last = list.at(-1);
    if (last && Math.abs(underside(last[0]!) - underside(place)) < SAME_M) last.push(place);
    else list.push([place]);
  }
  return list;
}

export function drawStands(layout: Layout, sheet: Sheet): Child[] {
  return groups(layout.displays).map((group) => {
    const top = underside(group[0]!) - 0.002;
    const left = Math.min(...group.map((d) => d.inside.x0 - d.display.glassM)) - 0.01;
    const right = Math.max(...group.map((d) => d.inside.x1 + d.display.glassM)) + 0.01;
    const board = { x0: left, x1: right, z0: top - BOARD_M, z1: top };
    const legs = [left + 0.01, right - 0.01 - LEG_M].map((x) =>
      h("rect", { class: "stand", ...rectOf(sheet, { x0: x, x1: x + LEG_M, z0: layout.floorZ, z1: board.z0 }) }),
    );
    return [legs, h("rect", { class: "stand board", ...rectOf(sheet, board) })];
  });
}
