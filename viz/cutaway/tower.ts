// The trickle tower: shell, pad, tray, water distribution, and media shaded by their activity.
import type { NitrogenResult } from "../../scenarios/result/result.ts";
import { type Child, h, type Markup } from "../view/markup.ts";
import type { PatternIds } from "./patterns.ts";
import type { Layout, TowerPlace } from "./places.ts";
import { rectOf, type Sheet } from "./sheet.ts";
import type { TraceSample } from "./state.ts";

type Surfaces = NitrogenResult["surfaces"];

const COLUMNS = 14;

/**
 * Wetted strips among the `COLUMNS` vertical strips of media: contiguous for one-sided feeding, otherwise evenly spaced.
 * Their number follows the wetted share; their positions are only illustrative.
 */
export function wetColumns(share: number, oneSided: boolean): readonly boolean[] {
  const wet = Math.round(Math.min(1, Math.max(0, share)) * COLUMNS);
  return Array.from({ length: COLUMNS }, (_, i) =>
    oneSided ? i < wet : Math.floor(((i + 1) * wet) / COLUMNS) > Math.floor((i * wet) / COLUMNS),
  );
}

function mediaTone(place: TowerPlace, sheet: Sheet, surface: Surfaces[number] | undefined): Child[] {
  const share = surface && surface.areaM2 > 0 ? surface.wettedAreaM2 / surface.areaM2 : (place.tower.wettedShare ?? 1);
  const working = surface && surface.capacityGNPerDay > 0 ? Math.min(1, surface.loadGNPerDay / surface.capacityGNPerDay) : 0;
  const { media } = place;
  const step = (media.x1 - media.x0) / COLUMNS;
  return wetColumns(share, place.tower.distribution === "one-sided").map((wet, i) => {
    if (!wet) return null;
    const column = { x0: media.x0 + i * step, x1: media.x0 + (i + 1) * step, z0: media.z0, z1: media.z1 };
    const worked = { ...column, z0: media.z1 - (media.z1 - media.z0) * working };
    return [
      h("rect", { class: "media-wet", ...rectOf(sheet, column) }),
      working > 0 && h("rect", { class: "media-working", ...rectOf(sheet, worked) }),
    ];
  });
}

function distribution(place: TowerPlace, sheet: Sheet, pattern: PatternIds): Child {
  const { tray, tower, pad } = place;
  const y = sheet.y(tray.z0);
  const mid = sheet.x((tray.x0 + tray.x1) / 2);
  const half = ((tray.x1 - tray.x0) / 2) * sheet.scale;
  const padMark = pad && h("rect", { class: "pad", ...rectOf(sheet, pad), fill: `url(#${pattern.pad})` });
  if (tower.distribution === "rotating arm")
    return [
      padMark,
      h("path", {
        class: "arm",
        d: `M${(mid - half * 0.88).toFixed(1)},${(y - 4).toFixed(1)}H${(mid + half * 0.88).toFixed(1)}`,
      }),
      h("path", { class: "ink", d: `M${mid.toFixed(1)},${sheet.y(place.inlet[1]).toFixed(1)}V${(y - 4).toFixed(1)}` }),
      h("circle", { class: "arm-hub", cx: mid, cy: y - 4, r: 4 }),
    ];
  if (tower.distribution === "fixed spray")
    return [
      padMark,
      h("path", { class: "arm", d: `M${(mid - half * 0.8).toFixed(1)},${(y - 6).toFixed(1)}H${(mid + half * 0.8).toFixed(1)}` }),
      h("path", {
        class: "ink",
        d: `M${(mid - half * 0.6).toFixed(1)},${(y - 5).toFixed(1)}v5M${mid.toFixed(1)},${(y - 5).toFixed(1)}v5M${(mid + half * 0.6).toFixed(1)},${(y - 5).toFixed(1)}v5`,
      }),
    ];
  const x0 = sheet.x(tray.x0);
  const x1 = sheet.x(tray.x1);
  const oneSided = tower.distribution === "one-sided";
  return [
    padMark,
    h("path", {
      class: "tray",
      d: `M${x0.toFixed(1)},${sheet.y(tray.z1).toFixed(1)}V${y.toFixed(1)}H${(oneSided ? (x0 + x1) / 2 : x1).toFixed(1)}V${sheet.y(tray.z1).toFixed(1)}`,
    }),
    h("path", {
      class: "tray-holes",
      d: `M${(x0 + 3).toFixed(1)},${y.toFixed(1)}H${((oneSided ? (x0 + x1) / 2 : x1) - 3).toFixed(1)}`,
    }),
  ];
}

