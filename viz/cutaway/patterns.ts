// Hatching patterns: they distinguish glass, ground, media and water without colour.
import { h, type Markup } from "../view/markup.ts";

export interface PatternIds {
  readonly glass: string;
  readonly ground: string;
  readonly water: string;
  readonly foam: string;
  readonly pad: string;
  media(kind: string): string;
}

const ids = (prefix: string): PatternIds => ({
  glass: `${prefix}-glass`,
  ground: `${prefix}-ground`,
  water: `${prefix}-water`,
  foam: `${prefix}-foam`,
  pad: `${prefix}-pad`,
  media: (kind) => `${prefix}-${/ball|sphere/i.test(kind) ? "balls" : /foam|sponge|mat|pad/i.test(kind) ? "foam" : "pieces"}`,
});

const lines = (id: string, size: number, className: string, d: string, turn = 0): Markup =>
  h(
    "pattern",
    {
      id,
      width: size,
      height: size,
      patternUnits: "userSpaceOnUse",
      ...(turn !== 0 ? { patternTransform: `rotate(${turn})` } : {}),
    },
    h("path", { d, class: className, fill: "none" }),
  );

/** Pattern definitions and their ids; `pieceM * scale` sets the size of the media pieces. */
export function patterns(prefix: string, scale: number, pieceM: number): { readonly defs: Markup[]; readonly ids: PatternIds } {
  const id = ids(prefix);
  const piece = Math.max(7, Math.min(22, pieceM * scale));
  const r = piece / 2;
  const ring = `M0.4,${r}a${r - 0.4},${r - 0.4} 0 1,0 ${piece - 0.8},0a${r - 0.4},${r - 0.4} 0 1,0 -${piece - 0.8},0`;
  const ribs = `M${r},0.4V${piece - 0.4}M0.4,${r}H${piece - 0.4}`;
  return {
    ids: id,
    defs: [
      lines(id.glass, 4, "hatch", "M0,0V4", 45),
      lines(id.ground, 9, "hatch", "M0,0V9", 45),
      h(
        "pattern",
        { id: id.water, width: 46, height: 16, patternUnits: "userSpaceOnUse" },
        h("path", { d: "M2,4H16M27,4H34M8,12H13M24,12H40", class: "water-dash", fill: "none" }),
      ),
      h(
        "pattern",
        { id: `${prefix}-balls`, width: piece, height: piece, patternUnits: "userSpaceOnUse" },
        h("path", { d: ring + ribs, class: "media-line", fill: "none" }),
      ),
      lines(`${prefix}-pieces`, 9, "media-line", "M1,2l4,1.6M6,7l2.4,-3M2,7.4l2,-1.6"),
      h(
        "pattern",
        { id: id.foam, width: 6, height: 6, patternUnits: "userSpaceOnUse" },
        h("circle", { cx: 1.4, cy: 1.6, r: 0.55, class: "media-dot" }),
        h("circle", { cx: 4.3, cy: 4.4, r: 0.7, class: "media-dot" }),
        h("circle", { cx: 4.8, cy: 1, r: 0.4, class: "media-dot" }),
      ),
      lines(id.pad, 4, "media-line", "M0,1.5q1,-1.5 2,0t2,0"),
    ],
  };
}
