// The built parts of the section: glass in double lines with hatching, plates, pipes, pump.
import { type Child, h, type Markup } from "../view/markup.ts";
import type { PatternIds } from "./patterns.ts";
import type { Box, DisplayPlace, Layout, PipePlace } from "./places.ts";
import { pathOf, rectOf, type Sheet } from "./sheet.ts";

/** A glass tank in section: two walls and a bottom. */
function trough(sheet: Sheet, inside: Box, glassM: number, pattern: PatternIds): Child[] {
  const t = Math.max(glassM, 3 / sheet.scale);
  const walls: Box[] = [
    { x0: inside.x0 - t, x1: inside.x0, z0: inside.z0 - t, z1: inside.z1 },
    { x0: inside.x1, x1: inside.x1 + t, z0: inside.z0 - t, z1: inside.z1 },
    { x0: inside.x0, x1: inside.x1, z0: inside.z0 - t, z1: inside.z0 },
  ];
  return walls.map((w) => h("rect", { class: "glass", ...rectOf(sheet, w), fill: `url(#${pattern.glass})` }));
}

export function drawSumpGlass(layout: Layout, sheet: Sheet, pattern: PatternIds): Markup {
  return h(
    "g",
    { class: "sump" },
    trough(sheet, layout.sump, layout.sumpGlassM, pattern),
    layout.joined.map(({ tank, box }) => trough(sheet, box, tank.glassM, pattern)),
    layout.baffles.map((b) => h("rect", { class: "plate", ...rectOf(sheet, b.box) })),
  );
}

/** Teeth of a weir, seen from the side above the crest. */
function teeth(sheet: Sheet, x: number, crestZ: number): Markup {
  const w = 3;
  let d = "";
  for (let i = 0; i < 4; i++) d += `M${(sheet.x(x) - w / 2).toFixed(1)},${(sheet.y(crestZ) - 3 - i * 4).toFixed(1)}h${w}`;
  return h("path", { class: "teeth", d });
}

export function drawDisplayGlass(place: DisplayPlace, sheet: Sheet, pattern: PatternIds): Markup {
  return h(
    "g",
    { class: "display" },
    trough(sheet, place.inside, place.display.glassM, pattern),
    place.overflows.map((o) => {
      // The drains include a standpipe.
      if (o.overflow.kind === "standpipe") return null;
      const right = o.crest.x === o.inside.x0;
      const plate: Box = {
        x0: right ? o.inside.x0 - 0.006 : o.inside.x1,
        x1: right ? o.inside.x0 : o.inside.x1 + 0.006,
        z0: o.inside.z0,
        z1: o.crest.z,
      };
      return h(
        "g",
        { class: "overflow" },
        o.hung
          ? trough(sheet, o.inside, 0.004, pattern)
          : [
              h("rect", { class: "plate", ...rectOf(sheet, plate) }),
              o.inside.z0 > place.inside.z0 + 0.02 &&
                h("rect", { class: "plate", ...rectOf(sheet, { ...o.inside, z1: o.inside.z0 + 0.006 }) }),
            ],
        o.hung && h("path", { class: "cup", d: cup(sheet, place, o.crest) }),
        o.overflow.openShare < 1 && teeth(sheet, o.crest.x + (o.hung ? 0 : right ? -0.003 : 0.003), o.crest.z),
      );
    }),
  );
}

/** The inner box of a hang-on overflow, on the display side. */
function cup(sheet: Sheet, place: DisplayPlace, crest: { readonly x: number; readonly z: number }): string {
  const wall = crest.x < (place.inside.x0 + place.inside.x1) / 2 ? place.inside.x0 : place.inside.x1;
  const depth = 0.12;
  return pathOf(sheet, [
    [wall, crest.z - depth],
    [crest.x, crest.z - depth],
    [crest.x, crest.z],
  ]);
}

/** A pipe: its walls, its bore and, when it carries flow, the water in it with moving dashes. */
export function drawPipe(pipe: PipePlace, sheet: Sheet, m3PerS: number): Markup {
  const bore = Math.max(4, pipe.boreM * sheet.scale);
  const d = pathOf(sheet, pipe.points);
  const running = Math.abs(m3PerS) > 1e-7;
  return h(
    "g",
    { class: `pipe pipe-${pipe.kind}` },
    h("path", { class: "pipe-wall", d, "stroke-width": bore + 2.4 }),
    h("path", { class: "pipe-bore", d, "stroke-width": bore }),
    // A pipe low between two tanks stays full when nothing moves in it.
    pipe.kind === "joint" && h("path", { class: "pipe-water", d, "stroke-width": bore }),
    h(
      "g",
      { class: running ? (m3PerS < 0 ? "stream back" : "stream") : "stream hidden", "data-flow": pipe.id },
      h("path", { class: "pipe-water", d, "stroke-width": bore }),
      // One path per straight section, so the moving elements are narrow and a browser repaints little in each frame.
      pipe.points.slice(1).map((to, i) => h("path", { class: "pipe-dashes", d: pathOf(sheet, [pipe.points[i]!, to]) })),
    ),
  );
}

/** The standard pump symbol: a circle with a triangle in the direction of flow. */
function pumpBody(pump: Box, sheet: Sheet): Child[] {
  const cx = sheet.x((pump.x0 + pump.x1) / 2);
  const r = Math.max(7, Math.min(((pump.x1 - pump.x0) * sheet.scale) / 2, ((pump.z1 - pump.z0) * sheet.scale) / 2));
  const cy = sheet.y(pump.z0) - r;
  const k = r * 0.62;
  return [
    h("circle", { class: "pump-body", cx, cy, r }),
    h("path", {
      class: "pump-mark",
      d: `M${(cx - k).toFixed(1)},${(cy + k * 0.6).toFixed(1)}L${cx.toFixed(1)},${(cy - k).toFixed(1)}L${(cx + k).toFixed(1)},${(cy + k * 0.6).toFixed(1)}Z`,
    }),
  ];
}

export function drawPump(layout: Layout, sheet: Sheet): Markup {
  const valve = (at: readonly [number, number], mark: string, className: string): Markup => {
    const x = sheet.x(at[0]);
    const y = sheet.y(at[1]);
    return h(
      "g",
      { class: className },
      h("path", { class: "valve", d: `M${(x - 6).toFixed(1)},${(y - 6).toFixed(1)}h12l-12,12h12z` }),
      h("title", {}, mark),
    );
  };
  return h(
    "g",
    { class: "pump" },
    [layout.pump, ...layout.morePumps].map((pump) => pumpBody(pump, sheet)),
    layout.checkValve && valve(layout.checkValve, "check valve", "check-valve"),
    layout.throttle && valve(layout.throttle, "throttle valve", "throttle-valve"),
  );
}
