// Bar charts: the nitrogen balance, and the surface that the food needs against the surface available.
import type { Ledger, NitrogenResult } from "../../scenarios/result/result.ts";
import { h, type Markup } from "../view/markup.ts";
import { area, figure, type Reader } from "../view/reader.ts";
import { linear } from "./scale.ts";

interface Piece {
  readonly label: string;
  readonly value: number;
}

/** One stacked bar. The name of a piece is on the bar, or under it with a leader where the piece is too short. */
function stacked(
  name: string,
  pieces: readonly Piece[],
  total: number,
  width: number,
  y: number,
  reader: Reader,
  unit: string,
): Markup {
  const left = 0;
  const x = linear([0, Math.max(total, 1e-12)], [left, width]);
  let sum = 0;
  let under = 0;
  return h(
    "g",
    {},
    h("text", { class: "direct", x: left, y: y - 6 }, name),
    pieces.map((p, i) => {
      const x0 = x(sum);
      sum += p.value;
      const x1 = x(sum);
      const text = `${p.label} ${figure(reader, p.value)}${unit}`;
      const fits = text.length * 6.1 < x1 - x0 - 8;
      const mid = (x0 + x1) / 2;
      const row = fits ? 0 : under++;
      return [
        h("rect", { class: `bar fill-${i % 5}`, x: x0, y, width: Math.max(0.8, x1 - x0), height: 26 }),
        fits
          ? h("text", { x: x0 + 6, y: y + 17 }, text)
          : p.value > 0 && [
              h("path", {
                class: "leader",
                d: `M${mid.toFixed(1)},${y + 26}V${y + 34 + row * 14}h${mid > width * 0.6 ? -6 : 6}`,
              }),
              h(
                "text",
                {
                  x: mid + (mid > width * 0.6 ? -9 : 9),
                  y: y + 38 + row * 14,
                  "text-anchor": mid > width * 0.6 ? "end" : "start",
                },
                text,
              ),
            ],
      ];
    }),
  );
}

const shortPieces = (pieces: readonly Piece[], total: number, width: number): number =>
  pieces.filter((p) => p.value > 0 && `${p.label} 0.00 g`.length * 6.1 >= (p.value / total) * width - 8).length;

export function ledgerSummary(ledger: Ledger, reader: Reader): string {
  const list = (rows: Ledger["in"]): string => rows.map((r) => `${r.label} ${figure(reader, r.gN)} g`).join(", ");
  return `Nitrogen balance. In: ${list(ledger.in)}. Out: ${list(ledger.out)}. Still there: ${list(ledger.stored)}.`;
}

/** Merges pieces that are too small to be visible. */
function gathered(rows: Ledger["in"], total: number): Piece[] {
  const pieces = rows.filter((r) => r.gN > 0).map((r) => ({ label: r.label, value: r.gN }));
  const small = pieces.filter((p) => p.value < 0.012 * total);
  if (small.length < 2) return pieces;
  return [...pieces.filter((p) => !small.includes(p)), { label: "all the rest", value: small.reduce((s, p) => s + p.value, 0) }];
}

/** Input above, output and remaining stock below, on one scale. */
export function drawLedger(ledger: Ledger, width: number, reader: Reader): Markup {
  const sum = (rows: Ledger["in"]): number => rows.reduce((s, r) => s + Math.max(0, r.gN), 0);
  const total = Math.max(sum(ledger.in), sum(ledger.out) + sum(ledger.stored));
  const into = gathered(ledger.in, total);
  const rest = gathered([...ledger.out, ...ledger.stored], total);
  const inner = width - 4;
  const underIn = shortPieces(into, total, inner) * 14;
  const underOut = shortPieces(rest, total, inner) * 14;
  return h(
    "svg",
    {
      class: "chart",
      viewBox: `-1 0 ${width} ${126 + underIn + underOut}`,
      role: "img",
      "aria-label": ledgerSummary(ledger, reader),
    },
    stacked("Nitrogen in, g", into, total, inner, 22, reader, " g"),
    stacked("Out, and still there, g", rest, total, inner, 88 + underIn, reader, " g"),
  );
}

export function surfaceSummary(surfaces: NitrogenResult["surfaces"], reader: Reader): string {
  return surfaces
    .map(
      (s) =>
        `${s.name}: ${area(reader, s.wettedAreaM2)} of ${area(reader, s.areaM2)} wetted; takes ${figure(reader, s.loadGNPerDay)} of at most ${figure(reader, s.capacityGNPerDay)} g nitrogen a day`,
    )
    .join(". ");
}

/** "12.6 of 13 m² wet"; submerged surfaces are fully wet, which needs no mention. */
const wettedWords = (s: NitrogenResult["surfaces"][number], reader: Reader): string =>
  s.wettedAreaM2 >= s.areaM2 ? area(reader, s.areaM2) : `${area(reader, s.wettedAreaM2)} of ${area(reader, s.areaM2)} wetted`;

/** Required and available surface: the dark part is in use, the open part is spare. */
export function drawSurfaces(surfaces: NitrogenResult["surfaces"], width: number, reader: Reader): Markup {
  const most = Math.max(1e-9, ...surfaces.map((s) => Math.max(s.capacityGNPerDay, s.loadGNPerDay)));
  const x = linear([0, most], [0, width - 4]);
  const rowHigh = 62;
  return h(
    "svg",
    {
      class: "chart",
      viewBox: `-1 0 ${width} ${surfaces.length * rowHigh + 6}`,
      role: "img",
      "aria-label": surfaceSummary(surfaces, reader),
    },
    surfaces.map((s, i) => {
      const y = i * rowHigh + 20;
      const load = x(Math.min(s.loadGNPerDay, most));
      return h(
        "g",
        {},
        h(
          "text",
          { class: "direct", x: 0, y: y - 6 },
          s.name,
          h("tspan", { class: "panel-unit", dx: 8 }, wettedWords(s, reader)),
        ),
        h("rect", { class: "bar fill-4", x: 0, y, width: Math.max(1, x(s.capacityGNPerDay)), height: 16 }),
        h("rect", { class: "bar fill-1", x: 0, y: y + 3, width: Math.max(1, load), height: 10 }),
        h(
          "text",
          { class: "panel-unit", x: 0, y: y + 31 },
          `needs ${figure(reader, s.loadGNPerDay)} of ${figure(reader, s.capacityGNPerDay)} g nitrogen a day it can take`,
        ),
      );
    }),
  );
}