/** Position x of each stream of drops under the tray [m]. */
const threads = (place: TowerPlace): readonly number[] => {
  const n = 7;
  const span = place.media.x1 - place.media.x0;
  const reach = place.tower.distribution === "one-sided" ? 0.4 : 1;
  return Array.from({ length: n }, (_, i) => place.media.x0 + span * reach * ((i + 0.5) / n));
};

export function drawTower(
  place: TowerPlace,
  sheet: Sheet,
  pattern: PatternIds,
  moment: TraceSample,
  surface: Surfaces[number] | undefined,
  layout: Layout,
): Markup {
  const { media, shell, tray, tower } = place;
  const running = (moment.flowM3PerS.get(tower.id) ?? 0) > 1e-7;
  const chamber = layout.chambers.find((c) => c.chamber.id === tower.drainsTo);
  const surfaceZ = moment.surfaceZ.get(tower.drainsTo) ?? 0;
  const bottom = Math.min(media.z0, Math.max(0, surfaceZ));
  const shellRect = rectOf(sheet, shell);
  const gap = 6;
  const grate = sheet.y(media.z0);
  return h(
    "g",
    { class: "tower" },
    mediaTone(place, sheet, surface),
    h("rect", { class: "media-box", ...rectOf(sheet, media), fill: `url(#${pattern.media(tower.media.kind)})` }),
    h("path", {
      class: "shell",
      d: `M${shellRect.x.toFixed(1)},${shellRect.y.toFixed(1)}v${shellRect.height.toFixed(1)}M${(shellRect.x + shellRect.width).toFixed(1)},${shellRect.y.toFixed(1)}v${shellRect.height.toFixed(1)}`,
    }),
    h("path", { class: "grate", d: `M${shellRect.x.toFixed(1)},${grate.toFixed(1)}h${shellRect.width.toFixed(1)}` }),
    tower.lid !== "open" &&
      h("path", {
        class: "shell",
        d:
          tower.lid === "sealed"
            ? `M${shellRect.x.toFixed(1)},${shellRect.y.toFixed(1)}h${shellRect.width.toFixed(1)}`
            : `M${shellRect.x.toFixed(1)},${shellRect.y.toFixed(1)}h${(shellRect.width * 0.36).toFixed(1)}m${gap},0h${(shellRect.width * 0.28).toFixed(1)}m${gap},0h${(shellRect.width * 0.36 - 2 * gap).toFixed(1)}`,
      }),
    distribution(place, sheet, pattern),
    h(
      "g",
      { class: running ? "stream" : "stream hidden", "data-flow": tower.id },
      threads(place).map((x) =>
        h("path", {
          class: "drops",
          d: `M${sheet.x(x).toFixed(1)},${(sheet.y(tray.z0) + 2).toFixed(1)}V${sheet.y(media.z1).toFixed(1)}`,
        }),
      ),
      chamber &&
        threads(place).map((x) =>
          h("path", {
            class: "drops",
            "data-rain": tower.drainsTo,
            d: `M${sheet.x(x).toFixed(1)},${(grate + 2).toFixed(1)}V${sheet.y(bottom).toFixed(1)}`,
          }),
        ),
    ),
  );
}

/** Surface of the nitrogen result that belongs to a tower, for the shading of its media. */
export function towerSurface(surfaces: Surfaces, towerId: string): Surfaces[number] | undefined {
  return (
    surfaces.find((s) => s.cell === towerId || s.id === towerId || s.id.startsWith(`${towerId}.`)) ??
    surfaces.find((s) => /tower|media/i.test(s.name))
  );
}
